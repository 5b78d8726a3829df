"""The papers sheets are printed on."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from notchbook.reading.quantity import INCH


@dataclass(frozen=True, slots=True)
class Paper:
    """A page's size and the margin left free all round for printers that can't print to the edge,
    in mm."""

    name: str
    width: float
    height: float
    margin: float = 10.0


# ISO 216, and ANSI/ASME Y14.1 size A.
PAPERS: Mapping[str, Paper] = {
    paper.name: paper
    for paper in (
        Paper("a4", 210.0, 297.0),
        Paper("letter", 8.5 * INCH, 11 * INCH),
    )
}
