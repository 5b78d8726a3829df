"""Parallels and cutting lines, from a recipe's text to the file, against the outside world.

- Steiner's formula for the outer parallel of a convex outline at distance d: length L + 2πd, area
  A + Ld + πd² (J. Steiner, 1840; any text on convex geometry).
- ``shapely.buffer`` with mitred corners (GEOS), an independent polygon offset.
- The file is measured by svgpathtools, which had no part in making it.
"""

from __future__ import annotations

import math
from pathlib import Path as File

import numpy as np
import pytest
from shapely.geometry import Polygon
from svgpathtools import Path as Seen

from tests.published.checks import agrees
from tests.published.written import Written, write

PIECES = """\
allowance: 12 mm
pieces:
  brim:
    title: Brim
    shape: ring
    inner: 576 mm
    oval: 1.3
    width: 150 mm
    allowance: {outer: 6 mm}
    cut: {shell: 1, lining: {count: 1, allowance: {inner: 0 mm, outer: -2 mm}}}
  round_brim: {title: Round brim, shape: ring, inner: 576 mm, width: 100 mm, cut: {shell: 1}}
  point: {title: Point, shape: cone, rim: 576 mm, slant: 460 mm, cut: {shell: 1}}
  stump: {title: Stump, shape: cone, rim: 576 mm, slant: 460 mm, keep: 140 mm, cut: {shell: 1}}
  collar:
    title: Collar
    shape: panel
    points: {a: [0 mm, 0 mm], b: [200 mm, 0 mm], c: [200 mm, 60 mm], d: [80 mm, 60 mm],
      e: [80 mm, 150 mm], f: [0 mm, 150 mm],
      m: [150 mm, 52 mm], n: [-10 mm, 75 mm]}
    edges: {neck: [a, b], end: [b, c], under: {curve: [c, m, d]}, fall: [d, e], hem: [e, f],
      back: {arc: [f, n, a]}}
    cut: {shell: 1}
"""


@pytest.fixture(scope="module")
def file(tmp_path_factory: pytest.TempPathFactory) -> Written:
    return write(PIECES, tmp_path_factory.mktemp("parallels") / "pattern.svg")


def polygon(path: Seen, steps: int = 400) -> Polygon:
    """A path as shapely sees it: every curve as ``steps`` chords."""
    shares = np.linspace(0, 1, steps, endpoint=False)
    points = [p for segment in path for p in map(segment.point, shares)]
    return Polygon([(p.real, p.imag) for p in points])


@pytest.mark.parametrize(("piece", "width"), [("brim", 150), ("round_brim", 100)])
def test_the_outer_edge_of_a_brim_is_steiners_parallel(
    file: Written, piece: str, width: float
) -> None:
    inner, outer = file.stitch(piece, "inner"), file.stitch(piece, "outer")
    length = inner.length() + math.tau * width
    assert agrees(outer.length(), length, 0.02)
    area = polygon(inner).area + inner.length() * width + math.pi * width**2
    assert agrees(polygon(outer).area, area, 0.02 * length)


def test_the_cutting_line_of_a_brim_is_steiners_parallel_of_its_stitching_line(
    file: Written,
) -> None:
    inner, outer = file.stitch("brim", "inner"), file.stitch("brim", "outer")
    for cloth, out, into in (("shell", 6, 12), ("lining", -2, 0)):
        outline, hole = file.cut("brim", cloth)
        assert agrees(outline.length(), outer.length() + math.tau * out, 0.02)
        assert agrees(hole.length(), inner.length() - math.tau * into, 0.02)


def test_an_allowance_off_by_one_per_cent_would_be_seen(file: Written) -> None:
    """The allowance itself, as the brim's two lines differ by it."""
    outline, _ = file.cut("brim", "shell")
    made = (outline.length() - file.stitch("brim", "outer").length()) / math.tau
    assert agrees(made, 6, 0.01)


@pytest.mark.parametrize(
    ("piece", "edges"),
    [
        ("point", ("rim", "left", "right")),
        ("stump", ("rim", "left", "top", "right")),
        ("collar", ("neck", "end", "under", "fall", "hem", "back")),
    ],
)
def test_a_cutting_line_with_corners_is_what_shapely_buffers(
    file: Written, piece: str, edges: tuple[str, ...]
) -> None:
    parts = {edge: file.stitch(piece, edge) for edge in edges}
    (cut,) = file.cut(piece, "shell")
    stitching = Seen(*(segment for edge in in_order(parts) for segment in parts[edge]))
    around = cut.length()

    def strays(allowance: float) -> float:
        """How far the two outlines lie apart on the average, mm."""
        known = polygon(stitching).buffer(allowance, join_style="mitre", mitre_limit=5)
        return float(polygon(cut).symmetric_difference(known).area) / around

    assert strays(12) < 0.01
    assert strays(12 * 1.01) > 0.05
    assert strays(12 * 0.99) > 0.05


def in_order(parts: dict[str, Seen]) -> list[str]:
    """The edges end to end."""
    left = dict(parts)
    found = [next(iter(left))]
    end = left.pop(found[0])[-1].end
    while left:
        following = min(left, key=lambda edge: abs(left[edge][0].start - end))
        assert abs(left[following][0].start - end) < 1e-3
        found.append(following)
        end = left.pop(following)[-1].end
    return found


def test_a_negative_allowance_is_what_shapely_buffers_inwards(tmp_path: File) -> None:
    made = write(
        PIECES.replace("allowance: 12 mm\npieces", "allowance: -3 mm\npieces"),
        tmp_path / "pattern.svg",
    )
    (cut,) = made.cut("stump", "shell")
    parts = {edge: made.stitch("stump", edge) for edge in ("rim", "left", "top", "right")}
    stitching = Seen(*(segment for edge in in_order(parts) for segment in parts[edge]))
    known = polygon(stitching).buffer(-3, join_style="mitre", mitre_limit=5)
    assert polygon(cut).symmetric_difference(known).area < 0.01 * cut.length()
