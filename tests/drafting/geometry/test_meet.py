"""Where segments meet, and paths that cross themselves."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings

from notchbook.drafting.geometry.crossing import crosses_itself
from notchbook.drafting.geometry.fit import through
from notchbook.drafting.geometry.meet import meet
from notchbook.drafting.geometry.offset import offset
from notchbook.drafting.geometry.path import Path, circle, polyline
from notchbook.drafting.geometry.segments import Arc, Cubic, Line, Segment
from notchbook.drafting.geometry.vector import Point
from tests.drafting.geometry.any import (
    bend,
    convex,
    directions,
    ellipse,
    points,
    segments,
    shares,
    stadium,
)

few = settings(deadline=None, max_examples=60)


@few
@given(segments, segments, shares, shares, directions)
def test_two_segments_laid_across_each_other_meet_there(
    a: Segment, b: Segment, t: float, u: float, turn: complex
) -> None:
    b = b.moved(turn, 0)
    b = b.moved(1, a.point(t) - b.point(u))
    slant = abs((a.tangent(t) * b.tangent(u).conjugate()).imag)
    if slant < 0.05:  # Nearly along each other: no clear crossing.
        return
    assert any(
        p == pytest.approx(t, abs=1e-6) and q == pytest.approx(u, abs=1e-6) for p, q in meet(a, b)
    )


@few
@given(segments, segments)
def test_what_is_found_lies_on_both(a: Segment, b: Segment) -> None:
    found = meet(a, b)
    assert found == sorted(found)
    for t, u in found:
        assert 0 <= t <= 1
        assert 0 <= u <= 1
        assert abs(a.point(t) - b.point(u)) < 1e-5


@few
@given(segments, segments)
def test_it_does_not_matter_which_is_first(a: Segment, b: Segment) -> None:
    assert len(meet(a, b)) == len(meet(b, a))


def test_known_meetings() -> None:
    assert meet(Line(0, 10), Line(5 - 5j, 5 + 5j)) == [(0.5, 0.5)]
    (one, other) = meet(Line(-100 + 0j, 100 + 0j), Arc(0j, 50, -1, 5))
    assert one == pytest.approx((0.25, (math.pi + 1) / 5))
    assert other == pytest.approx((0.75, 0.2))
    pairs = meet(Arc(0j, 50, 0, 6), Arc(60 + 0j, 50, 0, -6))
    assert [Arc(0j, 50, 0, 6).point(t).real for t, _ in pairs] == pytest.approx([30, 30])
    hill = Cubic(0, 40 + 100j, 60 + 100j, 100)
    assert [t for t, _ in meet(hill, Line(-10 + 30j, 110 + 30j))] == pytest.approx(
        [(1 - math.sqrt(0.6)) / 2, (1 + math.sqrt(0.6)) / 2]
    )


def test_two_curves_may_meet_often() -> None:
    # 47.0935, 72.9310 and 117.7520 across: the same curves as polylines of 1e-4 mm in shapely.
    wave = through([0, 30 + 40j, 60 - 40j, 90 + 40j, 120])
    other = Cubic(0 - 5j, 40 + 5j, 80 - 5j, 120 + 5j)
    found = [segment.point(t).real for segment in wave.segments for t, _ in meet(segment, other)]
    assert found == pytest.approx([47.0935, 72.9310, 117.7520], abs=1e-3)


def test_two_meetings_close_together_are_both_found() -> None:
    # Where they meet, these bends run within 4° of each other; 118.316 and 120.740 as above.
    long, short = bend(0j, 1, 191, 0, 0.375), bend(0j, 1, 10, 0, 0.5)
    short = short.moved(1, long.point(0.609375) - short.point(0.5))
    for first, second in ((long, short), (short, long), (long.reversed(), short)):
        found = sorted(first.point(t).real for t, _ in meet(first, second))
        assert found == pytest.approx([118.3159, 120.7404], abs=1e-3)


def test_lines_that_miss_do_not_meet() -> None:
    assert meet(Line(0, 10), Line(1j, 10 + 1j)) == []
    assert meet(Line(0, 10), Line(5 + 1j, 5 + 5j)) == []
    assert meet(Line(0, 10), Arc(5 + 20j, 10, 0, 6)) == []
    assert meet(Arc(0j, 10, 0, 6), Arc(0j, 20, 0, 6)) == []
    assert meet(Line(0, 10), Cubic(10j, 3 + 1j, 6 + 1j, 10 + 10j)) == []


def test_a_touch_is_one_meeting() -> None:
    assert len(meet(Line(-20 + 10j, 20 + 10j), Arc(0j, 10, 0, 6))) == 1
    assert len(meet(Arc(0j, 10, -1, 2), Arc(30 + 0j, 20, 2, 2))) == 1


def test_ends_count() -> None:
    assert meet(Line(0, 10), Line(10, 10 + 10j)) == [(1.0, 0.0)]
    assert meet(Line(0, 10), Arc(10 + 5j, 5, -math.pi / 2, 1)) == [(1.0, 0.0)]


@few
@given(convex)
def test_smooth_outlines_do_not_cross_themselves(path: Path) -> None:
    assert crosses_itself(path) is None
    assert crosses_itself(offset(path, 10)) is None
    assert crosses_itself(path.reversed()) is None


@few
@given(points, points, points)
def test_a_bow_tie_crosses_in_its_middle(a: Point, b: Point, c: Point) -> None:
    if abs(((b - a) * (c - a).conjugate()).imag) < 1:
        return
    assert crosses_itself(polyline(a, b, 2 * c - a, 2 * c - b, a)) is None
    spot = crosses_itself(polyline(a, 2 * c - a, b, 2 * c - b, a))
    assert spot == pytest.approx(c, abs=1e-6)


def test_outlines_that_bend_inwards_are_looked_at_closely() -> None:
    comb = polyline(0, 90, 90 + 50j, 60 + 50j, 60 + 10j, 30 + 10j, 30 + 50j, 50j, 0)
    assert crosses_itself(comb) is None
    assert crosses_itself(stadium(100, 20)) is None
    deep = polyline(0, 90, 90 + 50j, 60 + 50j, 60 - 10j, 30 - 10j, 30 + 50j, 50j, 0)
    assert crosses_itself(deep) in (60, 30)


def test_a_curve_that_loops_crosses_itself() -> None:
    loop = Cubic(0, 200 + 100j, -100 + 100j, 100)
    spot = crosses_itself(Path((loop,)))
    assert spot is not None
    assert spot.real == pytest.approx(50)
    assert crosses_itself(Path((Cubic(0, 100j, 100 + 100j, 100),))) is None


def test_an_eight_of_two_curves_crosses_itself() -> None:
    eight = through([0, 50 + 50j, 100, 50 - 50j, 0 + 1j, -50 + 50j, -100, -50 - 50j], closed=True)
    assert crosses_itself(eight) is not None


def test_a_spiral_that_overlaps_itself_is_found_though_it_never_turns_back() -> None:
    twice = Path((*circle(0, 50).segments, *circle(5, 45, math.pi).segments))
    assert crosses_itself(twice) is not None


def test_a_line_that_runs_straight_back_over_itself_is_found() -> None:
    assert crosses_itself(polyline(0, 100, 100 + 50j, 100 - 50j, -50j, 0)) == 100 + 50j


def test_open_lines_may_end_near_their_start() -> None:
    assert crosses_itself(Path((Arc(0j, 50, 0, 6.2),))) is None
    assert crosses_itself(polyline(0, 100, 100 + 100j, 1 + 1j)) is None
    assert crosses_itself(ellipse(80, 60)) is None
