"""Pieces as cutting rooms get them: what is inside a piece, and halves of pieces."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from notchbook.composing.interchange import (
    BOUNDARY,
    CUTOUT,
    INTERNAL,
    MIRROR,
    SEW,
    Block,
    Polygon,
    interchange,
)
from notchbook.drafting.engine import draft
from notchbook.drafting.geometry.path import polyline
from notchbook.drafting.shapes import ring
from tests.composing.sample import draft_of, piece, setting
from tests.lined import lined


def on(block: Block, layer: int) -> list[Polygon]:
    return [polygon for polygon in block.polygons if polygon.layer == layer]


def length(polygon: Polygon) -> float:
    points = polygon.points + polygon.points[:1] * polygon.closed
    return polyline(*points).length()


def test_a_piece_cut_from_two_cloths_is_a_piece_of_each() -> None:
    made = lined()
    names = [block.name for block in interchange(draft(made, made.sizes[0]), setting()).blocks]
    assert names == ["side-shell", "side-lining", "base-shell", "base-lining"]


def test_lines_inside_a_piece_are_internal_lines() -> None:
    made = lined()
    drafted = draft(made, made.sizes[0])
    side, *_ = interchange(drafted, setting()).blocks
    (row,) = on(side, INTERNAL)
    assert length(row) == pytest.approx(400, abs=1e-6)
    # 30 mm inside the top edge, which is up here.
    top = max(p.imag for polygon in on(side, SEW) for p in polygon.points)
    assert {round(top - p.imag, 6) for p in row.points} == {30}


def test_a_piece_printed_whole_has_no_mirror_line() -> None:
    made = lined()
    blocks = interchange(draft(made, made.sizes[0]), setting()).blocks
    assert not any(on(block, MIRROR) for block in blocks)


@settings(max_examples=20)
@given(st.floats(200, 1500), st.floats(20, 300))
def test_a_ring_of_any_size_has_its_hole_as_a_cut_out(inner: float, width: float) -> None:
    """Circles of the stitching line's radii, 10 mm further out and in."""
    shape = ring.draft(inner=inner, width=width)
    (block,) = interchange(draft_of(piece("brim", shape, {"shell": {"": 10.0}})), setting()).blocks
    (outline,), (hole,) = on(block, BOUNDARY), on(block, CUTOUT)
    radius = inner / math.tau
    for polygon, wanted in ((outline, radius + width + 10), (hole, radius - 10)):
        assert polygon.closed
        assert max(abs(abs(p) - wanted) for p in polygon.points) < 1e-6
        halves = (a + b for a, b in pairwise(polygon.points))
        assert min(abs(p) / 2 for p in halves) > wanted - 0.05
