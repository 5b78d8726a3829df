"""Heads, brims and cones on them, from the workings of a recipe."""

from __future__ import annotations

import math
from collections.abc import Iterator
from pathlib import Path as File

from scipy.optimize import brentq
from shapely import LineString, Point
from svgpathtools import Path as Seen

from tests.published.checks import INCH, Figure, check
from tests.published.written import Written, across, points
from tests.recipes import HEAD

CONE = f"""{HEAD}
workings:
  girth: 576 mm
  slope: 460 mm
  rise: slope - sqrt(slope ^ 2 - (girth / tau) ^ 2)
  wider: girth / cos(asin(girth / tau / slope))
allowance: 12 mm
pieces:
  point: {{title: Point, shape: cone, rim: girth, slant: slope, cut: {{shell: 1}}}}
  level: {{title: Level point, shape: cone, rim: wider, slant: 460 mm, cut: {{shell: 1}}}}
"""


def test_a_cone_rides_up_on_a_round_head_and_needs_more_rim_to_sit_level(tmp_path: File) -> None:
    """Geometry: on a sphere of radius r a cone of rim 2πr and slant s rides up by s − √(s² − r²);
    head 576 mm, slant 460 mm: 9.2 mm, and 11.8 mm more rim."""

    def figures(made: Written) -> Iterator[Figure]:
        yield Figure("rides up", made.working("rise"), 9.2, 0.05)
        yield Figure("more rim", made.working("wider") - 576, 11.8, 0.05)
        more = made.stitch("level", "rim").length() - 576
        yield Figure("more rim of the pattern", more, 11.8, 0.05)
        up, rim = worn(made.stitch("point", "rim").length(), made.stitch("point", "left").length())
        yield Figure("rides up when worn", up, 9.2, 0.05)
        yield Figure("more rim when worn", rim - 576, 11.8, 0.05)

    formulas = (
        "girth: 576 mm",
        "rise: slope - sqrt(slope ^ 2 - (girth / tau) ^ 2)",
        "wider: girth / cos(asin(girth / tau / slope))",
        "rim: girth",
        "slant: slope",
    )
    check(CONE, figures, *formulas, folder=tmp_path)


def worn(rim: float, slant: float) -> tuple[float, float]:
    """A cone let down on a ball as large as its rim until it touches, seen from the side: how far
    its rim is above the ball's middle, and how wide it would be round there if it went on, mm."""
    radius = rim / math.tau
    height = math.sqrt(slant**2 - radius**2)
    side = LineString([(0, height), (3 * radius, -2 * height)])
    up = brentq(lambda up: side.distance(Point(0, -up)) - radius, 0, height)
    there = side.intersection(LineString([(0, -up), (3 * radius, -up)]))
    return float(up), math.tau * float(there.x)


CLIPS = f"""{HEAD}
workings:
  tab: sqrt(8 * length(brim.inner) / tau * 0.25 mm)
allowance: 12 mm
pieces:
  brim: {{title: Brim, shape: ring, inner: 576 mm, width: 15 cm, cut: {{shell: 1}}}}
"""


def test_tabs_of_13_5_mm_stand_a_quarter_of_a_millimetre_off_a_round_opening(
    tmp_path: File,
) -> None:
    """Geometry: tabs of width s on radius r stand s² ÷ 8r off the curve. Martin, *Make Your Own
    Hats* (1921), slashes every half inch, 12.7 mm, which is within that."""

    def figures(made: Written) -> Iterator[Figure]:
        opening = made.stitch("brim", "inner")
        yield Figure("width of a tab", made.working("tab"), 13.54, 0.01)
        yield Figure("radius", opening.length() / math.tau, 91.67, 0.01)
        yield Figure("gap of a tab", gap(opening, made.working("tab")), 0.25, 0.001)
        yield Figure("gap of half an inch", gap(opening, INCH / 2), 0.22, 0.001)

    def gap(opening: Seen, tab: float) -> float:
        """How far the middle of a straight tab stands off the line it was cut on."""
        line = LineString([(p.real, p.imag) for p in points(opening)])
        foot, tip = line.interpolate(0), line.interpolate(tab)
        return float(line.interpolate(tab / 2).distance(LineString([foot, tip])))

    formulas = ("inner: 576 mm", "tab: sqrt(8 * length(brim.inner) / tau * 0.25 mm)")
    check(CLIPS, figures, *formulas, folder=tmp_path)


def test_the_hats_opening_is_as_long_for_its_breadth_as_a_milliner_makes_it(
    root: File, tmp_path: File
) -> None:
    """The demo's ratio against Martin's loop, drawn out from 25 in to 8.93 × 6.93 in; heads of
    adults are close to 1.3 (from memory of anthropometric surveys)."""
    text = (root / "content/recipes/lamplighters-hat/recipe.md").read_text("utf-8")
    _, front, _ = text.split("---\n", 2)

    def figures(made: Written) -> Iterator[Figure]:
        for piece in ("brim", "under_brim"):
            length, breadth = across(made.stitch(piece, "inner"))
            yield Figure(f"ratio, {piece}", length / breadth, 8.93 / 6.93, 0.005)

    check(front, figures, "oval: 1.29", folder=tmp_path)
