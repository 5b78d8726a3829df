"""Arcs through three points, and their cubics."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from notchbook.drafting.geometry.arcs import arc_through, as_cubics
from notchbook.drafting.geometry.path import Path
from notchbook.drafting.geometry.segments import Arc


@settings(deadline=None, max_examples=60)
@given(
    radius=st.floats(1, 1000),
    begin=st.floats(-math.pi, math.pi),
    sweep=st.one_of(st.floats(0.2, 6), st.floats(-6, -0.2)),
)
def test_three_points_of_an_arc_give_it_back(radius: float, begin: float, sweep: float) -> None:
    arc = Arc(30 - 20j, radius, begin, sweep)
    found = arc_through(arc.start, arc.point(0.4), arc.end)
    assert found is not None
    assert found.centre == pytest.approx(arc.centre, abs=1e-6 * radius)
    assert found.radius == pytest.approx(radius)
    assert found.sweep == pytest.approx(sweep)
    path = Path(tuple(as_cubics(arc)))
    assert abs(path.start - arc.start) < 1e-9 * radius
    assert abs(path.end - arc.end) < 1e-9 * radius
    assert path.length() == pytest.approx(arc.length(), rel=1e-6)
    for segment in path.segments:
        for k in range(9):
            assert abs(segment.point(k / 8) - arc.centre) == pytest.approx(radius, rel=1e-7)


@pytest.mark.parametrize("points", [(0j, 50 + 0j, 100 + 0j), (0j, 0j, 100 + 0j), (0j, 9j, 0j)])
def test_points_on_a_line_or_on_each_other_make_none(points: tuple[complex, ...]) -> None:
    assert arc_through(*points) is None
