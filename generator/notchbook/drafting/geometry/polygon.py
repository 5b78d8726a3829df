"""Straight-sided figures: what lies inside, how far a side is, and cutting off at a line."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

from notchbook.drafting.geometry.box import Box
from notchbook.drafting.geometry.vector import Point, cross, dot

Side = tuple[Point, Point]


def box_round(points: Sequence[Point]) -> Box:
    """The upright box round some points."""
    xs, ys = [p.real for p in points], [p.imag for p in points]
    return Box(complex(min(xs), min(ys)), complex(max(xs), max(ys)))


def inside(sides: Iterable[Side], point: Point) -> bool:
    """Whether a point lies inside closed outlines (even-odd, so that holes are outside): a ray from
    it to the right crosses sides an odd number of times."""
    odd = False
    for a, b in sides:
        if (a.imag > point.imag) != (b.imag > point.imag):
            odd ^= (cross(b - a, point - a) > 0) == (b.imag > a.imag)
    return odd


def nearest(point: Point, a: Point, b: Point) -> float:
    """The share of the way from ``a`` to ``b`` that is nearest to a point; 0 where they are one."""
    way = b - a
    return min(max(dot(point - a, way) / (dot(way, way) or 1.0), 0.0), 1.0)


def distance(point: Point, a: Point, b: Point) -> float:
    """From a point to the nearest of the line from ``a`` to ``b``, mm."""
    return abs(point - a - nearest(point, a, b) * (b - a))


def cut_off(points: Sequence[Point], depth: Callable[[Point], float]) -> list[Point]:
    """What a closed polygon has where ``depth``, the distance from a straight line, is not below
    nothing; it runs along that line (Sutherland and Hodgman)."""
    depths = [depth(point) for point in points]
    kept: list[Point] = []
    for number, (point, here) in enumerate(zip(points, depths, strict=True)):
        before, last = points[number - 1], depths[number - 1]
        if (here >= 0) != (last >= 0):
            kept.append(before + (point - before) * last / (last - here))
        if here >= 0:
            kept.append(point)
    return kept
