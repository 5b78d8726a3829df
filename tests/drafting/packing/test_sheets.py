"""Pieces on sheets: apart from each other, on few sheets, the same every time."""

from __future__ import annotations

import math
from itertools import combinations

import pytest
from shapely.geometry import Polygon, box
from shapely.ops import unary_union

from notchbook.drafting.draft import Draft
from notchbook.drafting.geometry.box import bounds
from notchbook.drafting.geometry.path import circle, polyline
from notchbook.drafting.packing.raster import Region, outermost
from notchbook.drafting.packing.sheets import Arrangement, arrange
from tests.composing.sample import hat

PAPERS = {"a4": (190.0, 269.0), "letter": (195.9, 251.4)}


def regions(draft: Draft) -> dict[str, tuple[Region, ...]]:
    return {name: outermost(piece) for name, piece in draft.pieces.items()}


def laid(pieces: dict[str, tuple[Region, ...]], arrangement: Arrangement) -> dict[str, Polygon]:
    """Each piece's paper, as shapely sees it."""
    found = {}
    for placed in arrangement.placed:
        loops = [
            [(p.real, p.imag) for p in path.moved(placed.turn, placed.shift).points(0.05)]
            for path in pieces[placed.piece][0]
        ]
        found[placed.piece] = Polygon(loops[0], loops[1:])
    return found


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("head", [540.0, 585.0, 640.0])
def test_pieces_keep_apart_and_lie_on_sheets_that_are_used(paper: str, head: float) -> None:
    width, height = PAPERS[paper]
    pieces = regions(hat(head=head))
    arrangement = arrange(pieces, width, height)
    shapes = laid(pieces, arrangement)
    for one, other in combinations(shapes.values(), 2):
        assert one.distance(other) >= 5
    sheets = unary_union(
        [box(c * width, r * height, (c + 1) * width, (r + 1) * height) for c, r in arrangement.used]
    )
    for shape in shapes.values():
        assert sheets.buffer(-1).contains(shape)


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("head", [540.0, 585.0, 640.0])
def test_fewer_sheets_than_side_by_side_and_near_what_the_area_needs(
    paper: str, head: float
) -> None:
    width, height = PAPERS[paper]
    pieces = regions(hat(head=head))
    found = len(arrange(pieces, width, height).used)
    side_by_side = 0
    for loops in pieces.values():
        extent = bounds(list(loops[0]))
        side_by_side += math.ceil(extent.width / width) * math.ceil(extent.height / height)
    area = sum(path.area() for loops in pieces.values() for path in loops[0])
    least = math.ceil(area / (width * height))
    assert least <= found <= 2 * least
    assert found <= 0.75 * side_by_side


def test_a_small_piece_goes_into_the_hole_of_a_large_one() -> None:
    pieces = {
        "ring": ((circle(0, 88), circle(0, 60).reversed()),),
        "disc": ((circle(0, 32),),),
    }
    assert arrange(pieces, 190, 190).used == {(0, 0)}


def test_a_long_strip_lies_along_the_sheets() -> None:
    strip = {"strip": ((polyline(0, 500, 500 + 30j, 30j, 0),),)}
    assert len(arrange(strip, 190, 269).used) == 2


def test_the_same_pieces_are_arranged_the_same_way_every_time() -> None:
    pieces = regions(hat())
    assert arrange(pieces, 190, 269) == arrange(pieces, 190, 269)


def test_of_two_cutting_lines_the_one_outside_counts() -> None:
    brim = hat().pieces["brim"]
    assert outermost(brim) == (brim.cut_line("shell").loops,)
