"""Lengths and areas of any segment against general-purpose libraries: scipy integrates, and
svgpathtools reads our path data."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from scipy.integrate import quad
from svgpathtools import parse_path

from notchbook.composing.markup.svg import path_data
from notchbook.drafting.geometry.segments import Cubic, Segment
from notchbook.drafting.geometry.vector import cross
from tests.drafting.geometry.any import cubics, path_of, segments

few = settings(deadline=None, max_examples=25)


@few
@given(segments)
def test_svgpathtools_finds_the_same_length_in_our_path_data(segment: Segment) -> None:
    """Path data is rounded to 1e-4 mm."""
    seen = parse_path(path_data(path_of(segment)))
    assert segment.length() == pytest.approx(seen.length(error=1e-9), abs=0.002)


@few
@given(cubics)
def test_scipy_integrates_a_curve_to_the_same_length(cubic: Cubic) -> None:
    known, _ = quad(lambda t: abs(cubic.derivative(t)), 0, 1, epsabs=1e-10, limit=200)
    assert cubic.length() == pytest.approx(known, abs=1e-6)


@few
@given(segments)
def test_scipy_integrates_a_segment_to_the_same_area(segment: Segment) -> None:
    """Green's theorem: ½ ∫ (x dy − y dx)."""
    step = 1e-6

    def sweep(t: float) -> float:
        speed = (segment.point(t + step) - segment.point(t - step)) / (2 * step)
        return cross(segment.point(t), speed) / 2

    known, _ = quad(sweep, 0, 1, epsabs=1e-6, limit=200)
    assert segment.area() == pytest.approx(known, rel=1e-6, abs=1e-3)
