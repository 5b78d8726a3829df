"""Cells: what lines touch and outlines hold, against shapely; runs and common cells, counted."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, Polygon, box

from notchbook.drafting.geometry.cells import all_of, inside, run, runs_of, touched

ROWS = 12
NUMBERS = st.floats(-3, 15, allow_subnormal=False)
SIDES = st.tuples(NUMBERS, NUMBERS, NUMBERS, NUMBERS)
BITS = st.integers(0, 2**24 - 1)


def is_set(rows: list[int], column: int, row: int) -> bool:
    return bool(rows[row] >> column & 1)


@given(SIDES, st.sampled_from([0.0, 0.7]))
@settings(deadline=None, max_examples=60)
def test_every_cell_a_line_comes_within_reach_of_is_touched_and_few_others(
    side: tuple[float, float, float, float], grow: float
) -> None:
    rows = touched([side], ROWS, (grow, grow))
    line = LineString([side[:2], side[2:]])
    for row in range(ROWS):
        for column in range(16):
            cell = box(column - grow, row - grow, column + 1 + grow, row + 1 + grow)
            if line.intersects(cell.buffer(-1e-6)):
                assert is_set(rows, column, row)
            if line.distance(cell) > 1.5:
                assert not is_set(rows, column, row)


def test_what_lies_between_two_outlines_is_inside_and_what_lies_in_the_hole_is_not() -> None:
    def square(low: float, high: float) -> list[tuple[float, float, float, float]]:
        corners = [(low, low), (high, low), (high, high), (low, high)]
        return [(*corners[k - 1], *corners[k]) for k in range(4)]

    ring = inside([*square(1.2, 10.8), *square(4.2, 7.8)], ROWS)
    assert is_set(ring, 2, 6) and is_set(ring, 9, 6) and is_set(ring, 6, 2)
    assert not any(is_set(ring, column, 6) for column in (0, 5, 6, 11))
    assert ring[0] == ring[11] == 0


@given(st.lists(st.tuples(st.floats(0, 12), st.floats(0, 12)), min_size=3, max_size=3, unique=True))
@settings(deadline=None, max_examples=60)
def test_the_cells_of_a_triangle_are_those_whose_row_it_fills(
    corners: list[tuple[float, float]],
) -> None:
    sides = [(*corners[k - 1], *corners[k]) for k in range(3)]
    rows = [a | b for a, b in zip(inside(sides, ROWS), touched(sides, ROWS), strict=True)]
    shape = Polygon(corners)
    for row in range(ROWS):
        for column in range(12):
            if box(column, row, column + 1, row + 1).buffer(-1e-6).intersects(shape):
                assert is_set(rows, column, row)


@given(BITS, st.integers(1, 9))
def test_a_run_begins_where_so_many_bits_follow_each_other(row: int, count: int) -> None:
    found = runs_of(row, count)
    for k in range(24):
        assert bool(found >> k & 1) == (row >> k & run(0, count - 1) == run(0, count - 1))


@given(st.lists(BITS, min_size=1, max_size=9), st.integers(1, 9))
def test_common_cells_are_set_in_every_one_of_the_rows(rows: list[int], count: int) -> None:
    found = all_of(rows, count)
    assert len(found) == max(len(rows) - count + 1, 0)
    for k, common in enumerate(found):
        expected = rows[k]
        for row in rows[k : k + count]:
            expected &= row
        assert common == expected
