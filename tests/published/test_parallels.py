"""Parallels and cutting lines against Steiner's formula and shapely's buffers.

- The outer parallel of a convex outline of length L and area A at distance d is L + 2πd long and
  encloses A + Ld + πd² (J. Steiner, 1840; any text on convex geometry).
- ``shapely.buffer`` with mitred corners (GEOS) is an independent polygon offset.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from pathlib import Path as File

import pytest

from tests.published.checks import Figure, check
from tests.published.written import Written, polygon
from tests.recipes import HEAD

BRIMS = f"""{HEAD}allowance: 12 mm
pieces:
  round:
    {{title: Round brim, shape: ring, inner: 576 mm, width: 100 mm, cut: {{shell: 1}}}}
  brim:
    title: Brim
    shape: ring
    inner: 580 mm
    oval: 1.3
    width: 150 mm
    allowance: {{outer: 6 mm}}
    cut: {{shell: 1, lining: {{count: 1, allowance: {{inner: 0 mm, outer: -2 mm}}}}}}
"""


@pytest.mark.parametrize(("piece", "girth", "width"), [("brim", 580, 150), ("round", 576, 100)])
def test_the_outer_edge_of_a_brim_is_steiners_parallel(
    piece: str, girth: float, width: float, tmp_path: File
) -> None:
    def figures(made: Written) -> Iterator[Figure]:
        inner, outer = made.stitch(piece, "inner"), made.stitch(piece, "outer")
        length = girth + math.tau * width
        yield Figure("length", outer.length(), length, 0.02)
        area = polygon(inner).area + girth * width + math.pi * width**2
        yield Figure("area", polygon(outer).area, area, 0.02 * length)
        # shapely's parallel, as far away as the two outlines lie apart anywhere.
        known = polygon(inner, 50).buffer(width, quad_segs=512)
        yield Figure("distance", polygon(outer, 50).hausdorff_distance(known), 0, 0.02)

    formulas = (f"inner: {girth} mm", f"width: {width} mm")
    check(BRIMS, figures, *formulas, folder=tmp_path)


def test_cutting_lines_are_steiners_parallels_of_their_stitching_lines(tmp_path: File) -> None:
    """6 mm outside and 12 mm into the hole for the shell; for the lining 2 mm inside the edge and
    along the opening."""

    def figures(made: Written) -> Iterator[Figure]:
        outer = made.stitch("brim", "outer")
        for cloth, out, into in (("shell", 6, 12), ("lining", -2, 0)):
            outline, hole = made.cut("brim", cloth)
            allowance = (outline.length() - outer.length()) / math.tau
            yield Figure(f"outside, {cloth}", allowance, out, 0.01)
            yield Figure(f"{cloth} round", outline.length(), 580 + math.tau * (150 + out), 0.05)
            yield Figure(f"{cloth} opening", hole.length(), 580 - math.tau * into, 0.05)

    sizes = ("inner: 580 mm", "width: 150 mm")
    allowances = ("allowance: 12 mm", "outer: 6 mm", "outer: -2 mm")
    check(BRIMS, figures, *sizes, *allowances, folder=tmp_path)


CORNERS = f"""{HEAD}allowance: 12 mm
pieces:
  point: {{title: Point, shape: cone, rim: 576 mm, slant: 460 mm, cut: {{shell: 1}}}}
  stump: {{title: Stump, shape: cone, rim: 576 mm, slant: 460 mm, keep: 140 mm, cut: {{shell: 1}}}}
  collar:
    title: Collar
    shape: panel
    points: {{a: [0 mm, 0 mm], b: [200 mm, 0 mm], c: [200 mm, 60 mm], d: [80 mm, 60 mm],
      e: [80 mm, 150 mm], f: [0 mm, 150 mm], m: [150 mm, 52 mm], n: [-10 mm, 75 mm]}}
    edges: {{neck: [a, b], end: [b, c], under: {{curve: [c, m, d]}}, fall: [d, e], hem: [e, f],
      back: {{arc: [f, n, a]}}}}
    cut: {{shell: 1}}
"""


@pytest.mark.parametrize(
    ("allowance", "pieces"), [(12, ("point", "stump", "collar")), (-3, ("stump",))]
)
def test_a_cutting_line_with_corners_is_what_shapely_buffers(
    allowance: float, pieces: tuple[str, ...], tmp_path: File
) -> None:
    """Outwards, and inwards. What counts is how far the two lines lie apart on the average."""

    def figures(made: Written) -> Iterator[Figure]:
        for piece in pieces:
            (cut,) = made.cut(piece, "shell")
            (stitching,) = made.loops(piece)
            known = polygon(stitching).buffer(allowance, join_style="mitre", mitre_limit=5)
            apart = polygon(cut).symmetric_difference(known).area / cut.length()
            yield Figure(piece, apart, 0, 0.01)

    front = CORNERS.replace("allowance: 12 mm", f"allowance: {allowance} mm")
    check(front, figures, f"allowance: {allowance} mm", folder=tmp_path)
