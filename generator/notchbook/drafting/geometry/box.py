"""Upright boxes, and the one round a path."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from notchbook.drafting.geometry.path import Path
from notchbook.drafting.geometry.segments import Arc, Cubic, Segment
from notchbook.drafting.geometry.vector import Point


@dataclass(frozen=True, slots=True)
class Box:
    """An upright rectangle in mm; ``low`` is its top left, ``high`` its bottom right corner."""

    low: Point
    high: Point

    @property
    def width(self) -> float:
        """Extent along x, mm."""
        return self.high.real - self.low.real

    @property
    def height(self) -> float:
        """Extent along y, mm."""
        return self.high.imag - self.low.imag

    @property
    def centre(self) -> Point:
        """The middle of the box."""
        return (self.low + self.high) / 2

    @property
    def corners(self) -> tuple[Point, Point, Point, Point]:
        """Its corners, clockwise from the top left."""
        low, high = self.low, self.high
        return low, complex(high.real, low.imag), high, complex(low.real, high.imag)

    def holds(self, point: Point, more: float = 0.0) -> bool:
        """Whether a point lies in it, its border counted in, or no more than ``more`` mm beside."""
        low, high = self.low, self.high
        return (
            low.real - more <= point.real <= high.real + more
            and low.imag - more <= point.imag <= high.imag + more
        )


def bounds(paths: Iterable[Path]) -> Box:
    """The box round some paths. Exact."""
    segments = [segment for path in paths for segment in path.segments]
    found = [point for segment in segments for point in _outermost(segment)]
    xs, ys = [point.real for point in found], [point.imag for point in found]
    left, right, top, bottom = min(xs), max(xs), min(ys), max(ys)
    for segment in segments:
        # A cubic can't reach out of the box if its handles don't.
        if isinstance(segment, Cubic) and not (
            left <= segment.leave.real <= right
            and left <= segment.arrive.real <= right
            and top <= segment.leave.imag <= bottom
            and top <= segment.arrive.imag <= bottom
        ):
            for point in map(segment.point, _bends(segment)):
                left, right = min(left, point.real), max(right, point.real)
                top, bottom = min(top, point.imag), max(bottom, point.imag)
    return Box(complex(left, top), complex(right, bottom))


def _outermost(segment: Segment) -> list[Point]:
    """The ends of a segment and, on an arc, where it runs level or upright."""
    if not isinstance(segment, Arc):
        return [segment.start, segment.end]
    low, high = sorted((segment.begin, segment.begin + segment.sweep))
    first, last = math.ceil(low / (math.pi / 2)), math.floor(high / (math.pi / 2))
    turns = [segment.centre + segment.radius * 1j**k for k in range(first, last + 1)]
    return [segment.start, segment.end, *turns]


def _bends(cubic: Cubic) -> list[float]:
    """The shares at which a cubic runs level or upright: its derivative ÷ 3 is a quadratic,
    r + 2 q t + p t², in each coordinate."""
    r = cubic.leave - cubic.start
    q = cubic.arrive - cubic.leave - r
    p = cubic.end - cubic.arrive - r - 2 * q
    found: list[float] = []
    for a, b, c in ((p.real, q.real, r.real), (p.imag, q.imag, r.imag)):
        under = b * b - a * c
        if under < 0:
            continue
        # The larger root by its size, and the other from their product: no digits are lost.
        large = -b - math.copysign(math.sqrt(under), b)
        found += [large / a] if a else []
        found += [c / large] if large else []
    return [t for t in found if 0 < t < 1]
