"""Ovals against scipy's elliptic integral, Steiner's parallels, shapely, and G. A. Martin, *Make
Your Own Hats* (Houghton Mifflin 1921). Each check is seen to fail when ours is 1 % off."""

from __future__ import annotations

import math

import pytest
from scipy.special import ellipe

from notchbook.drafting.geometry.path import Path
from notchbook.drafting.shapes.disc import draft as disc
from notchbook.drafting.shapes.ring import draft as ring
from tests.published.checks import INCH, agrees, around, polygon


def size(path: Path) -> tuple[float, float]:
    """Length and breadth in inches, as shapely bounds them."""
    left, top, right, bottom = polygon(path).bounds
    return bottom - top, right - left


def bend(path: Path, at: float) -> float:
    """The radius, mm, of the circle through three points of a path 8 mm apart, round the one at a
    share of its length."""
    middle = at * path.length()
    a, b, c = (path.point_at((middle + step) % path.length()) for step in (-4, 0, 4))
    u, v = b - a, c - a
    return abs(u) * abs(v) * abs(v - u) / 2 / abs((u.conjugate() * v).imag)


def test_an_opening_of_576_mm_at_a_ratio_of_1_3() -> None:
    """The figures follow from scipy's perimeter 4 a E(e²)."""
    opening = ring(inner=576, width=150, oval=1.3).flat.edges["inner"].path
    length, breadth = (inches * INCH for inches in size(opening))
    assert agrees(length, 206.4, 0.05)
    assert agrees(breadth, 158.8, 0.05)
    assert agrees(bend(opening, 0), 61.1, 0.3)
    assert agrees(bend(opening, 0.25), 134.1, 0.3)
    squared = 1 - (breadth / length) ** 2
    assert agrees(around(opening) * INCH, 2 * length * float(ellipe(squared)), 0.02)


def test_a_loop_elongated_two_inches() -> None:
    """Martin: the head wire of 25 in "should usually be elongated two inches"."""
    loop = disc(girth=25 * INCH, oval=8.93 / 6.93).flat.edges["edge"].path
    length, breadth = size(loop)
    assert agrees(around(loop), 25, 0.0005)
    assert agrees(length, 8.93, 0.005)
    assert agrees(breadth, 6.93, 0.005)
    assert agrees(length - breadth, 2.0, 0.005)


def test_a_crown_tip_of_eight_and_a_half_by_six_and_a_half() -> None:
    """Martin: the tip for a head size of 24 in; as an ellipse 23.67 in round."""
    tip = disc(across=6.5 * INCH, oval=8.5 / 6.5).flat.edges["edge"].path
    assert agrees(size(tip)[0], 8.5, 0.0005)
    assert agrees(around(tip), 23.67, 0.005)


@pytest.mark.parametrize("width", [40, 150, 400])
def test_the_outer_edge_is_the_parallel_steiner_and_shapely_know(width: float) -> None:
    """Steiner: length L + 2πd, area A + L d + π d²."""
    outline, hole = ring(inner=576, width=width, oval=1.3).flat.outline()
    inner, outer, d = polygon(hole), polygon(outline), width / INCH
    assert agrees(around(outline), around(hole) + math.tau * d, 0.001)
    assert agrees(outer.area, inner.area + around(hole) * d + math.pi * d * d, 0.002)
    buffered = inner.buffer(d, quad_segs=512)
    assert outer.symmetric_difference(buffered).area < 0.0002 * outer.area
    assert outer.hausdorff_distance(buffered) * INCH < 0.02
