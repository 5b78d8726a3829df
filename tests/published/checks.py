"""How a figure printed somewhere else is held against one of ours."""

from __future__ import annotations

from itertools import pairwise

from shapely.geometry import Polygon

from notchbook.drafting.geometry.path import Path

INCH = 25.4


def agrees(ours: float, published: float, tolerance: float) -> bool:
    """Whether our figure is the published one, as finely as that was printed, and whether the
    check is sharp enough to notice if ours were off by 1 % in either direction."""

    def near(value: float) -> bool:
        return abs(value - published) <= tolerance

    assert not near(ours * 1.01) and not near(ours * 0.99), "too blunt to notice 1 %"
    return near(ours)


def polygon(*loops: Path) -> Polygon:
    """An outline and its holes as shapely sees them, in inches."""
    rings = [[(p.real / INCH, p.imag / INCH) for p in loop.points(0.0005)] for loop in loops]
    return Polygon(rings[0], rings[1:])


def around(path: Path) -> float:
    """The length of a path in inches, walked in small steps."""
    points = path.points(0.0005)
    return sum(abs(b - a) for a, b in pairwise(points)) / INCH
