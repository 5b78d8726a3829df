"""Leaning and oval cones and sloped brims against a fine triangulation: flat triangles in space,
each known by its three sides only, laid on the table one beside the other. That is how a plate
worker develops them (Longfield, *Sheet Metal Drafting*, 1921, calls it triangulation), only with
thousands of lines. Ellipses are scipy's."""

from __future__ import annotations

import math
from collections.abc import Iterator
from pathlib import Path as File
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy.special import ellipe
from svgpathtools import Path as Seen

from tests.published.checks import Figure, check
from tests.published.written import Written, points
from tests.recipes import HEAD

Points = NDArray[np.float64]
LINES = 8000


def ellipse(girth: float, ratio: float) -> Points:
    """Points of an ellipse on the table (x right, y front), from centre back by the wearer's left,
    evenly far apart along the curve; its girth is 4 a E(e²)."""
    a = girth / (4 * float(ellipe(1 - 1 / ratio**2)))
    ts = np.linspace(0, math.tau, 40 * LINES + 1)
    fine = np.stack([-a / ratio * np.sin(ts), -a * np.cos(ts), 0 * ts], axis=1)
    gone = np.concatenate([[0], np.cumsum(np.linalg.norm(np.diff(fine, axis=0), axis=1))])
    at = np.linspace(0, gone[-1], LINES + 1)
    return np.stack([np.interp(at, gone, column) for column in fine.T], axis=1)


def laid(low: Points, high: Points) -> tuple[list[complex], list[complex], float]:
    """Two rows of points in space with triangles between, laid flat: both rows, and the area."""
    flat_low, flat_high = [0j], [complex(np.linalg.norm(high[0] - low[0]))]
    area = 0.0
    for k in range(len(low) - 1):
        p, q, r = low[k], high[k], low[k + 1]
        third, size = beside(flat_low[-1], flat_high[-1], p, q, r)
        flat_low.append(third)
        fourth, other = beside(third, flat_high[-1], r, q, high[k + 1])
        flat_high.append(fourth)
        area += size + other
    return flat_low, flat_high, area


def beside(a: complex, b: complex, p: Any, q: Any, r: Any) -> tuple[complex, float]:
    """Where r falls when p and q lie at a and b, on the left of the way from a to b."""
    way, to = q - p, r - p
    along = float(way @ to) / float(np.linalg.norm(way))
    off = math.sqrt(max(float(to @ to) - along * along, 0.0))
    turned = (b - a) / abs(b - a)
    return a + turned * complex(along, off), off * abs(b - a) / 2


def chords(path: Seen, count: int = 8) -> list[complex]:
    """Points at equal shares of a path's length, both ends included."""
    walked = points(path)
    gone = np.concatenate([[0], np.cumsum(np.abs(np.diff(walked)))])
    return [complex(p) for p in np.interp(np.linspace(0, gone[-1], count + 1), gone, walked)]


def piece(shape: str) -> str:
    return f"{HEAD}allowance: 8 mm\npieces:\n  it: {{title: It, {shape}, cut: {{shell: 1}}}}\n"


