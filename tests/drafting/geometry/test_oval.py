"""Ovals: axes from girth and ratio, and the fit with cubics."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.special import ellipe

from notchbook.drafting.geometry.oval import axes, oval, perimeter

LENGTHS = st.floats(1, 3000)
RATIOS = st.floats(1 / 3, 3)


@given(st.floats(0.01, 1e4), st.floats(0.01, 1e4))
def test_the_perimeter_is_that_of_the_elliptic_integral(a: float, b: float) -> None:
    longer, shorter = max(a, b), min(a, b)
    # scipy's ellipe takes the square of the eccentricity.
    known = 4 * longer * float(ellipe(1 - (shorter / longer) ** 2))
    assert perimeter(a, b) == pytest.approx(known, rel=1e-12)


@given(st.floats(1, 2e4), RATIOS)
def test_axes_have_the_girth_and_the_ratio_asked_for(girth: float, ratio: float) -> None:
    a, b = axes(girth, ratio)
    assert perimeter(a, b) == pytest.approx(girth, rel=1e-12)
    assert a / b == pytest.approx(ratio, rel=1e-12)


def miss(a: float, b: float) -> float:
    """The fit's farthest point from the ellipse, mm, sampled finely: |f| ÷ |grad f| of
    f = (x/b)² + (y/a)² − 1 is the distance to first order, far closer than needed here."""
    worst = 0.0
    for piece in oval(0, a, b).segments:
        for k in range(201):
            p = piece.point(k / 200)
            level = (p.real / b) ** 2 + (p.imag / a) ** 2 - 1
            slope = math.hypot(2 * p.real / b**2, 2 * p.imag / a**2)
            worst = max(worst, abs(level) / slope)
    return worst


@settings(deadline=None, max_examples=20)
@given(LENGTHS, RATIOS)
def test_the_fit_stays_within_two_hundredths_of_a_millimetre(a: float, ratio: float) -> None:
    b = a / ratio
    assert miss(a, b) < 4.3e-6 * max(a, b) < 0.02 * max(a, b, 3000) / 3000


def test_a_hats_opening_is_fitted_to_half_a_thousandth_of_a_millimetre() -> None:
    assert miss(103.2, 79.4) < 0.0005


@settings(deadline=None, max_examples=20)
@given(LENGTHS, RATIOS)
def test_the_fit_is_as_long_as_the_ellipse(a: float, ratio: float) -> None:
    path = oval(0, a, a / ratio)
    assert path.length() == pytest.approx(perimeter(a, a / ratio), rel=1e-9)


@settings(deadline=None, max_examples=20)
@given(LENGTHS, RATIOS)
def test_it_runs_clockwise_from_the_end_down_the_page_and_closes(a: float, ratio: float) -> None:
    path = oval(50 + 20j, a, a / ratio)
    assert path.area() == pytest.approx(math.pi * a * a / ratio, rel=1e-5)
    assert path.start.real == pytest.approx(50, abs=1e-6)
    assert path.start.imag == pytest.approx(20 + a, rel=1e-5)
    assert abs(path.end - path.start) < 1e-9 * a


@settings(deadline=None, max_examples=20)
@given(LENGTHS, RATIOS)
def test_its_quarters_are_alike(a: float, ratio: float) -> None:
    points = [piece.start for piece in oval(0, a, a / ratio).segments]
    for p in points:
        for twin in (-p, p.conjugate(), -p.conjugate()):
            assert min(abs(q - twin) for q in points) < 1e-9 * max(a, a / ratio)


@settings(deadline=None, max_examples=20)
@given(LENGTHS, RATIOS)
def test_pieces_join_smoothly(a: float, ratio: float) -> None:
    segments = oval(0, a, a / ratio).segments
    for before, after in zip((segments[-1], *segments[:-1]), segments, strict=True):
        assert abs(before.end - after.start) < 1e-9 * a
        assert abs(before.tangent(1) - after.tangent(0)) < 1e-9
