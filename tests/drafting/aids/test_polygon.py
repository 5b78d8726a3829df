"""Polygons with equal sides on an ellipse."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from notchbook.drafting.aids.polygon import polygon


@settings(deadline=None, max_examples=60)
@given(count=st.integers(3, 100), ratio=st.floats(1 / 3, 3))
def test_sides_are_equal_corners_on_the_ellipse_and_the_girth_that_of_the_circle(
    count: int, ratio: float
) -> None:
    corners = polygon(count, ratio)
    sides = [abs(b - a) for a, b in pairwise(corners)]
    assert len(sides) == count
    assert sides == pytest.approx([math.tau / count] * count, rel=1e-9)
    half = {math.hypot(corner.real, corner.imag / ratio) for corner in corners}
    assert max(half) == pytest.approx(min(half), rel=1e-9)
    assert abs(corners[0] - corners[-1]) < 1e-9


def test_it_starts_at_centre_back_and_goes_round_by_the_left() -> None:
    corners = polygon(8, 1.29)
    assert corners[0].real == pytest.approx(0, abs=1e-12)
    assert corners[0].imag < 0
    assert corners[1].real < 0
    for a, b in zip(corners, reversed(corners), strict=True):
        assert complex(-b.real, b.imag) == pytest.approx(a)
