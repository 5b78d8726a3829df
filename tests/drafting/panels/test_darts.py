"""Darts: legs equally long, the edge one smooth line through all layers when they are shut."""

from __future__ import annotations

import cmath
import math
from dataclasses import replace
from typing import Literal

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from notchbook.drafting.allowance import cut_loops
from notchbook.drafting.geometry.path import Path, circle, polyline
from notchbook.drafting.geometry.segments import Arc, Line
from notchbook.drafting.geometry.stretch import across, stretch
from notchbook.drafting.geometry.vector import Point, cross
from notchbook.drafting.panels.darts import DartRule, check_room, darted
from notchbook.drafting.shape import Dart, Edge, Flat, Refusal
from tests.drafting.shapes.follow import distance

STRAIGHT = polyline(0, 300)
HOLLOW = Path((Arc(150 - 260j, 300, math.pi / 2 + 0.52, -1.04),))
ROUND = circle(0, 140, math.pi / 2)


def dart(
    at: float, width: float = 30, depth: float = 90, press: Literal["start", "end"] = "start"
) -> DartRule:
    return DartRule(f"dart at {at:g}", "waist", at, width, depth, None, press)


def shut(point: Point, made: Dart) -> Point:
    """Where a point beyond a dart lies when the dart is stitched."""
    p, q = (foot - made.point for foot in made.feet)
    return made.point + (point - made.point) * (p / q)


edges = st.sampled_from([STRAIGHT, HOLLOW, ROUND])
darts = st.builds(
    dart,
    st.floats(80, 220),
    st.floats(5, 40),
    st.floats(60, 120),
    st.sampled_from(["start", "end"]),
)


@settings(deadline=None, max_examples=60)
@given(edges, darts)
def test_both_legs_are_equally_long(path: Path, rule: DartRule) -> None:
    _, (made,) = darted("waist", path, [rule])
    first, second = (abs(foot - made.point) for foot in made.feet)
    assert first == pytest.approx(second, abs=1e-6)
    # Longer than asked for by what the redrawn edge fills up, never by more than half the width.
    assert rule.depth is not None
    assert abs(first - math.hypot(rule.depth, rule.width / 2)) < rule.width / 2


@settings(deadline=None, max_examples=60)
@given(edges, darts)
def test_the_edge_runs_smoothly_across_a_dart_that_is_shut(path: Path, rule: DartRule) -> None:
    edge, (made,) = darted("waist", path, [rule])
    [(start, end)] = edge.taken
    before = stretch(edge.path, 0, start)
    beyond = stretch(edge.path, end, edge.path.length())
    assert abs(before.end - shut(beyond.start, made)) < 0.02
    turned = beyond.segments[0].tangent(0) * (shut(1, made) - shut(0, made))
    assert abs(cmath.phase(turned / before.segments[-1].tangent(1))) < 1e-3


@settings(deadline=None, max_examples=60)
@given(edges, darts)
def test_the_folded_cloth_ends_on_the_edge_it_is_pressed_to(path: Path, rule: DartRule) -> None:
    edge, (made,) = darted("waist", path, [rule])
    [(start, end)] = edge.taken
    side = stretch(edge.path, 0, start) if rule.press == "start" else stretch(
        edge.path, end, edge.path.length()
    )  # fmt: skip
    foot = made.feet[0 if rule.press == "start" else 1]
    for k in range(21):
        point = edge.path.point_at(start + (end - start) * k / 20)
        near = abs(point - made.feet[0]) <= abs(point - made.feet[1])
        # The half of the fold beside the leg is turned over it, the other half over the fold first.
        if near != (rule.press == "start"):
            point = across(point, made.point, made.peak)
        assert distance(across(point, made.point, foot), side) < 0.02


@settings(deadline=None, max_examples=40)
@given(darts)
def test_the_sewn_length_is_the_edge_without_what_its_dart_takes(rule: DartRule) -> None:
    edge, (made,) = darted("waist", STRAIGHT, [rule])
    assert edge.length() == pytest.approx(300 - rule.width, abs=5)
    assert edge.path.length() > edge.length() + rule.width
    [(before, _), (beyond, _)] = edge.places([edge.taken[0][0] - 1e-6, edge.taken[0][0]])
    assert abs(before - made.feet[0]) < 1e-3 and abs(beyond - made.feet[1]) < 1e-3


