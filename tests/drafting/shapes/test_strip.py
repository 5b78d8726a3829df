"""Strips: bands, ties and bindings."""

from __future__ import annotations

import cmath
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from notchbook.drafting.shape import Refusal, Word
from notchbook.drafting.shapes.strip import draft
from tests.drafting.shapes.follow import check


@settings(deadline=None, max_examples=12)
@given(st.floats(10, 3000), st.floats(5, 500), st.sampled_from(["straight", "across", "bias"]))
def test_flat_and_moves_are_one_thing(length: float, width: float, grain: str) -> None:
    shape = draft(length=length, width=width, grain=Word(grain))
    check(shape)
    for end in shape.flat.grain:
        assert 0 < end.real < length
        assert 0 < end.imag < width


@pytest.mark.parametrize(("grain", "degrees"), [("straight", 0), ("across", 90), ("bias", 45)])
def test_the_grain_runs_as_asked(grain: str, degrees: float) -> None:
    start, end = draft(length=600, width=30, grain=Word(grain)).flat.grain
    assert math.degrees(cmath.phase(end - start)) == pytest.approx(degrees)


def test_it_is_flat_and_nothing_in_it_is_closed() -> None:
    shape = draft(length=600, width=30)
    assert shape.form is None
    assert not any(edge.round for edge in shape.flat.edges.values())


def test_an_unknown_grain_is_refused_with_the_nearest_one() -> None:
    with pytest.raises(Refusal) as refused:
        draft(length=600, width=30, grain=Word("bais"))
    assert refused.value.parameter == "grain"
    assert refused.value.remedy == "Did you mean “bias”?"
