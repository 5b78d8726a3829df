"""Corners of an allowance that a recipe asks for: mitred, squared, turned back."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import affinity
from shapely.geometry import Polygon, box

from notchbook.drafting.allowance import cut_loops
from notchbook.drafting.engine import draft
from notchbook.drafting.geometry.path import Path, polyline
from notchbook.drafting.geometry.segments import Arc
from notchbook.drafting.geometry.vector import Point
from notchbook.problems import ContentError
from tests.drafting.test_allowance import area, corners, flat, sides
from tests.recipes import HAT, HEAD, recipe

SKIRT = sides(-100, 100, 160 + 300j, -160 + 300j)  # c is the hem, b and d flare out to it.


def folded(cut: Polygon, level: float = 300.0) -> Polygon:
    """What lies below the fold, folded up over it."""
    below = cut.intersection(box(-1e4, level, 1e4, 1e4))
    return affinity.scale(below, yfact=-1, origin=(0, level))


def under(cut: Polygon, depth: float, level: float = 300.0) -> Polygon:
    """The cloth that a hem this deep lies on."""
    return cut.intersection(box(-1e4, level - depth, 1e4, level))


def turned_back(piece: object, **allowance: float) -> Polygon:
    (loop,) = cut_loops(piece, allowance, {"c": "turned back"})  # type: ignore[arg-type]
    assert loop.area() > 0
    return area(loop)


@pytest.mark.parametrize("flare", [-60.0, -20.0, 0.0, 45.0, 90.0])
@pytest.mark.parametrize("side", [0.0, 12.0, -2.0])
def test_a_hem_turned_back_lies_flat_on_its_own_side(flare: float, side: float) -> None:
    piece = sides(-100, 100, 100 + flare + 300j, -100 - flare + 300j)
    cut = turned_back(piece, a=10, b=side, c=25, d=side)
    over = folded(cut)
    assert over.symmetric_difference(under(cut, 25)).area < 0.1


def test_a_mitred_hem_on_a_flare_does_not() -> None:
    (loop,) = cut_loops(SKIRT, {"a": 10, "b": 12, "c": 25, "d": 12}, {"c": "mitred"})
    cut = area(loop)
    assert folded(cut).symmetric_difference(under(cut, 25)).area > 50


@settings(deadline=None, max_examples=40)
@given(
    st.floats(-70, 70), st.floats(-70, 70), st.floats(0, 15), st.floats(4, 60), st.floats(-40, 40)
)
def test_every_slant_and_depth_folds_onto_itself(
    left: float, right: float, side: float, hem: float, top: float
) -> None:
    piece = sides(-150, 150 + top * 1j, 150 + right + 300j, -150 - left + 300j)
    cut = turned_back(piece, a=10, b=side, c=hem, d=side)
    assert folded(cut).symmetric_difference(under(cut, hem)).area < 0.1


def test_a_curved_side_is_mirrored_as_a_curve() -> None:
    bow = Arc(complex(-500, 300), 600, math.asin(-0.5), math.asin(0.5))
    bottom, left = complex(-100, 300), complex(-100, 0)
    around = [
        ("a", polyline(left, bow.start)),
        ("b", Path((bow,))),
        ("c", polyline(bow.end, bottom)),
        ("d", polyline(bottom, left)),
    ]
    piece = flat(around)
    cut = turned_back(piece, a=10, b=12, c=40, d=12)
    assert folded(cut).symmetric_difference(under(cut, 40)).area < 0.5


def test_two_hems_that_meet_are_mitred() -> None:
    square = sides(0, 100, 100 + 100j, 100j)
    both = {"b": "turned back", "c": "turned back"}
    (loop,) = cut_loops(square, {"a": 5, "b": 20, "c": 20, "d": 5}, both)
    assert any(abs(corner - (120 + 120j)) < 1e-6 for corner in corners(loop))


def test_a_squared_corner_is_cut_off_however_short_it_is() -> None:
    square = sides(0, 100, 100 + 100j, 100j)
    (loop,) = cut_loops(square, dict.fromkeys("abcd", 10.0), {"c": "squared"})
    beyond = [corner for corner in corners(loop) if corner.real > 100 and corner.imag > 100]
    out: Point = (1 + 1j) / math.sqrt(2)
    reached = [((corner - (100 + 100j)) * out.conjugate()).real for corner in beyond]
    assert reached == pytest.approx([10, 10]), "where the mitre would reach 14"


def test_a_mitre_that_is_asked_for_is_kept_however_long() -> None:
    spike = sides(0, 200, 400j)
    (cut_off,) = cut_loops(spike, dict.fromkeys("abc", 10.0))
    (whole,) = cut_loops(spike, dict.fromkeys("abc", 10.0), {"c": "mitred"})
    assert whole.area() >= cut_off.area()
    assert len(whole.segments) < len(cut_off.segments)


def test_a_recipe_asks_for_a_corner_beside_the_width() -> None:
    front = (HEAD + HAT).replace(
        "shape: cone,", "shape: cone, allowance: {rim: {width: 25 mm, corner: turned back}},"
    )
    made = recipe(front)
    crown, plain = draft(made, made.sizes[0]).pieces["crown"], draft(recipe(), recipe().sizes[0])
    assert crown.cut_lines[0].allowance["rim"] == 25.0
    assert crown.cut_lines[0].allowance["left"] == 12.0
    assert crown.cut_lines[0].loops != plain.pieces["crown"].cut_lines[0].loops


@pytest.mark.parametrize(
    ("given_", "says", "remedy"),
    [
        ("{rim: {width: 25 mm, corner: turned}}", "“turned”", "turned back"),
        ("{rim: {corner: squared}}", "width", "25 mm"),
        ("{rim: {width: 25 mm, corners: squared}}", "corners", "corner"),
    ],
)
def test_a_corner_that_is_none_is_told(given_: str, says: str, remedy: str) -> None:
    front = (HEAD + HAT).replace("shape: cone,", f"shape: cone, allowance: {given_},")
    with pytest.raises(ContentError) as caught:
        recipe(front)
    (problem,) = caught.value.problems
    assert says in problem.what
    assert remedy in problem.remedy
