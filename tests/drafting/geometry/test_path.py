"""Lines, arcs, cubics and paths: what stays the same when they are cut, moved and turned round."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from notchbook.drafting.geometry.box import Box, bounds
from notchbook.drafting.geometry.path import Path, circle, polyline
from notchbook.drafting.geometry.segments import Arc, Cubic, Line, Segment
from notchbook.drafting.geometry.vector import Point, unit
from tests.drafting.geometry.any import (
    convex,
    directions,
    ellipse,
    path_of,
    points,
    segments,
    shares,
    stadium,
)

few = settings(deadline=None, max_examples=40)


def close(value: complex) -> object:
    return pytest.approx(value, abs=1e-6)


@few
@given(segments, shares)
def test_the_parts_of_a_segment_add_up(segment: Segment, t: float) -> None:
    first, second = segment.part(0, t), segment.part(t, 1)
    assert first.length() + second.length() == close(segment.length())
    assert first.area() + second.area() == pytest.approx(segment.area(), rel=1e-9, abs=1e-6)
    assert first.end == close(segment.point(t)) == close(second.start)


@few
@given(segments, directions, points)
def test_moving_keeps_lengths(segment: Segment, turn: complex, shift: Point) -> None:
    moved = segment.moved(turn, shift)
    assert moved.length() == close(segment.length())
    assert moved.point(0.3) == close(segment.point(0.3) * turn + shift)
    assert moved.tangent(0.3) == close(segment.tangent(0.3) * turn)


@few
@given(convex, directions, points)
def test_moving_keeps_the_area_of_a_closed_path(path: Path, turn: complex, shift: Point) -> None:
    assert path.moved(turn, shift).area() == pytest.approx(path.area(), rel=1e-9)


@few
@given(segments)
def test_the_way_back_is_as_long_and_sweeps_the_opposite_area(segment: Segment) -> None:
    back = segment.reversed()
    assert back.length() == close(segment.length())
    assert back.area() == pytest.approx(-segment.area(), rel=1e-9, abs=1e-6)
    assert back.point(0.2) == close(segment.point(0.8))
    assert back.tangent(0.2) == close(-segment.tangent(0.8))


@few
@given(segments)
def test_a_mirror_image_is_as_long_and_sweeps_the_opposite_area(segment: Segment) -> None:
    image = segment.mirrored()
    assert image.length() == close(segment.length())
    assert image.area() == pytest.approx(-segment.area(), rel=1e-9, abs=1e-6)
    assert image.point(0.2).real == pytest.approx(-segment.point(0.2).real, abs=1e-6)
    assert image.mirrored().point(0.4) == close(segment.point(0.4))


@few
@given(segments, shares)
def test_the_tangent_is_the_direction_of_travel(segment: Segment, t: float) -> None:
    step = segment.point(t + 1e-5) - segment.point(t - 1e-5)
    assert segment.tangent(t) == pytest.approx(unit(step), abs=1e-4)


@few
@given(segments, shares)
def test_a_share_is_found_from_its_distance(segment: Segment, share: float) -> None:
    distance = share * segment.length()
    assert segment.part(0, segment.share_at(distance, segment.length())).length() == close(distance)


@few
@given(convex, shares)
def test_a_path_is_walked_by_its_length(path: Path, share: float) -> None:
    distance = share * path.length()
    point, tangent = path.at(distance)
    assert point == path.point_at(distance)
    assert tangent == path.tangent_at(distance)
    ahead = path.point_at(distance + 0.01)
    assert abs(ahead - point) == pytest.approx(0.01, rel=1e-3)


@few
@given(segments)
def test_the_box_is_the_tightest_there_is(segment: Segment) -> None:
    box = bounds((path_of(segment),))
    seen = [segment.point(k / 2000) for k in range(2001)]
    assert box.low.real == pytest.approx(min(p.real for p in seen), abs=2e-3)
    assert box.high.imag == pytest.approx(max(p.imag for p in seen), abs=2e-3)
    assert all(box.low.real - 1e-9 <= p.real <= box.high.real + 1e-9 for p in seen)
    assert all(box.low.imag - 1e-9 <= p.imag <= box.high.imag + 1e-9 for p in seen)


@few
@given(segments, st.sampled_from([0.01, 0.05, 0.5]))
def test_chords_stay_within_the_tolerance(segment: Segment, tolerance: float) -> None:
    found = path_of(segment).points(tolerance)
    assert found[0] == close(segment.start)
    assert found[-1] == close(segment.end)
    count = len(found) - 1
    for k in range(count):
        middle = segment.point((k + 0.5) / count)
        chord = Line(found[k], found[k + 1])
        off = abs(((middle - chord.start) * chord.tangent(0).conjugate()).imag)
        assert off <= tolerance * 1.0001


def test_a_clockwise_outline_has_a_positive_area() -> None:
    assert polyline(0, 100, 100 + 50j, 50j, 0).area() == pytest.approx(5000)
    assert circle(7 + 3j, 10).area() == pytest.approx(math.pi * 100)
    assert circle(7 + 3j, 10, 0, -math.tau).area() == pytest.approx(-math.pi * 100)
    assert stadium(100, 10).area() == pytest.approx(2000 + math.pi * 100)


def test_a_circle_and_a_closed_polyline_are_closed_and_an_arc_is_not() -> None:
    assert circle(0, 5).closed
    assert ellipse(80, 60).closed
    assert polyline(0, 1, 1j, 0).closed
    assert not polyline(0, 1, 1j).closed


def test_a_curve_whose_handle_has_no_length_still_has_a_direction() -> None:
    curve = Cubic(0, 0, 50 + 50j, 100)
    assert curve.tangent(0) == pytest.approx(unit(1 + 1j), abs=1e-3)


def test_a_cubic_that_is_a_straight_line_is_as_long() -> None:
    assert Cubic(0, 10, 50, 90).length() == pytest.approx(90, abs=1e-9)


def test_a_very_bent_cubic_is_measured_to_a_thousandth_of_a_micrometre() -> None:
    curve = Cubic(0, 300 + 5j, -200 + 5j, 100)
    fine = sum(abs(curve.point((k + 1) / 200000) - curve.point(k / 200000)) for k in range(200000))
    assert curve.length() == pytest.approx(fine, abs=1e-5)


def test_boxes_know_their_size() -> None:
    box = bounds([circle(10 + 20j, 5), path_of(Arc(0j, 30, 0.1, 0.2))])
    assert box.low == close(5 + 30j * math.sin(0.1))
    assert Box(1 + 2j, 4 + 8j).width == 3
    assert Box(1 + 2j, 4 + 8j).height == 6
    assert Box(1 + 2j, 4 + 8j).centre == 2.5 + 5j
