"""Lengths and areas of the record against svgpathtools, shapely and scipy, which measure the
pattern beside it."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from pathlib import Path as File

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.interpolate import CubicSpline

from tests.published.checks import Figure, check, wrong
from tests.published.written import Written, polygon, write
from tests.recipes import HEAD

COLLAR = """\
  collar:
    title: Collar
    shape: panel
    points: {a: [0 mm, 0 mm], b: [200 mm, 0 mm], c: [200 mm, 60 mm], d: [120 mm, 75 mm],
      e: [80 mm, 150 mm], f: [0 mm, 150 mm], dip: [150 mm, dip], crest: [-bulge, 75 mm]}
    edges: {neck: [a, b], end: [b, c], under: {curve: [c, dip, d, e]}, hem: [e, f],
      back: {arc: [f, crest, a]}}
    cut: {shell: 1}
"""

EVERY_SHAPE = f"""{HEAD}
workings: {{dip: 52 mm, bulge: 10 mm}}
allowance: 12 mm
pieces:
  rain_brim: {{title: Round brim, shape: ring, inner: 580 mm, width: 15 cm, cut: {{shell: 1}}}}
  brim: {{title: Brim, shape: ring, inner: 590 mm, oval: 1.29, width: 14 cm, cut: {{shell: 1}}}}
  point: {{title: Point, shape: cone, rim: 587.3 mm, height: 45 cm, cut: {{shell: 1}}}}
  roof: {{title: Flat cone, shape: cone, rim: 560 mm, height: 7 cm, cut: {{shell: 1}}}}
  stump: {{title: Stump, shape: cone, rim: 57 cm, height: 40 cm, keep: 14 cm, cut: {{shell: 1}}}}
  tip: {{title: Tip, shape: disc, girth: 401 mm, oval: 1.2, cut: {{lining: 1}}}}
  side: {{title: Side, shape: tube, girth: 585 mm, height: 8 cm, cut: {{shell: 1}}}}
  band: {{title: Band, shape: strip, length: 60 cm, width: 1 in, cut: {{shell: 1}}}}
{COLLAR}"""


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Written:
    return write(EVERY_SHAPE, tmp_path_factory.mktemp("every-shape"))


def edges(made: Written) -> Iterator[Figure]:
    """Edge lengths in the record, and as svgpathtools finds them in the pattern (whose coordinates
    are rounded to 1e-4 mm)."""
    for name, piece in made.record["pieces"].items():
        for edge, length in piece["edges"].items():
            seen = made.stitch(name, edge).length(error=1e-7)
            yield Figure(f"{name}.{edge}", length, seen, 0.002)


def areas(made: Written) -> Iterator[Figure]:
    """Areas in the record, and as shapely finds them in the pattern."""
    for name, piece in made.record["pieces"].items():
        known = made.area(name)
        yield Figure(name, piece["area"], known, 2e-5 * known)


def cutting_lines(made: Written) -> Iterator[Figure]:
    """Cutting lines in the record, and as svgpathtools and shapely find them."""
    for name, piece in made.record["pieces"].items():
        (line,) = piece["cut"]
        outline, *holes = made.cut(name, line["cloths"][0])
        length = sum(loop.length(error=1e-7) for loop in (outline, *holes))
        yield Figure(f"round {name}", line["length"], length, 0.005)
        area = polygon(outline).area - sum(polygon(hole).area for hole in holes)
        yield Figure(f"within {name}", line["area"], area, 2e-5 * area)


@pytest.mark.parametrize("measure", [edges, areas, cutting_lines])
def test_the_record_says_what_the_pattern_measures(
    made: Written, measure: Callable[[Written], Iterator[Figure]]
) -> None:
    figures = list(measure(made))
    assert not wrong(figures)
    for factor in (1.01, 0.99):
        shifted = [figure._replace(ours=figure.ours * factor) for figure in figures]
        assert wrong(shifted) == shifted


def test_edges_are_as_long_as_the_recipe_asks(tmp_path: File) -> None:
    """Girths as given; girth ÷ π, and Pythagoras with height and base radius."""

    def figures(made: Written) -> Iterator[Figure]:
        yield Figure("round opening", made.stitch("rain_brim", "inner").length(), 580, 0.001)
        left, right, *_ = made.stitch("rain_brim", "outer").bbox()
        yield Figure("its brim, across", right - left, 580 / math.pi + 300, 0.001)
        slant = math.hypot(450, 587.3 / math.tau)
        yield Figure("slant", made.stitch("point", "left").length(), slant, 0.001)
        slant = math.hypot(70, 560 / math.tau)
        yield Figure("slant of a flat cone", made.stitch("roof", "left").length(), slant, 0.001)
        yield Figure("tip", made.stitch("tip", "edge").length(), 401, 0.005)
        yield Figure("kept", made.stitch("stump", "left").length(), 140, 0.001)
        yield Figure("tube", made.stitch("side", "top").length(), 585, 0.001)

    formulas = (
        "inner: 580 mm",
        "rim: 587.3 mm",
        "height: 45 cm",
        "rim: 560 mm",
        "height: 7 cm",
        "girth: 401 mm",
        "keep: 14 cm",
        "girth: 585 mm",
    )
    check(EVERY_SHAPE, figures, *formulas, folder=tmp_path)


def test_a_curve_bends_as_a_spline_does_and_an_arc_is_part_of_a_circle(tmp_path: File) -> None:
    """``curve:`` is the natural cubic spline over its chords, which scipy knows; ``arc:`` part of
    the circle through three points: its chord 150 mm, its height 10 mm."""

    def figures(made: Written) -> Iterator[Figure]:
        corners = np.array([200 + 60j, 150 + 52j, 120 + 75j, 80 + 150j])
        chords = np.cumsum([0, *np.abs(np.diff(corners))])
        speed = CubicSpline(chords, corners, bc_type="natural").derivative()
        known, _ = quad(lambda t: abs(complex(speed(t))), 0, chords[-1], epsabs=1e-9, limit=300)
        yield Figure("curve", made.stitch("collar", "under").length(error=1e-7), known, 0.005)
        radius = (75**2 + 10**2) / 20
        known = 2 * radius * math.asin(75 / radius)
        yield Figure("arc", made.stitch("collar", "back").length(), known, 0.002)

    front = f"{HEAD}workings: {{dip: 52 mm, bulge: 10 mm}}\nallowance: 12 mm\npieces:\n{COLLAR}"
    check(front, figures, "dip: 52 mm", "bulge: 10 mm", folder=tmp_path)


@pytest.mark.parametrize("girth", ["100 mm", "1000 mm"])
def test_a_circle_stays_exact_into_the_file(girth: str, tmp_path: File) -> None:
    """Arcs, whose every point is as far from the middle as every other."""

    def figures(made: Written) -> Iterator[Figure]:
        edge = made.stitch("tip", "edge")
        assert {type(segment).__name__ for segment in edge} == {"Arc"}
        left, right, top, bottom = edge.bbox()
        middle = complex(left + right, top + bottom) / 2
        known = float(girth.removesuffix(" mm")) / math.tau
        for share in np.linspace(0, 1, 23):
            yield Figure(f"radius at {share:.2f}", abs(edge.point(share) - middle), known, 3e-4)

    front = f"{HEAD}allowance: 12 mm\npieces:\n"
    front += f"  tip: {{title: Tip, shape: disc, girth: {girth}, cut: {{shell: 1}}}}\n"
    check(front, figures, f"girth: {girth}", folder=tmp_path)
