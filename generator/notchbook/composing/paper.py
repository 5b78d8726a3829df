"""The papers things are printed on."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

INCH = 25.4


@dataclass(frozen=True, slots=True)
class Paper:
    """A page's size and the margin left free all round for printers that can't print to the edge,
    in mm."""

    name: str
    width: float
    height: float
    margin: float = 10.0


# ISO 216, and ANSI/ASME Y14.1 size A with its half.
PAPERS: Mapping[str, Paper] = {
    paper.name: paper
    for paper in (
        Paper("a4", 210.0, 297.0),
        Paper("letter", 8.5 * INCH, 11 * INCH),
        Paper("a5", 148.0, 210.0),
        Paper("half-letter", 5.5 * INCH, 8.5 * INCH),
    )
}
