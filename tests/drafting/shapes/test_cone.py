"""Cones: whole, kept short, or cut off at a given top."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from notchbook.drafting.geometry.path import Arc
from notchbook.drafting.shape import Refusal, Shape
from notchbook.drafting.shapes.cone import draft
from tests.drafting.shapes.follow import check


def lengths(shape: Shape) -> dict[str, float]:
    return {name: edge.path.length() for name, edge in shape.flat.edges.items()}


@settings(deadline=None, max_examples=15)
@given(st.floats(100, 3000), st.floats(0.25, 8))
def test_whole_ones_agree(rim: float, steepness: float) -> None:
    check(draft(rim=rim, height=rim / math.tau * steepness))


@settings(deadline=None, max_examples=15)
@given(st.floats(100, 3000), st.floats(1.1, 8), st.floats(0.1, 0.9))
def test_ones_kept_short_agree(rim: float, steepness: float, share: float) -> None:
    slant = rim / math.tau * steepness
    check(draft(rim=rim, slant=slant, keep=share * slant))


@settings(deadline=None, max_examples=15)
@given(st.floats(100, 3000), st.floats(0.25, 8), st.floats(0.05, 0.98))
def test_ones_cut_off_at_a_top_agree(rim: float, steepness: float, share: float) -> None:
    shape = draft(rim=rim, height=rim / math.tau * steepness, top=share * rim)
    check(shape)
    assert lengths(shape)["top"] == pytest.approx(share * rim, rel=1e-9)


def test_the_rim_is_as_long_as_asked_and_both_seam_edges_are_the_slant() -> None:
    made = lengths(draft(rim=600, height=450))
    slant = math.hypot(450, 600 / math.tau)
    assert made == pytest.approx({"right": slant, "rim": 600, "left": slant}, rel=1e-12)


def test_height_and_slant_are_two_ways_to_say_the_same() -> None:
    slant = math.hypot(450, 600 / math.tau)
    assert lengths(draft(rim=600, height=450)) == lengths(draft(rim=600, slant=slant))


def test_keep_measures_from_the_rim_along_the_cloth() -> None:
    slant = math.hypot(450, 600 / math.tau)
    made = lengths(draft(rim=600, height=450, keep=140))
    assert made["left"] == pytest.approx(140)
    assert made["right"] == pytest.approx(140)
    assert made["rim"] == pytest.approx(600)
    assert made["top"] == pytest.approx(600 * (slant - 140) / slant)


def test_the_height_of_one_cut_off_is_that_of_the_finished_piece() -> None:
    form = draft(rim=600, height=80, top=500).form
    assert form is not None
    assert form.edges["top"].height == pytest.approx(80)  # type: ignore[union-attr]
    slant = math.hypot(80, 100 / math.tau)
    assert lengths(draft(rim=600, height=80, top=500))["left"] == pytest.approx(slant)


def test_what_is_kept_and_what_is_left_fill_the_whole() -> None:
    whole = draft(rim=600, height=450)
    kept = draft(rim=600, height=450, keep=140)
    rest = draft(rim=lengths(kept)["top"], slant=lengths(whole)["left"] - 140)
    assert whole.form and kept.form and rest.form
    assert kept.form.volume + rest.form.volume == pytest.approx(whole.form.volume)


def test_the_seam_is_at_centre_back_and_the_grain_down_centre_front() -> None:
    shape = draft(rim=600, height=450)
    start, end = shape.flat.grain
    assert start.real == pytest.approx(0) and end.real == pytest.approx(0)
    assert 0 < start.imag < end.imag < lengths(shape)["left"]
    left, right = shape.flat.edges["left"].path, shape.flat.edges["right"].path
    assert left.start.real == pytest.approx(-right.end.real)
    assert shape.form and shape.form.seam == ("left", "right")


def test_wide_sectors_are_split_into_arcs_of_half_a_circle_at_most() -> None:
    shape = draft(rim=600, slant=110)
    rim = shape.flat.edges["rim"].path
    assert len(rim.segments) == 2
    assert all(isinstance(arc, Arc) and abs(arc.sweep) <= math.pi for arc in rim.segments)
    check(shape)


@settings(deadline=None)
@given(st.floats(100, 3000), st.floats(1, 350))
def test_a_rim_outruns_its_slant_beyond_350_degrees(rim: float, past: float) -> None:
    with pytest.raises(Refusal) as refused:
        draft(rim=rim, slant=rim / math.radians(350 + past))
    assert refused.value.parameter == "rim"
    assert "outruns its slant" in refused.value.what


def test_the_slant_that_the_remedy_names_is_enough() -> None:
    with pytest.raises(Refusal, match="600 mm outruns its slant of 90 mm") as refused:
        draft(rim=600, slant=90)
    assert "a slant of 99 mm or more" in refused.value.remedy
    draft(rim=600, slant=99)


@pytest.mark.parametrize(
    ("given", "parameter"),
    [
        ({}, "height"),
        ({"height": 300.0, "slant": 400.0}, "slant"),
        ({"height": 300.0, "keep": 100.0, "top": 100.0}, "keep"),
        ({"slant": 300.0, "keep": 300.0}, "keep"),
        ({"slant": 300.0, "keep": 900.0}, "keep"),
        ({"height": 300.0, "top": 600.0}, "top"),
        ({"height": 300.0, "top": 900.0}, "top"),
        ({"height": -300.0}, "height"),
        ({"height": 5.0}, "rim"),
        ({"slant": math.nan}, "slant"),
    ],
)
def test_what_is_no_cone_is_refused_by_name(given: dict[str, float], parameter: str) -> None:
    with pytest.raises(Refusal) as refused:
        draft(rim=600, **given)
    assert refused.value.parameter == parameter
    assert refused.value.what.endswith(".") and refused.value.remedy.endswith(".")
