"""What every shape returns: its flat piece, its form in space and its hand construction."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated, NewType

from notchbook.drafting.geometry.path import Path, Point
from notchbook.drafting.moves import Move
from notchbook.reading.quantity import LENGTH, RATIO

# What a shape's parameters may be. The engine reads a shape's signature: it evaluates each
# parameter's formula, checks its dimension and hands over the number in base units (mm, radians).
Length = Annotated[float, LENGTH]
Ratio = Annotated[float, RATIO]
Angle = Annotated[float, RATIO, "angle"]
Word = NewType("Word", str)


class Refusal(Exception):
    """A shape that can't be made, in words: what is wrong, what to do, and which parameter."""

    def __init__(self, what: str, remedy: str, parameter: str) -> None:
        self.what = what
        self.remedy = remedy
        self.parameter = parameter
        super().__init__(what)


@dataclass(frozen=True, slots=True)
class Edge:
    """A named run of the stitching line.

    ``round`` is true where the edge is a closed curve in the finished thing: the outer edge of a
    ring, but also the rim of a cone, which is an open arc until its seam is sewn. A round edge
    starts at centre back unless its shape says otherwise.
    """

    name: str
    path: Path
    round: bool = False


@dataclass(frozen=True, slots=True)
class Flat:
    """The stitching line of a flat piece: loops of edges end to end, the outline first, then
    holes (directions: see ``geometry``), and the grain line, which the shape lays where the trade
    does (a cone's runs down centre front)."""

    loops: tuple[tuple[Edge, ...], ...]
    grain: tuple[Point, Point]

    @property
    def edges(self) -> Mapping[str, Edge]:
        """Every edge by name."""
        return {edge.name: edge for loop in self.loops for edge in loop}

    def outline(self) -> tuple[Path, ...]:
        """Each loop as one closed path, the outline first."""
        return tuple(
            Path(tuple(segment for edge in loop for segment in edge.path.segments))
            for loop in self.loops
        )


@dataclass(frozen=True, slots=True)
class Level:
    """An edge in space that lies level: a plane path (x to the right, y to the front) at
    ``height`` mm above the table."""

    path: Path
    height: float


def lying(path: Path) -> Level:
    """A flat edge that lies on the table as it is drawn: up the page is to the front."""
    return Level(path.mirrored().moved(-1), 0.0)


@dataclass(frozen=True, slots=True)
class Straight:
    """An edge in space that is a straight line between two points (x right, y front, z up), mm."""

    start: tuple[float, float, float]
    end: tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Form:
    """A piece in space, once sewn: the curve each edge becomes, and the volume it encloses (mm³,
    ends closed level; 0 for a flat thing). ``seam`` names the edges that meet in its own seam."""

    edges: Mapping[str, Level | Straight]
    volume: float
    seam: tuple[str, str] | None = None


@dataclass(frozen=True, slots=True)
class Shape:
    """A drafted shape."""

    flat: Flat
    form: Form | None
    moves: tuple[Move, ...]
