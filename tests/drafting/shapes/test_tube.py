"""Tubes: rectangles sewn round."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from notchbook.drafting.shape import Level, Refusal
from notchbook.drafting.shapes.tube import draft
from tests.drafting.shapes.follow import check


@settings(deadline=None, max_examples=12)
@given(st.floats(10, 3000), st.floats(10, 3000))
def test_flat_form_and_moves_are_one_thing(girth: float, height: float) -> None:
    check(draft(girth=girth, height=height))


def test_it_encloses_a_cylinder() -> None:
    form = draft(girth=math.tau * 100, height=300).form
    assert form is not None
    assert form.volume == pytest.approx(math.pi * 100**2 * 300)
    top = form.edges["top"]
    assert isinstance(top, Level) and top.height == 300


def test_top_and_bottom_are_round_and_the_seam_is_not() -> None:
    edges = draft(girth=570, height=100).flat.edges
    assert {name for name, edge in edges.items() if edge.round} == {"top", "bottom"}


@pytest.mark.parametrize("wrong", [{"girth": 0.0}, {"height": -1.0}, {"height": math.inf}])
def test_what_cant_be_cut_is_refused_by_name(wrong: dict[str, float]) -> None:
    with pytest.raises(Refusal) as refused:
        draft(**{"girth": 570.0, "height": 100.0, **wrong})
    assert refused.value.parameter == next(iter(wrong))


def test_an_oval_one_is_cut_the_same_and_holds_less() -> None:
    round_, oval = draft(girth=570, height=100), draft(girth=570, height=100, oval=1.3)
    check(oval)
    assert oval.flat == round_.flat
    assert draft(girth=570, height=100, length=195, breadth=150) == oval
    assert round_.form and oval.form
    assert oval.form.volume == pytest.approx(math.pi * 102.1 * 78.6 * 100, rel=1e-3)
