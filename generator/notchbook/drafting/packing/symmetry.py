"""Whether a piece is the same on both sides of a line, so that it can lie on a fold."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from notchbook.drafting.geometry.box import bounds
from notchbook.drafting.geometry.path import Path
from notchbook.drafting.geometry.polygon import distance
from notchbook.drafting.geometry.vector import Point, flip

CLOSE = 0.3
"""Halves that differ by less are the same, mm."""


def axis_down(loops: Sequence[Path]) -> float | None:
    """The x of the upright line about which closed outlines are symmetric, in mm, or none."""
    axis = bounds([loops[0]]).centre.real
    outlines = [path.points(CLOSE / 3) for path in loops]
    sides = [(a, b) for points in outlines for a, b in pairwise([*points, points[0]]) if a != b]
    for points in outlines:
        for point in points:
            if not _near(flip(point - axis) + axis, sides):
                return None
    return axis


def _near(point: Point, sides: Sequence[tuple[Point, Point]]) -> bool:
    x, y = point.real, point.imag
    return any(
        min(a.real, b.real) - CLOSE <= x <= max(a.real, b.real) + CLOSE
        and min(a.imag, b.imag) - CLOSE <= y <= max(a.imag, b.imag) + CLOSE
        and distance(point, a, b) <= CLOSE
        for a, b in sides
    )
