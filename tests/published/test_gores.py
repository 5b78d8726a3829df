"""Gores against the closed forms of the sphere, and against meridians by scipy (geometry).

- A globe gore is 2πr cos φ ÷ n wide at an arc length rφ; n of them have 4πr², for every n; their
  edges are 13.98, 6.54, 3.75 % longer than the meridian for n = 4, 6, 8.
- A gore that bends truly has the edge length of the meridian it becomes: a quarter of an ellipse of
  half axes a and h is h E(1 − a²/h²), ``scipy.special.ellipe``.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path as File

import pytest
from scipy.special import ellipe

from tests.published.checks import Figure, check
from tests.published.written import Written, points, write
from tests.recipes import HEAD


def gore(parameters: str) -> str:
    """A recipe for gores of radius ``r``, cut without allowances that could meet at the tip."""
    return f"""{HEAD}allowance: 0 mm
workings:
  r: 92 mm
pieces:
  gore: {{title: Gore, shape: gore, {parameters}, cut: {{shell: 1}}}}
"""


def upright(made: Written, edge: str) -> list[complex]:
    """Points of an edge from the base up: how far across from the middle of the base, how far up
    from it."""
    base = made.stitch("gore", "base")
    east = (base.start - base.end) / abs(base.start - base.end)
    middle = (base.start + base.end) / 2
    seen = [((p - middle) / east).conjugate() for p in points(made.stitch("gore", edge), 2000)]
    return seen if abs(seen[0].imag) < 1e-3 else seen[::-1]


def out_at(seen: list[complex], up: float) -> float:
    """How far across an edge lies at a distance up the middle."""
    a, b = next((a, b) for a, b in pairwise(seen) if b.imag >= up)
    return a.real + (b.real - a.real) * (up - a.imag) / (b.imag - a.imag)


@pytest.mark.parametrize("count", [4, 6, 8])
def test_globe_gores_are_as_wide_as_the_sphere_at_every_height(count: int, tmp_path: File) -> None:
    def figures(made: Written) -> Iterator[Figure]:
        left, right = upright(made, "left"), upright(made, "right")
        yield Figure("length of the middle", left[-1].imag, math.pi / 2 * 92, 0.01)
        for degrees in (0, 15, 30, 45, 60, 75, 85):
            phi = math.radians(degrees)
            width = out_at(right, 92 * phi) - out_at(left, 92 * phi)
            yield Figure(f"width at {degrees}°", width, math.tau * 92 * math.cos(phi) / count, 0.02)
        excess = {4: 13.98, 6: 6.54, 8: 3.75}[count]
        meridian = math.pi / 2 * 92
        for edge in ("left", "right"):
            longer = (1 + excess / 100) * meridian
            yield Figure(edge, made.stitch("gore", edge).length(), longer, 0.005 / 100 * meridian)

    front = gore(f"gores: {count}, kind: globe, girth: tau * r")
    check(front, figures, "r: 92 mm", folder=tmp_path)


@pytest.mark.parametrize("count", [3, 4, 6, 8, 13, 24])
def test_all_globe_gores_together_have_the_area_of_the_sphere(count: int, tmp_path: File) -> None:
    def figures(made: Written) -> Iterator[Figure]:
        area = count * made.area("gore")
        yield Figure("area", area, 4 * math.pi * 92**2, 1e-5 * area)
        volume = count * made.working("holds")
        yield Figure("volume", volume, 4 / 3 * math.pi * 92**3, 1e-5 * volume)

    profile = "profile: {arc: [[0 mm, 0 mm], [r, r], [0 mm, 2 * r]]}"
    front = gore(f"gores: {count}, kind: globe, {profile}")
    front = front.replace("  r: 92 mm\n", "  r: 92 mm\n  holds: volume(gore)\n")
    check(front, figures, "r: 92 mm", folder=tmp_path)


@pytest.mark.parametrize("count", [3, 6, 8])
@pytest.mark.parametrize("height", [60, 92, 150])
def test_gores_that_bend_have_the_edges_of_the_meridian_they_become(
    count: int, height: float, tmp_path: File
) -> None:
    """Its corners stand on a polygon of the girth's length, (π/n) ÷ sin(π/n) times the radius from
    the axis."""

    def figures(made: Written) -> Iterator[Figure]:
        far = 92 * math.pi / count / math.sin(math.pi / count)
        meridian = height * ellipe(1 - (far / height) ** 2)
        for edge in ("left", "right"):
            yield Figure(edge, made.stitch("gore", edge).length(), meridian, 0.02)
        yield Figure(
            "girth", count * made.stitch("gore", "base").length(), math.tau * 92, 0.001 * count
        )

    front = gore(f"gores: {count}, girth: tau * r, height: {height} mm")
    check(front, figures, "r: 92 mm", f"height: {height} mm", folder=tmp_path)


def test_on_an_oval_each_edge_is_the_meridian_above_its_corner(tmp_path: File) -> None:
    """Four gores stand on a rhombus, whose half diagonals a and b have a² + b² = (girth ÷ 4)²."""

    def figures(made: Written) -> Iterator[Figure]:
        side = math.tau * 92 / 4
        breadth = side / math.hypot(1, 1.29)
        for edge, away in (("right", 1.29 * breadth), ("left", breadth)):
            meridian = 100 * ellipe(1 - (away / 100) ** 2)
            yield Figure(edge, made.stitch("gore", edge).length(), meridian, 0.02)
        yield Figure("base", made.stitch("gore", "base").length(), side, 0.002)

    front = gore("gores: 4, girth: tau * r, height: 100 mm, oval: 1.29")
    check(front, figures, "r: 92 mm", "height: 100 mm", "oval: 1.29", folder=tmp_path)


def test_rounded_tips_fill_the_turn_that_narrow_ones_leave_open(tmp_path: File) -> None:
    """6 tips of a globe, each 2 arctan(π/6) wide, make 331.2°; rounded, the whole turn. No size
    moves that, so what has to be noticed here is a tip that is not rounded."""

    def turn(front: str) -> Figure:
        made = write(front, tmp_path)
        left, right = upright(made, "left"), upright(made, "right")
        a, b = left[-1] - left[-2], right[-1] - right[-2]
        between = abs(math.atan2((a.conjugate() * b).imag, (a.conjugate() * b).real))
        return Figure("turn of six tips", 6 * math.degrees(between), 360, 0.5)

    sharp = "gores: 6, kind: globe, girth: tau * r"
    assert turn(gore(sharp)).ours == pytest.approx(331.2, abs=0.5)
    assert not turn(gore(sharp)).agrees
    assert turn(gore(f"{sharp}, tip: 12 mm")).agrees
