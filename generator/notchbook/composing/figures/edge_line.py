"""An edge as something to follow: places along it, and lines beside it.

Places are told in mm along the stitching line from where the edge starts, distances in mm square to
it, into the cloth; what is less than 0 lies in the allowance.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from notchbook.composing.figures.track import Points
from notchbook.drafting.draft import Piece
from notchbook.drafting.geometry.path import Path
from notchbook.drafting.geometry.vector import Point, dot

_STEPS = 240
"""Into how many chords a whole edge is cut: a ring of 150 cm is then missed by 0.4 mm."""

_COARSE = 60
"""Into how many to look for a point of it first."""


@dataclass(frozen=True, slots=True)
class EdgeLine:
    """An edge of a piece and the cloth it is cut from. ``goes_round``: it is closed, or will be
    once its piece is sewn."""

    piece: Piece
    cloth: str
    name: str
    path: Path
    ends: tuple[float, ...]
    goes_round: bool

    @property
    def length(self) -> float:
        """As it is cut, mm."""
        return self.ends[-1]

    @property
    def allowance(self) -> float:
        """What the cloth has outside the edge, mm."""
        return self.piece.cut_line(self.cloth).allowance[self.name]

    def at(self, along: float, inside: float = 0.0) -> tuple[Point, complex]:
        """A place beside the edge, and the way along it there. A closed edge goes on past its
        end."""
        point, way = self._feet([along])[0]
        return point + way * 1j * inside, way

    def run(self, start: float, end: float, inside: float) -> Points:
        """The line beside it from one place to another."""
        count = max(round(abs(end - start) / self.length * _STEPS), 2)
        places = [start + (end - start) * k / count for k in range(count + 1)]
        return tuple(point + way * 1j * inside for point, way in self._feet(places))

    def _feet(self, places: Sequence[float]) -> list[tuple[Point, complex]]:
        """Points of the edge itself, and the ways along it."""
        if self.path.closed:
            return self.path.places([place % self.length for place in places], self.ends)
        return self.path.places([min(max(p, 0.0), self.length) for p in places], self.ends)

    def has_room(self, inside: float) -> bool:
        """Whether the line beside it never turns back, as one inside too tight a bend does."""
        places = [self.length * k / _STEPS for k in range(_STEPS + 1)]
        feet = self._feet(places)
        beside = [point + way * 1j * inside for point, way in feet]
        ways = [way for _, way in feet]
        return all(
            abs(b - a) < 1e-9 or dot(b - a, way) > 0
            for (a, b), way in zip(pairwise(beside), ways, strict=False)
        )

    def notch_near(self, along: float) -> tuple[float, int | None] | None:
        """The nearest notch of the edge: where it is, and its number. None where it has none."""
        here = self.at(along)[0]
        own = [notch for notch in self.piece.notches if notch.edge == self.name]
        if not own:
            return None
        nearest = min(own, key=lambda notch: abs(notch.at - here))
        return self._place_of(nearest.at), nearest.number

    def apart(self, one: float, other: float) -> float:
        """How far two places are from each other along the edge, mm."""
        straight = abs(one - other)
        return min(straight, self.length - straight) if self.path.closed else straight

    def _place_of(self, point: Point) -> float:
        """How far along the edge a point of it lies, to a tenth of a millimetre."""
        step = self.length / _COARSE
        places = [step * k for k in range(_COARSE + 1)]
        while True:
            feet = [foot for foot, _ in self._feet(places)]
            best = min(zip(places, feet, strict=True), key=lambda each: abs(each[1] - point))[0]
            if step < 0.1:
                return best
            step /= 4
            places = [best + step * k for k in range(-4, 5)]


def edge_line(piece: Piece, cloth: str, name: str) -> EdgeLine:
    """An edge of a piece in one of its cloths."""
    edge = piece.flat.edges[name]
    return EdgeLine(piece, cloth, name, edge.path, edge.path.ends(), edge.round or edge.path.closed)
