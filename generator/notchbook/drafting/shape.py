"""What every shape returns: its flat piece, its form in space and its hand construction."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Annotated, Literal, NewType

from notchbook.drafting.geometry.path import Path
from notchbook.drafting.geometry.vector import Point
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
    ring, but also the rim of a cone, which is an open arc until its seam is sewn. ``begins`` says
    where a round edge starts, as a direction clockwise seen from above, 0 at centre back; None
    where that depends on what becomes of it.

    ``taken`` are the stretches of the path, from–to in mm along it, that a dart folds away: they
    are cloth and are cut, but no seam meets them.
    """

    name: str
    path: Path
    round: bool = False
    begins: float | None = 0.0
    taken: tuple[tuple[float, float], ...] = ()

    def length(self) -> float:
        """As it is sewn, its darts closed, mm."""
        return self.sewn(self.path.length())

    def sewn(self, length: float) -> float:
        """As much of the path's length, mm, as its darts leave."""
        return length - math.fsum(end - start for start, end in self.taken)

    def places(
        self, distances: Iterable[float], ends: Sequence[float] = ()
    ) -> list[tuple[Point, complex]]:
        """Point and unit direction of travel at distances (mm) along the edge as it is sewn;
        ``ends`` are its path's, where they are known."""
        found = []
        for distance in distances:
            for start, end in self.taken:
                if distance >= start:
                    distance += end - start
            found.append(distance)
        return self.path.places(found, ends)


@dataclass(frozen=True, slots=True)
class Dart:
    """A fold stitched to a point. ``feet`` are where its two legs, equally long, start on the
    stitching line of ``edge``, in the direction of travel; ``point`` is where they meet inside the
    piece. The fold runs from there to ``peak`` on the stitching line, and is pressed towards the
    edge's start or its end: the stitching line between the feet is drawn for that."""

    name: str
    edge: str
    feet: tuple[Point, Point]
    point: Point
    peak: Point
    press: Literal["start", "end"]

    def moved(self, turn: complex, shift: complex) -> Dart:
        """Every point p taken to ``p * turn + shift``."""
        first, second, point, peak = (p * turn + shift for p in (*self.feet, self.point, self.peak))
        return replace(self, feet=(first, second), point=point, peak=peak)


@dataclass(frozen=True, slots=True)
class Flat:
    """The stitching line of a flat piece: loops of edges end to end, the outline first, then
    holes (directions: see ``geometry``), and the grain line, which the shape lays where the trade
    does (a cone's runs down centre front). Its darts lie within the outline."""

    loops: tuple[tuple[Edge, ...], ...]
    grain: tuple[Point, Point]
    darts: tuple[Dart, ...] = ()

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
class Other:
    """Another piece, for a shape that is derived from it: ``of: crown``."""

    name: str
    flat: Flat


@dataclass(frozen=True, slots=True)
class EdgesOf:
    """Edges of another piece, for a shape that is derived from them, in the order they are named:
    ``along: cape.hem`` or ``along: [cape.front, cape.hem]``."""

    piece: Other
    names: tuple[str, ...]


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
class Curve:
    """An edge in space that is neither level nor straight: points on it (x right, y front, z up),
    mm, so close together that straight lines between them miss it by less than 0.01 mm."""

    points: tuple[tuple[float, float, float], ...]


@dataclass(frozen=True, slots=True)
class Section:
    """A level cut through the inside of a form: its girth, its height above the lower edge, and how
    far its middle lies ``aside`` of that edge's, mm."""

    height: float
    girth: float
    aside: float = 0.0


@dataclass(frozen=True, slots=True)
class Form:
    """A piece in space, once sewn: the curve each edge becomes, and the volume it encloses (mm³,
    ends closed level; 0 for a flat thing). ``seam`` names the edges that meet in its own seam.
    ``inside`` is what it leaves room for, from its lower edge up and straight between, which of a
    flat piece that closes another from above is all at one height: none for what nothing goes
    into."""

    edges: Mapping[str, Level | Straight | Curve]
    volume: float
    seam: tuple[str, str] | None = None
    inside: tuple[Section, ...] = ()


@dataclass(frozen=True, slots=True)
class Shape:
    """A drafted shape."""

    flat: Flat
    form: Form | None
    moves: tuple[Move, ...]
