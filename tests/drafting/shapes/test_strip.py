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


@settings(deadline=None, max_examples=12)
@given(
    st.floats(100, 9000), st.floats(5, 80), st.integers(1, 9), st.sampled_from(["bias", "across"])
)
def test_a_joined_one_is_as_long_as_asked(
    length: float, width: float, parts: int, grain: str
) -> None:
    shape = draft(length=length, width=width, grain=Word(grain), parts=parts)
    check(shape)
    for edge in ("top", "bottom"):
        assert parts * shape.flat.edges[edge].path.length() == pytest.approx(length)
    left, right = (shape.flat.edges[edge].path.length() for edge in ("left", "right"))
    assert left == pytest.approx(right)
    assert parts * shape.flat.outline()[0].area() == pytest.approx(length * width)


def test_joins_on_the_bias_run_along_the_grain_and_others_straight_across() -> None:
    flat = draft(length=3000, width=40, grain=Word("bias"), parts=3).flat
    start, end = flat.grain
    for path in (flat.edges["right"].path, flat.edges["left"].path.reversed()):
        assert cmath.phase((path.end - path.start) / (end - start)) == pytest.approx(0)
    square = draft(length=3000, width=40, parts=3).flat.edges["right"].path
    assert (square.end - square.start).real == 0


def test_one_longer_than_the_cloth_says_in_how_many_parts_it_goes() -> None:
    with pytest.raises(
        Refusal, match="3000 mm long, tip to tip, and the cloth gives 1400"
    ) as refused:
        draft(length=3000, width=40, grain=Word("bias"), longest=1400)
    assert "“parts: 3”" in refused.value.remedy
    draft(length=3000, width=40, grain=Word("bias"), longest=1400, parts=3)
    # Slanted ends need room too.
    with pytest.raises(Refusal, match="1040 mm long"):
        draft(length=3000, width=40, grain=Word("bias"), longest=1000, parts=3)
    draft(length=3000, width=40, longest=1000, parts=3)


@pytest.mark.parametrize(
    ("given", "parameter"),
    [
        ({"parts": 0}, "parts"),
        ({"parts": 101}, "parts"),
        ({"length": 5.0, "parts": 6}, "parts"),
        ({"longest": 20.0, "grain": Word("bias")}, "longest"),
        ({"longest": 0.0}, "longest"),
    ],
)
def test_what_cant_be_joined_is_refused_by_name(given: dict[str, object], parameter: str) -> None:
    with pytest.raises(Refusal) as refused:
        draft(**{"length": 600.0, "width": 30.0, **given})  # type: ignore[arg-type]
    assert refused.value.parameter == parameter
    assert refused.value.what.endswith(".") and refused.value.remedy.endswith(".")
