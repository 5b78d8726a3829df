"""The parts of a path inside a box."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from notchbook.drafting.geometry.box import Box, bounds
from notchbook.drafting.geometry.clip import clip
from notchbook.drafting.geometry.path import Path, circle, polyline
from notchbook.drafting.geometry.segments import Arc, Line, Segment
from tests.drafting.geometry.any import convex, ellipse, path_of, segments

few = settings(deadline=None, max_examples=30)
PAGE = Box(0j, 100 + 80j)


def tiles(box: Box, across: int, down: int) -> list[Box]:
    step = complex(box.width / across, box.height / down)
    return [
        Box(low, low + step)
        for i in range(across)
        for j in range(down)
        for low in [box.low + complex(step.real * i, step.imag * j)]
    ]


@few
@given(st.one_of(segments.map(path_of), convex), st.integers(1, 3), st.integers(1, 3))
def test_the_parts_in_all_tiles_add_up(path: Path, across: int, down: int) -> None:
    # The border is off the path's own extremes, so that none of it lies on a border.
    box = bounds((path,))
    wide = Box(box.low - (7.3 + 5.1j), box.high + (3.7 + 9.9j))
    parts = [part for tile in tiles(wide, across, down) for part in clip(path, tile)]
    assert sum(part.length() for part in parts) == pytest.approx(path.length(), abs=1e-5)


@few
@given(segments)
def test_what_is_kept_lies_inside(segment: Segment) -> None:
    for part in clip(path_of(segment), PAGE):
        box = bounds((part,))
        assert box.low.real >= -1e-6
        assert box.low.imag >= -1e-6
        assert box.high.real <= 100 + 1e-6
        assert box.high.imag <= 80 + 1e-6


def test_a_line_is_cut_at_both_borders() -> None:
    (part,) = clip(polyline(-50 + 40j, 150 + 40j), PAGE)
    assert part.segments == (Line(40j, 100 + 40j),)


def test_an_arc_keeps_its_centre() -> None:
    (part,) = clip(circle(0, 50), PAGE)
    (arc,) = part.segments
    assert isinstance(arc, Arc)
    assert (arc.centre, arc.radius) == (0, 50)
    assert part.length() == pytest.approx(math.pi * 25)


def test_parts_across_a_corner_of_the_path_are_one() -> None:
    (part,) = clip(polyline(-10 + 10j, 50 + 10j, 50 + 90j), PAGE)
    assert part.segments == (Line(10j, 50 + 10j), Line(50 + 10j, 50 + 80j))


def test_parts_across_the_start_of_a_closed_path_are_one() -> None:
    (part,) = clip(circle(0, 50, begin=math.pi / 4), PAGE)
    assert len(part.segments) == 2
    assert part.start == pytest.approx(50)
    assert part.end == pytest.approx(50j)


def test_a_closed_path_inside_comes_back_whole() -> None:
    path = ellipse(40, 30).moved(1, 50 + 40j)
    assert clip(path, PAGE) == (path,)


def test_a_path_outside_leaves_nothing() -> None:
    assert clip(circle(300, 50), PAGE) == ()
    assert clip(circle(50 + 40j, 200), PAGE) == ()
    assert clip(polyline(-10 + 200j, 300 - 100j), PAGE) == ()


def test_a_path_that_only_passes_a_corner_leaves_nothing() -> None:
    assert clip(polyline(-30 + 20j, 20 - 30j), PAGE) == ()
    assert clip(circle(-10 - 10j, 12), PAGE) == ()


def test_a_line_along_the_border_counts_as_inside() -> None:
    (part,) = clip(polyline(20, 60), PAGE)
    assert part.length() == pytest.approx(40)


def test_several_parts_come_in_the_order_of_travel() -> None:
    parts = clip(polyline(-10 + 10j, 110 + 10j, 110 + 30j, -10 + 30j), PAGE)
    assert [part.start for part in parts] == [10j, 100 + 30j]


def test_an_s_curve_is_cut_where_it_crosses() -> None:
    path = path_of(ellipse(60, 60).segments[0])
    (part,) = clip(path, Box(0j, 50 + 100j))
    assert part.start.real == pytest.approx(50, abs=1e-7)
