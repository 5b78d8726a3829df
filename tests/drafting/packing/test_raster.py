"""Rasters: what they set, and where they say there is room."""

from __future__ import annotations

import cmath

from hypothesis import given, settings
from hypothesis import strategies as st

from notchbook.drafting.geometry.path import circle, polyline
from notchbook.drafting.packing.raster import free, polygons, put, raster

SQUARE = (polyline(0, 20, 20 + 20j, 20j, 0),)
RING = (circle(0, 100), circle(0, 60).reversed())


def test_a_square_sets_the_cells_it_touches_once_it_is_grown() -> None:
    # 20 mm, 4.75 mm more on each side and 0.25 mm for chords: 30 mm in cells of 10 mm.
    made = raster([polygons(SQUARE)], 1, (10.001, 10.001), 4.75)
    assert made.rows == (0b111, 0b111, 0b111)


def test_the_hole_of_a_ring_stays_free() -> None:
    made = raster([polygons(RING)], 1, (5, 5), 2.5)
    middle = made.rows[len(made.rows) // 2]
    assert not middle >> (made.columns // 2) & 1
    assert middle & 1


@settings(deadline=None, max_examples=30)
@given(angle=st.floats(0, 6.28), x=st.floats(-70, 70), y=st.floats(-70, 70), grow=st.floats(0, 6))
def test_every_point_of_a_region_lies_in_a_cell_that_is_set(
    angle: float, x: float, y: float, grow: float
) -> None:
    if not 60 < abs(complex(x, y)) < 100:
        return
    turn = cmath.rect(1, angle)
    made = raster([polygons(RING)], turn, (7, 5), grow)
    at = complex(x, y) * turn + made.shift
    for step in (0, grow, -grow, grow * 1j, -grow * 1j):
        column, row = int((at + step).real // 7), int((at + step).imag // 5)
        assert made.rows[row] >> column & 1


def test_a_small_piece_finds_the_hole_of_a_large_one() -> None:
    ring = raster([polygons(RING)], 1, (5, 5), 2.5)
    small = raster([polygons((circle(0, 40),))], 1, (5, 5), 2.5)
    table: list[int] = []
    put(table, ring.rows, 0, 0)
    everywhere = (1 << ring.columns) - 1
    down = (len(ring.rows) - len(small.rows)) // 2
    found = free(small, table, down, everywhere)
    assert found >> ((ring.columns - small.columns) // 2) & 1
    assert not found & 1


def test_where_a_piece_is_free_is_where_no_cell_is_shared() -> None:
    ring = raster([polygons(RING)], 1, (10, 10), 2.5)
    square = raster([polygons(SQUARE)], cmath.rect(1, 0.4), (10, 10), 2.5)
    table: list[int] = []
    put(table, ring.rows, 3, 2)
    for down in range(len(table)):
        found = free(square, table, down, (1 << 30) - 1)
        for right in range(30):
            apart = all(
                down + k >= len(table) or not row << right & table[down + k]
                for k, row in enumerate(square.rows)
            )
            assert bool(found >> right & 1) == apart
