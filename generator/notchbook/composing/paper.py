"""The papers sheets are printed on."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from notchbook.reading.quantity import INCH

Kind = Literal["home", "shop", "roll", "projection"]

LONGEST = 5000.0
"""No page is longer, mm. A PDF's page goes to 14 400 units, 5080 mm, before viewers give up
(ISO 32000-1, annex C), and plotters take less than the 45 m of a roll at a time."""

HEADER = 8.0
"""Height of the band above the frame that says what the sheet is, mm."""


@dataclass(frozen=True, slots=True)
class Paper:
    """A page's size and the margin left free all round for printers that can't print to the edge,
    in mm. The pages of a roll and of a projection are as long as they need to be, up to
    ``height``."""

    name: str
    width: float
    height: float
    margin: float = 10.0
    kind: Kind = "home"

    @property
    def corner(self) -> complex:
        """Where the frame of a sheet begins."""
        return complex(self.margin, self.margin + (0 if self.kind == "projection" else HEADER))

    @property
    def block(self) -> complex:
        """Width and height, mm, of the corner of the first sheet that says what a home printer's
        sheet 1 says."""
        if self.kind == "home":
            return 0j
        return 340 + 200j if self.kind == "projection" else 215 + 285j


# ISO 216; ANSI/ASME Y14.1 sizes A and B; a plotter's roll of 36 in; and a page for projecting that
# is as wide as a common width of cloth.
PAPERS: Mapping[str, Paper] = {
    paper.name: paper
    for paper in (
        Paper("a4", 210.0, 297.0),
        Paper("letter", 8.5 * INCH, 11 * INCH),
        Paper("a3", 297.0, 420.0),
        Paper("tabloid", 11 * INCH, 17 * INCH),
        Paper("a2", 420.0, 594.0, kind="shop"),
        Paper("a1", 594.0, 841.0, kind="shop"),
        Paper("a0", 841.0, 1189.0, kind="shop"),
        Paper("roll", 36 * INCH, LONGEST, kind="roll"),
        Paper("projection", 1120.0, LONGEST, kind="projection"),
    )
}
"""The sheets of a full-size pattern: for a home printer, for a copy shop, for a projector."""
