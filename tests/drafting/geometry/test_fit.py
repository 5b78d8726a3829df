"""Curves laid along a formula or through points."""

from __future__ import annotations

import cmath
import math
from itertools import pairwise

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from notchbook.drafting.geometry.fit import fit, through
from notchbook.drafting.geometry.path import Path
from notchbook.drafting.geometry.segments import Cubic, Line
from notchbook.drafting.geometry.vector import unit
from tests.drafting.geometry.any import directions, ellipse, points


def strays(path: Path, a: float, b: float) -> float:
    """How far a path strays from an ellipse at most: the residue of its equation over the slope of
    it (first order, fair for a small miss)."""
    worst = 0.0
    for segment in path.segments:
        for k in range(101):
            p = segment.point(k / 100)
            residue = (p.real / a) ** 2 + (p.imag / b) ** 2 - 1
            slope = 2 * abs(complex(p.real / a**2, p.imag / b**2))
            worst = max(worst, abs(residue) / slope)
    return worst


@example(5.0, 0.34375, 0.001)
@settings(deadline=None, max_examples=30)
@given(st.floats(5, 1000), st.floats(0.3, 3), st.sampled_from([0.01, 0.001]))
def test_an_ellipse_is_followed_within_the_tolerance(
    a: float, ratio: float, tolerance: float
) -> None:
    path = ellipse(a, a * ratio, tolerance)
    assert path.closed
    assert strays(path, a, a * ratio) <= tolerance * 1.01


def test_an_oval_takes_eight_pieces() -> None:
    path = ellipse(103.2, 79.4, 0.01)
    assert len(path.segments) == 8
    assert strays(path, 103.2, 79.4) < 0.001


def wave(t: float) -> tuple[complex, complex]:
    """Bends both ways."""
    return t * 100 + 30j * math.sin(t), 100 + 30j * math.cos(t)


def test_pieces_join_smoothly() -> None:
    path = fit(wave, 0.0, 12.0)
    for a, b in pairwise(path.segments):
        assert a.end == b.start
        assert a.tangent(1) == pytest.approx(b.tangent(0), abs=1e-9)
    assert path.start == 0
    assert path.end == pytest.approx(1200 + 30j * math.sin(12))


def test_a_curve_that_bends_both_ways_is_followed_too() -> None:
    for segment in fit(wave, 0.0, 12.0, 0.005).segments:
        for k in range(21):
            p = segment.point(k / 20)
            assert p.imag == pytest.approx(30 * math.sin(p.real / 100), abs=0.006)


def test_a_curve_may_be_followed_backwards() -> None:
    back = fit(wave, 12.0, 0.0)
    assert back.start == pytest.approx(wave(12.0)[0])
    assert back.length() == pytest.approx(fit(wave, 0.0, 12.0).length(), abs=0.01)


def test_a_curve_that_jumps_is_refused() -> None:
    with pytest.raises(ValueError, match="corner or a cusp"):
        fit(lambda t: (complex(t, 10 if t > 0 else 0), 1 + 0j), -1.0, 2.0)


spread = st.lists(points, min_size=3, max_size=8).filter(
    lambda found: all(abs(a - b) > 5 for a, b in pairwise((*found, found[0])))
)


def slant(segment: Cubic, t: float) -> complex:
    """The derivative over the chord's length."""
    return segment.derivative(t) / abs(segment.end - segment.start)


def bend(segment: Cubic, t: float) -> complex:
    """The second derivative over the chord's length."""
    return segment.second(t) / abs(segment.end - segment.start) ** 2


@settings(deadline=None, max_examples=30)
@given(spread, st.booleans())
def test_a_curve_passes_through_its_points_and_turns_evenly(
    given_points: list[complex], closed: bool
) -> None:
    path = through(given_points, closed=closed)
    assert path.closed == closed
    assert [segment.start for segment in path.segments] == given_points[: len(path.segments)]
    joins = list(pairwise(path.segments))
    if closed:
        joins.append((path.segments[-1], path.segments[0]))
    for a, b in joins:
        assert isinstance(a, Cubic)
        assert isinstance(b, Cubic)
        assert slant(a, 1) == pytest.approx(slant(b, 0), abs=1e-6)
        assert bend(a, 1) == pytest.approx(bend(b, 0), abs=1e-6)


@settings(deadline=None, max_examples=30)
@given(spread, directions, directions)
def test_a_curve_leaves_and_arrives_as_told(
    given_points: list[complex], start: complex, end: complex
) -> None:
    path = through(given_points, start_tangent=start * 7, end_tangent=end)
    assert path.segments[0].tangent(0) == pytest.approx(start, abs=1e-6)
    assert path.segments[-1].tangent(1) == pytest.approx(end, abs=1e-6)


def test_free_ends_do_not_bend() -> None:
    first, *_, last = through([0, 100 + 10j, 200 - 30j, 300]).segments
    assert isinstance(first, Cubic)
    assert isinstance(last, Cubic)
    assert bend(first, 0) == pytest.approx(0, abs=1e-9)
    assert bend(last, 1) == pytest.approx(0, abs=1e-9)


def test_points_on_a_circle_come_close_to_it() -> None:
    path = through([cmath.rect(100, math.tau * k / 12) for k in range(12)], closed=True)
    assert path.length() == pytest.approx(math.tau * 100, abs=0.1)


def test_two_points_give_a_straight_line() -> None:
    assert through([0, 30 + 40j]).segments == (Line(0, 30 + 40j),)
    (curve,) = through([0, 100], start_tangent=1j).segments
    assert curve.tangent(0) == pytest.approx(unit(1j))


@pytest.mark.parametrize(
    ("given_points", "closed", "what"),
    [
        ([1j], False, "A curve needs two points at least."),
        ([0, 1j], True, "A closed curve needs three points at least."),
        ([0, 1j, 1j], False, "Points 2 and 3 of the curve are the same point."),
    ],
)
def test_too_few_points_are_refused(given_points: list[complex], closed: bool, what: str) -> None:
    with pytest.raises(ValueError, match=what):
        through(given_points, closed=closed)
