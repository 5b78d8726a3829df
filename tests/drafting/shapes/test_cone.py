"""Cones: whole, kept short, or cut off at a given top."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from notchbook.drafting.geometry.segments import Arc
from notchbook.drafting.shape import Level, Refusal, Shape
from notchbook.drafting.shapes.cone import draft
from tests.drafting.shapes.follow import check, check_flat, check_form


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


# Leaning and oval ones.

LEANING = {
    "rim": st.floats(200, 1500),
    "steepness": st.floats(0.8, 5),
    "share": st.floats(0.02, 1),
    "oval": st.one_of(st.just(1.0), st.floats(0.7, 1.6)),
    "towards": st.one_of(st.just(0.0), st.floats(0, math.tau)),
    "seam": st.one_of(st.just(0.0), st.floats(-math.pi, math.pi)),
}


@settings(deadline=None, max_examples=12)
@given(**LEANING)
def test_leaning_ones_agree(
    rim: float, steepness: float, share: float, oval: float, towards: float, seam: float
) -> None:
    height = rim / math.tau * steepness
    lean = max(share * min(height, rim / 5), 1)
    whole = draft(rim=rim, height=height, oval=oval, lean=lean, towards=towards, seam=seam)
    check(whole)
    keep = lengths(whole)["left"] / 2
    check(
        draft(rim=rim, height=height, oval=oval, lean=lean, towards=towards, seam=seam, keep=keep)
    )
    check(draft(rim=rim, height=height, oval=oval, lean=lean, towards=towards, top=rim / 2))


@settings(deadline=None, max_examples=10)
@given(**LEANING, k=st.floats(0.3, 4))
def test_everything_grows_in_proportion(
    rim: float, steepness: float, share: float, oval: float, towards: float, seam: float, k: float
) -> None:
    height = rim / math.tau * steepness
    lean = max(share * min(height, rim / 5), 4)
    ways = {"oval": oval, "towards": towards, "seam": seam}
    small = draft(rim=rim, height=height, lean=lean, **ways)
    large = draft(rim=k * rim, height=k * height, lean=k * lean, **ways)
    for edge, length in lengths(small).items():
        assert lengths(large)[edge] == pytest.approx(k * length, abs=0.02)
    area = small.flat.outline()[0].area()
    assert large.flat.outline()[0].area() == pytest.approx(k * k * area, rel=1e-5)
    assert small.form and large.form
    assert large.form.volume == pytest.approx(k**3 * small.form.volume)


@settings(deadline=None, max_examples=10)
@given(**LEANING)
def test_the_cloth_keeps_its_area(
    rim: float, steepness: float, share: float, oval: float, towards: float, seam: float
) -> None:
    height = rim / math.tau * steepness
    lean = max(share * min(height, rim / 5), 1)
    shape = draft(rim=rim, height=height, lean=lean, oval=oval, towards=towards, seam=seam)
    assert shape.form
    rim_in_space = shape.form.edges["rim"]
    assert isinstance(rim_in_space, Level)
    apex = np.array(shape.form.edges["right"].start)  # type: ignore[union-attr]
    rays = np.array([(p.real, p.imag, 0.0) for p in rim_in_space.path.points(1e-4)]) - apex
    triangles = np.linalg.norm(np.cross(rays[:-1], rays[1:]), axis=1) / 2
    assert shape.flat.outline()[0].area() == pytest.approx(triangles.sum(), rel=2e-5)


def test_one_that_leans_back_is_shortest_behind_and_alike_on_both_sides() -> None:
    shape = draft(rim=576, height=300, lean=60)
    made = lengths(shape)
    assert made["left"] == made["right"]
    assert made["left"] == pytest.approx(math.hypot(300, 576 / math.tau - 60), abs=0.001)
    front = max(abs(p) for p in shape.flat.edges["rim"].path.points(0.01))
    assert front == pytest.approx(math.hypot(300, 576 / math.tau + 60), abs=0.001)


def test_it_leans_where_it_is_told_clockwise_from_centre_back() -> None:
    for degrees, x, y in ((0, 0, -50), (90, -50, 0), (180, 0, 50), (270, 50, 0)):
        form = draft(rim=576, height=300, lean=50, towards=math.radians(degrees)).form
        assert form
        assert form.edges["right"].start == pytest.approx((x, y, 300))  # type: ignore[union-attr]


def test_the_seam_runs_down_where_it_is_told() -> None:
    for oval in (1.0, 1.3):
        form = draft(rim=576, height=300, oval=oval, seam=math.radians(90)).form
        assert form
        x, y, _ = form.edges["right"].end  # type: ignore[union-attr]
        assert x < -70 and y == pytest.approx(0)
        rim = form.edges["rim"]
        assert isinstance(rim, Level)
        # Clockwise from the wearer's left: next comes the front.
        assert rim.path.point_at(20).imag > 0


def test_a_slant_is_measured_at_the_seam() -> None:
    made = lengths(draft(rim=576, slant=300, lean=40, oval=1.3, towards=1, seam=2))
    assert made["left"] == pytest.approx(300)
    cut_off = lengths(draft(rim=576, slant=300, lean=40, oval=1.3, top=200))
    assert cut_off["left"] == pytest.approx(300)


def test_what_is_kept_is_cut_off_level_and_measured_at_the_seam() -> None:
    whole, kept = (draft(rim=576, height=300, lean=60, oval=1.2, **k) for k in ({}, {"keep": 100}))
    assert lengths(kept)["left"] == pytest.approx(100)
    slant = lengths(whole)["left"]
    assert lengths(kept)["top"] == pytest.approx(576 * (slant - 100) / slant, abs=0.01)
    assert kept.form and kept.form.edges["top"].height == pytest.approx(  # type: ignore[union-attr]
        300 * 100 / slant
    )


def test_the_lean_of_one_cut_off_is_that_of_its_top() -> None:
    form = draft(rim=576, height=120, lean=30, top=400).form
    assert form
    top = form.edges["top"]
    assert isinstance(top, Level) and top.height == pytest.approx(120)
    back, front = top.path.start, top.path.point_at(200)
    assert (back + front) / 2 == pytest.approx(-30j, abs=0.01)


def test_length_and_breadth_only_say_how_oval_the_rim_is() -> None:
    by_ratio = lengths(draft(rim=576, height=300, oval=1.25))
    assert lengths(draft(rim=576, height=300, length=200, breadth=160)) == by_ratio


@pytest.mark.parametrize(
    ("given", "parameter", "words"),
    [
        ({"lean": -20.0}, "lean", "nobody can cut"),
        ({"lean": 2000.0}, "lean", "doubles back"),
        ({"lean": math.nan}, "lean", "nobody can cut"),
        ({"towards": 9.0}, "towards", "more than a whole turn"),
        ({"seam": math.inf}, "seam", "more than a whole turn"),
        ({"height": 15.0, "oval": 1.3}, "rim", "no room for a seam"),
        ({"height": 15.0, "lean": 30.0}, "rim", "no room for a seam"),
        ({"oval": 1.3, "length": 200.0, "breadth": 150.0}, "oval", "ratio of their own"),
        ({"length": 200.0}, "length", "says nothing without"),
        ({"height": None, "slant": 80.0, "oval": 1.3}, "slant", "does not reach up"),
        ({"keep": 400.0, "lean": 30.0}, "keep", "whole slant"),
    ],
)
def test_what_cant_lean_is_refused_by_name(
    given: dict[str, float | None], parameter: str, words: str
) -> None:
    with pytest.raises(Refusal, match=words) as refused:
        draft(**{"rim": 576, "height": 300, **given})  # type: ignore[arg-type]
    assert refused.value.parameter == parameter
    assert refused.value.what.endswith(".") and refused.value.remedy.endswith(".")


@settings(deadline=None, max_examples=60)
@given(
    st.floats(20, 5000),
    st.floats(0.01, 3),
    st.floats(0.001, 3),
    st.floats(0.34, 2.99),
    st.floats(-6, 6),
    st.floats(-6, 6),
)
def test_any_cone_that_is_not_refused_is_a_piece_that_agrees_with_its_form(
    rim: float, steepness: float, share: float, oval: float, towards: float, seam: float
) -> None:
    try:
        shape = draft(
            rim=rim,
            height=max(rim * steepness / 3, 1),
            lean=max(rim * share / 3, 1),
            oval=oval,
            towards=towards,
            seam=seam,
        )
    except Refusal as refusal:
        assert refusal.parameter in ("lean", "rim")
    else:
        check_flat(shape)
        check_form(shape)
