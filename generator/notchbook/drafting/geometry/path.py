"""Paths: segments end to end."""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import accumulate, pairwise

from notchbook.drafting.geometry.segments import Arc, Line, Segment
from notchbook.drafting.geometry.vector import Point


@dataclass(frozen=True, slots=True)
class Path:
    """Segments end to end. Closed when its last point is its first."""

    segments: tuple[Segment, ...]

    @property
    def start(self) -> Point:
        """First point."""
        return self.segments[0].start

    @property
    def end(self) -> Point:
        """Last point."""
        return self.segments[-1].end

    @property
    def closed(self) -> bool:
        """Whether the path returns to where it began."""
        return abs(self.end - self.start) < 1e-4

    def length(self) -> float:
        """Length, mm."""
        return math.fsum(segment.length() for segment in self.segments)

    def area(self) -> float:
        """Signed area, mm², of a closed path: positive when it runs clockwise as seen."""
        return math.fsum(segment.area() for segment in self.segments)

    def ends(self) -> tuple[float, ...]:
        """How far along the path each segment ends, mm."""
        return tuple(accumulate(segment.length() for segment in self.segments))

    def places(
        self, distances: Iterable[float], ends: Sequence[float] = ()
    ) -> list[tuple[Point, complex]]:
        """Point and unit direction of travel at each of some distances (mm) along the path;
        ``ends`` are the path's, where they are known."""
        ends = ends or self.ends()
        found = []
        for distance in distances:
            index = min(bisect_right(ends, distance), len(ends) - 1)
            segment = self.segments[index]
            before = ends[index - 1] if index else 0.0
            t = min(segment.share_at(distance - before, ends[index] - before), 1.0)
            found.append((segment.point(t), segment.tangent(t)))
        return found

    def at(self, distance: float) -> tuple[Point, complex]:
        """Point and unit direction of travel ``distance`` mm along the path, found together."""
        return self.places([distance])[0]

    def point_at(self, distance: float) -> Point:
        """The point ``distance`` mm along the path."""
        return self.at(distance)[0]

    def tangent_at(self, distance: float) -> complex:
        """Unit direction of travel ``distance`` mm along the path."""
        return self.at(distance)[1]

    def reversed(self) -> Path:
        """The same path travelled the other way."""
        return Path(tuple(segment.reversed() for segment in reversed(self.segments)))

    def moved(self, turn: complex = 1, shift: complex = 0) -> Path:
        """Every point p taken to ``p * turn + shift``; ``turn`` is a unit direction."""
        return Path(tuple(segment.moved(turn, shift) for segment in self.segments))

    def mirrored(self) -> Path:
        """Flipped left to right (x becomes −x). The direction of travel now runs the other way
        round: reverse it where the cloth must stay on the right-hand side."""
        return Path(tuple(segment.mirrored() for segment in self.segments))

    def points(self, tolerance: float = 0.05) -> list[Point]:
        """Points along the path whose chords stay within ``tolerance`` mm of it, ends included."""
        found = [self.start]
        for segment in self.segments:
            found += segment.points(tolerance)
        return found


def polyline(*points: Point) -> Path:
    """Straight lines from point to point."""
    return Path(tuple(Line(a, b) for a, b in pairwise(points)))


def circle(centre: Point, radius: float, begin: float = 0.0, sweep: float = math.tau) -> Path:
    """A whole circle as two half arcs, starting at angle ``begin``; clockwise by default."""
    half = sweep / 2
    return Path((Arc(centre, radius, begin, half), Arc(centre, radius, begin + half, half)))