@settings(deadline=None, max_examples=30)
@given(edges, darts, st.floats(0.2, 5))
def test_everything_grows_as_its_lengths_do(path: Path, rule: DartRule, k: float) -> None:
    assume(rule.width * k > 1)
    larger = Path(tuple(_times(segment, k) for segment in path.segments))
    assert rule.depth is not None
    grown = replace(rule, at=rule.at * k, width=rule.width * k, depth=rule.depth * k)
    try:
        edge, _ = darted("waist", larger, [grown])
    except Refusal:
        return  # The least room beside a dart does not shrink.
    assert edge.length() == pytest.approx(darted("waist", path, [rule])[0].length() * k, rel=1e-6)


def _times(segment: object, k: float) -> Line | Arc:
    if isinstance(segment, Arc):
        return Arc(segment.centre * k, segment.radius * k, segment.begin, segment.sweep)
    assert isinstance(segment, Line)
    return Line(segment.start * k, segment.end * k)


def test_several_darts_stand_in_one_edge_and_leave_it_whole() -> None:
    rules = [dart(60, 20), dart(150, 30, press="end"), dart(240, 20)]
    edge, made = darted("waist", STRAIGHT, rules)
    assert len(made) == len(edge.taken) == 3
    for a, b in zip(edge.path.segments, edge.path.segments[1:], strict=False):
        assert abs(a.end - b.start) < 1e-6
    assert edge.path.end == 300
    assert edge.length() == pytest.approx(230, abs=3)


def test_cutting_lines_follow_the_fold() -> None:
    edge, (made,) = darted("waist", STRAIGHT, [dart(150)])
    rest = Edge("rest", polyline(300, 300 + 200j, 200j, 0))
    (line,) = cut_loops(Flat(((edge, rest),), (10j, 90j), (made,)), {"waist": 10, "rest": 10})
    # The highest point of the line lies on the fold, farther out than the allowance.
    top = min(line.points(), key=lambda p: p.imag)
    assert abs(cross(top - made.point, made.peak - made.point)) < 1
    assert 10 <= abs(top - made.peak) < 11


@pytest.mark.parametrize(
    ("rules", "what"),
    [
        ([dart(150, 300)], "takes 300 mm out of edge “waist”, which is only 300 mm long"),
        ([dart(20)], "lies 5 mm from the end of edge “waist”, and its fold needs 16 mm"),
        ([dart(5)], "lies 0 mm from the end"),
        ([dart(140), dart(160)], "overlap by 10 mm"),
        ([dart(140), dart(175)], "leave 5 mm between them"),
        ([dart(150, 60, 10)], "so wide for its depth that it opens by"),
        ([dart(150, 0.2)], "The width of dart “dart at 150” comes to 0.2 mm"),
        ([dart(150, 30, -90)], "The depth of dart “dart at 150” comes to −90 mm"),
        ([replace(dart(150), depth=None, point=150 - 50j)], "can't be shut"),
        ([replace(dart(150), depth=None, point=150 + 0j)], "can't be shut"),
    ],
)
def test_a_dart_without_room_is_refused_with_the_numbers(rules: list[DartRule], what: str) -> None:
    with pytest.raises(Refusal) as caught:
        darted("waist", STRAIGHT, rules)
    assert what in caught.value.what
    assert caught.value.remedy.endswith(".")


def test_a_dart_deeper_than_its_piece_is_refused_with_the_depth_there_is() -> None:
    edge, made = darted("waist", STRAIGHT, [dart(150, depth=120)])
    rest = Edge("hem", polyline(300, 300 + 100j, 100j, 0))
    with pytest.raises(Refusal, match=r"meets edge “hem” after 10\d"):
        check_room(((edge, rest),), made)


def test_darts_that_cross_are_refused() -> None:
    leaning = [
        replace(dart(100), depth=None, point=200 + 90j),
        replace(dart(200), depth=None, point=100 + 90j),
    ]
    edge, made = darted("waist", STRAIGHT, leaning)
    with pytest.raises(Refusal, match="Darts “dart at 100” and “dart at 200” cross"):
        check_room(((edge,),), made)
