"""Discs: round and oval tips and bottoms."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from notchbook.drafting.geometry.box import bounds
from notchbook.drafting.geometry.segments import Arc
from notchbook.drafting.moves import Loop
from notchbook.drafting.shape import Refusal
from notchbook.drafting.shapes.disc import draft
from tests.drafting.shapes.follow import check


@settings(deadline=None, max_examples=12)
@given(st.floats(20, 3000), st.one_of(st.just(1.0), st.floats(0.34, 3)))
def test_flat_form_and_moves_are_one_thing(girth: float, oval: float) -> None:
    shape = draft(girth=girth, oval=oval)
    check(shape)
    assert shape.flat.edges["edge"].path.length() == pytest.approx(girth, rel=1e-9)


def test_a_round_one_is_exact_arcs_from_centre_back() -> None:
    edge = draft(girth=400).flat.edges["edge"]
    assert edge.round
    assert all(isinstance(segment, Arc) for segment in edge.path.segments)
    assert abs(edge.path.start - 400j / math.tau) < 1e-9


def test_across_is_from_side_to_side() -> None:
    box = bounds((draft(across=160, oval=1.25).flat.edges["edge"].path,))
    assert box.width == pytest.approx(160, abs=0.005)
    assert box.height == pytest.approx(200, abs=0.005)


def test_a_wide_oval_has_its_pins_side_by_side() -> None:
    shape = draft(girth=600, oval=0.7)
    [loop] = [move for move in shape.moves if isinstance(move, Loop)]
    assert loop.along == 1
    check(shape)


@pytest.mark.parametrize(
    ("given", "parameter"),
    [
        ({}, "girth"),
        ({"girth": 400.0, "across": 100.0}, "across"),
        ({"girth": 0.0}, "girth"),
        ({"across": 1e9}, "across"),
        ({"girth": 400.0, "oval": -1.0}, "oval"),
    ],
)
def test_what_is_no_disc_is_refused_by_name(given: dict[str, float], parameter: str) -> None:
    with pytest.raises(Refusal) as refused:
        draft(**given)
    assert refused.value.parameter == parameter


def test_length_and_breadth_are_its_own_or_beside_a_girth_its_ratio() -> None:
    box = bounds((draft(length=206.4, breadth=158.8).flat.edges["edge"].path,))
    assert (box.width, box.height) == pytest.approx((158.8, 206.4), abs=0.005)
    by_girth = draft(girth=600, length=200, breadth=160).flat
    assert by_girth == draft(girth=600, oval=1.25).flat
