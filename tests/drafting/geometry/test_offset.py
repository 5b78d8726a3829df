"""Parallels: exact for lines and arcs, true to 0.005 mm for curves, refused where they can't be."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from notchbook.drafting.geometry.offset import TOLERANCE, offset
from notchbook.drafting.geometry.path import Path, circle
from notchbook.drafting.geometry.segments import Arc, Cubic, Line, Segment
from notchbook.drafting.geometry.vector import cross, unit
from tests.drafting.geometry.any import convex, cubics, ellipse, path_of, segments, stadium

few = settings(deadline=None, max_examples=30)


def tightest(cubic: Cubic) -> float:
    """The largest curvature, either way (1/mm)."""
    return max(
        abs(cross(cubic.derivative(t), cubic.second(t))) / abs(cubic.derivative(t)) ** 3
        for t in (k / 200 for k in range(201))
    )


def test_outwards_is_to_the_left_of_travel() -> None:
    (line,) = offset(path_of(Line(0, 100)), 12).segments
    assert line == Line(-12j, 100 - 12j)
    (arc,) = offset(path_of(Arc(0j, 100, 0, 1)), 12).segments
    assert arc == Arc(0j, 112, 0, 1)
    (arc,) = offset(path_of(Arc(0j, 100, 0, -1)), 12).segments
    assert arc == Arc(0j, 88, 0, -1)


@few
@given(cubics, st.floats(-60, 60))
def test_every_point_of_a_parallel_is_as_far_away_as_asked(cubic: Cubic, distance: float) -> None:
    if abs(distance) * tightest(cubic) > 0.9:
        return
    seen = [cubic.point(k / 4000) for k in range(4001)]
    for segment in offset(path_of(cubic), distance).segments:
        for t in (0.1, 0.3, 0.7, 0.9):
            nearest = min(abs(segment.point(t) - p) for p in seen)
            assert nearest == pytest.approx(abs(distance), abs=TOLERANCE + 0.01)


@few
@given(cubics, st.floats(-60, 60))
def test_a_parallel_leaves_and_arrives_in_the_same_direction(cubic: Cubic, distance: float) -> None:
    if abs(distance) * tightest(cubic) > 0.9:
        return
    found = offset(path_of(cubic), distance)
    assert found.segments[0].tangent(0) == pytest.approx(cubic.tangent(0), abs=1e-6)
    assert found.segments[-1].tangent(1) == pytest.approx(cubic.tangent(1), abs=1e-6)
    assert found.start == pytest.approx(cubic.start + cubic.tangent(0) * -1j * distance, abs=1e-9)


@few
@given(convex, st.floats(0.5, 150))
def test_out_and_back_is_where_it_was(path: Path, distance: float) -> None:
    back = offset(offset(path, distance), -distance)
    assert back.closed
    assert back.length() == pytest.approx(path.length(), abs=0.02)
    assert back.area() == pytest.approx(path.area(), abs=0.02 * path.length())


@few
@given(convex, st.floats(0.5, 150))
def test_the_parallel_of_the_way_back_lies_on_the_other_side(path: Path, distance: float) -> None:
    outside, inside = offset(path, distance), offset(path.reversed(), -distance)
    assert outside.length() == pytest.approx(inside.length(), abs=0.01)
    assert outside.area() == pytest.approx(-inside.area(), abs=0.01 * path.length())


@given(segments)
def test_no_distance_changes_nothing(segment: Segment) -> None:
    assert offset(path_of(segment), 0) == path_of(segment)


def test_smooth_joins_stay_joined() -> None:
    for path in (stadium(100, 40), ellipse(100, 80)):
        found = offset(path, 15).segments
        for a, b in zip(found, (*found[1:], found[0]), strict=True):
            assert abs(a.end - b.start) < 1e-9


def test_an_oval_needs_few_pieces() -> None:
    oval = ellipse(103.2, 79.4, 0.01)
    assert len(offset(oval, 12).segments) <= 12
    assert len(offset(offset(oval, 150), 12).segments) <= 16


@pytest.mark.parametrize("path", [circle(0, 50), circle(0, 50, 0, -math.tau).reversed()])
def test_an_arc_that_would_turn_inside_out_is_refused(path: Path) -> None:
    with pytest.raises(ValueError, match=r"radius of 50\.0 mm, too tight for a parallel 50\.0 mm"):
        offset(path, -50)
    assert offset(path, -49).length() == pytest.approx(math.tau)


def test_a_curve_that_would_turn_inside_out_is_refused() -> None:
    # The ends of the long axis have radius b² ÷ a = 61.1 mm.
    with pytest.raises(ValueError, match="too tight for a parallel"):
        offset(ellipse(103.2, 79.4), -65)
    assert offset(ellipse(103.2, 79.4), -58).area() > 0


def test_a_curve_with_a_cusp_is_refused_in_a_sentence() -> None:
    with pytest.raises(ValueError, match=r"^[A-Z].*\.$"):
        offset(path_of(Cubic(0, 100 + 100j, 100j, 100)), 30)


def test_a_straight_cubic_has_a_straight_parallel() -> None:
    (found,) = offset(path_of(Cubic(0, 30, 60, 90)), 10).segments
    assert found.point(0.4).imag == pytest.approx(-10)
    assert found.tangent(0.5) == pytest.approx(unit(1 + 0j))