def test_a_cone_that_leans_on_an_oval_rim_keeps_every_line_and_its_area(tmp_path: File) -> None:
    rim = ellipse(576, 1.3)
    way = math.radians(40)
    apex = np.array([-90 * math.sin(way), -90 * math.cos(way), 300.0])
    areas = np.linalg.norm(np.cross(rim[:-1] - apex, rim[1:] - apex), axis=1) / 2

    def figures(made: Written) -> Iterator[Figure]:
        yield Figure("area", made.area("it"), areas.sum(), 3)
        yield Figure("rim", made.stitch("it", "rim").length(), 576, 0.01)
        tip = made.stitch("it", "right").start
        for k, point in enumerate(chords(made.stitch("it", "rim"))):
            line = float(np.linalg.norm(rim[k * LINES // 8] - apex))
            yield Figure(f"line {k}", abs(point - tip), line, 0.02)

    shape = "shape: cone, rim: 576 mm, height: 300 mm, oval: 1.3, lean: 90 mm, towards: 40 deg"
    formulas = ("rim: 576 mm", "height: 300 mm", "oval: 1.3", "lean: 90 mm", "towards: 40 deg")
    check(piece(shape), figures, *formulas, folder=tmp_path)


def test_one_cut_off_at_a_top_lies_as_its_triangles_do(tmp_path: File) -> None:
    """A round rim, a top that is half as long, moved forwards, the seam at the wearer's left."""
    turned = np.roll(ellipse(600, 1.0)[:-1], -LINES // 4, axis=0)
    rim = np.concatenate([turned, turned[:1]])
    top = rim / 2 + np.array([0, 40, 150])
    low, high, area = laid(rim, top)

    def figures(made: Written) -> Iterator[Figure]:
        edge, upper = chords(made.stitch("it", "rim")), chords(made.stitch("it", "top"))[::-1]
        yield Figure("area", made.area("it"), area, 3)
        for k in range(9):
            line = abs(high[k * LINES // 8] - low[k * LINES // 8])
            yield Figure(f"line {k}", abs(upper[k] - edge[k]), line, 0.02)
        yield Figure("from seam to seam below", abs(edge[8] - edge[0]), abs(low[-1] - low[0]), 0.05)
        yield Figure("and above", abs(upper[8] - upper[0]), abs(high[-1] - high[0]), 0.05)

    shape = (
        "shape: cone, rim: 600 mm, top: 300 mm, height: 150 mm, lean: 40 mm, towards: 180 deg, "
        "seam: 90 deg"
    )
    formulas = ("rim: 600 mm", "top: 300 mm", "height: 150 mm", "lean: 40 mm", "seam: 90 deg")
    check(piece(shape), figures, *formulas, folder=tmp_path)


def brim(girth: float, ratio: float, width: float, slope: float) -> tuple[Points, Points]:
    """Opening and edge in space, the edge straight outwards and down from the opening."""
    opening = ellipse(girth, ratio)
    out = opening / np.array([1.0, ratio**2, 1.0])
    out /= np.linalg.norm(out, axis=1)[:, None]
    return opening, opening + width * (math.cos(slope) * out - np.array([0, 0, math.sin(slope)]))


def test_a_sloped_brim_on_an_oval_lies_as_its_triangles_do(tmp_path: File) -> None:
    opening, edge = brim(576, 1.3, 110, math.radians(35))
    low, high, area = laid(opening, edge)

    def figures(made: Written) -> Iterator[Figure]:
        inner, outer = made.stitch("it", "inner"), made.stitch("it", "outer")
        near = chords(inner)
        yield Figure("area", made.area("it"), area, 3)
        yield Figure("opening", inner.length(), 576, 0.01)
        # The edge: the opening and a turn of what the brim covers seen from above.
        grown = 576 + math.tau * 110 * math.cos(math.radians(35))
        yield Figure("edge", outer.length(), grown, 0.02)
        yield Figure("seam", made.stitch("it", "left").length(), 110, 0.01)
        for k in range(1, 9):
            expected = abs(low[k * LINES // 8] - low[0])
            yield Figure(f"across the opening, {k}", abs(near[k] - near[0]), expected, 0.05)
        gap = abs(outer.end - outer.start)
        yield Figure("gap at the edge", gap, abs(high[-1] - high[0]), 0.05)

    shape = "shape: ring, inner: 576 mm, oval: 1.3, width: 110 mm, slope: 35 deg"
    formulas = ("inner: 576 mm", "oval: 1.3", "width: 110 mm", "slope: 35 deg")
    check(piece(shape), figures, *formulas, folder=tmp_path)


def test_a_round_brim_at_an_angle_is_a_sector_of_360_degrees_times_its_cosine(
    tmp_path: File,
) -> None:
    """Geometry: edge = opening + 2π w cos θ, and the flat ring turns by 360° × cos θ."""

    def figures(made: Written) -> Iterator[Figure]:
        outer, left = made.stitch("it", "outer"), made.stitch("it", "left")
        right = made.stitch("it", "right")
        yield Figure("edge", outer.length(), 576 + math.tau * 100 * 0.5, 0.01)
        a, b = right.start - right.end, left.end - left.start
        turned = math.degrees(math.atan2((b.conjugate() * a).imag, (b.conjugate() * a).real))
        yield Figure("turned", turned % 360, 180, 0.01)

    front = piece("shape: ring, inner: 576 mm, width: 100 mm, slope: 60 deg")
    check(front, figures, "inner: 576 mm", "width: 100 mm", "slope: 60 deg", folder=tmp_path)


def twisted(front: float, back: float) -> tuple[float, float]:
    """The opening's turn, laid flat, and its gap: by the geodesic curvature of a brim whose slope
    changes, k cos θ, summed up over a polygon of the opening, corner by corner."""
    opening = ellipse(576, 1.3)[:-1]
    sides = np.roll(opening, -1, axis=0) - opening
    way = np.arctan2(sides[:, 1], sides[:, 0])
    turns = (way - np.roll(way, 1) + math.pi) % math.tau - math.pi
    facing = np.arctan2(-opening[:, 0], -opening[:, 1] / 1.3**2)
    slopes = front + (back - front) * (1 + np.cos(facing)) / 2
    bends = np.cumsum(turns * np.cos(slopes))
    steps = np.linalg.norm(sides, axis=1) * np.exp(1j * bends)
    return math.degrees(abs(float(bends[-1]))), abs(complex(steps.sum()))


def test_a_brim_lower_behind_turns_as_its_opening_does_within_it(tmp_path: File) -> None:
    turn, gap = twisted(math.radians(20), math.radians(35))

    def figures(made: Written) -> Iterator[Figure]:
        inner = made.stitch("it", "inner")
        left, right = made.stitch("it", "left"), made.stitch("it", "right")
        a, b = right.start - right.end, left.end - left.start
        open_ = math.degrees(math.atan2((a.conjugate() * b).imag, (a.conjugate() * b).real))
        yield Figure("turned", 360 - open_ % 360, turn, 0.02)
        yield Figure("gap", abs(inner.end - inner.start), gap, 0.05)
        yield Figure("width behind", left.length(), 120, 0.01)

    front = piece(
        "shape: ring, inner: 576 mm, oval: 1.3, width: 80 mm, width_back: 120 mm, slope: 20 deg, "
        "slope_back: 35 deg"
    )
    formulas = ("inner: 576 mm", "width_back: 120 mm", "slope: 20 deg", "slope_back: 35 deg")
    check(front, figures, *formulas, folder=tmp_path)


def test_a_round_edge_is_an_inch_narrower_at_front_and_back(tmp_path: File) -> None:
    """G. A. Martin, *Make Your Own Hats* (Houghton Mifflin 1921): an opening elongated by two
    inches, in a brim with a round edge, leaves front and back about one inch narrower."""

    def figures(made: Written) -> Iterator[Figure]:
        inner, outer = made.stitch("it", "inner"), made.stitch("it", "outer")
        (left, right, top, bottom), (west, east, north, south) = outer.bbox(), inner.bbox()
        side, end = (right - left - east + west) / 2, (bottom - top - south + north) / 2
        yield Figure("narrower", side - end, 25.4, 0.4)
        yield Figure("side", side, 127, 0.02)

    front = piece("shape: ring, inner: 25 in, oval: 1.289, width: 5 in, outer: round")
    check(front, figures, "oval: 1.289", "width: 5 in", folder=tmp_path)
