"""Sectors: capes, circle skirts and collars."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from notchbook.drafting.shape import Curve, Refusal, Shape, Straight
from notchbook.drafting.shapes.sector import draft
from tests.drafting.shapes.follow import check

WIDE = 350 / 360


def lengths(shape: Shape) -> dict[str, float]:
    return {name: edge.path.length() for name, edge in shape.flat.edges.items()}


@settings(deadline=None, max_examples=20)
@given(
    opening=st.floats(150, 900),
    length=st.floats(40, 1200),
    share=st.floats(0.1, 2.5),
    parts=st.integers(1, 6),
)
def test_flat_form_and_moves_are_one_thing(
    opening: float, length: float, share: float, parts: int
) -> None:
    if share / parts > WIDE:
        parts = 3
    shape = draft(opening=opening, length=length, share=share, parts=parts)
    check(shape)
    made = lengths(shape)
    assert parts * made["opening"] == pytest.approx(opening, rel=1e-9)
    assert made["left"] == pytest.approx(made["right"], rel=1e-12)
    assert parts * made["hem"] == pytest.approx(opening + math.tau * share * length, rel=1e-9)
    area = sum(path.area() for path in shape.flat.outline())
    assert area == pytest.approx((made["opening"] + made["hem"]) / 2 * length, rel=1e-9)


@settings(deadline=None, max_examples=10)
@given(k=st.floats(0.2, 5))
def test_all_lengths_k_times_as_large_make_everything_so(k: float) -> None:
    one = draft(opening=420, length=350, share=0.75)
    other = draft(opening=420 * k, length=350 * k, share=0.75)
    assert lengths(other) == pytest.approx(
        {name: k * length for name, length in lengths(one).items()}, rel=1e-9
    )
    assert one.form is not None
    assert other.form is not None
    assert other.form.volume == pytest.approx(k**3 * one.form.volume, rel=1e-9)


def test_hung_up_it_is_a_cone_as_long_as_the_cloth() -> None:
    form = draft(opening=420, length=350, share=0.75).form
    assert form is not None
    side = form.edges["left"]
    assert isinstance(side, Straight)
    assert side.end[2] == pytest.approx(350 * math.sqrt(1 - 0.75**2))
    hem = form.edges["hem"]
    assert isinstance(hem, Curve)
    radii = [math.hypot(x, y) for x, y, _ in hem.points]
    assert min(radii) == pytest.approx(max(radii))
    assert min(radii) == pytest.approx(420 / math.tau + 350 * 0.75)
    low, high, tall = min(radii), 420 / math.tau, side.end[2]
    assert form.volume == pytest.approx(math.pi * tall / 3 * (low**2 + low * high + high**2))


def test_the_middle_of_the_piece_is_centre_back_and_its_ends_meet_in_front() -> None:
    form = draft(opening=420, length=350, share=0.5).form
    assert form is not None
    hem = form.edges["hem"]
    assert isinstance(hem, Curve)
    assert math.dist(hem.points[0], hem.points[-1]) < 1e-6
    assert hem.points[0][1] > 0
    assert min(y for _, y, _ in hem.points) == pytest.approx(-hem.points[0][1], rel=1e-3)


def test_a_full_circle_in_two_lies_flat_and_more_than_one_has_no_form() -> None:
    flat = draft(opening=700, length=500, share=1, parts=2).form
    assert flat is not None
    assert flat.volume == 0
    assert draft(opening=700, length=500, share=1.5, parts=2).form is None


def test_no_edge_closes_by_itself() -> None:
    shape = draft(opening=420, length=350, share=0.75)
    assert not any(edge.round for edge in shape.flat.edges.values())


@pytest.mark.parametrize(
    ("given", "parameter", "said"),
    [
        ({"share": 1.0}, "share", "360° of a circle"),
        ({"share": 1.0}, "share", "“parts: 2”, or cut a ring and slit it"),
        ({"share": 2.5, "parts": 2}, "share", "“parts: 3”."),
        ({"share": 0.0}, "share", "out of reach"),
        ({"share": 0.02, "opening": 5000.0}, "share", "radius of 40.14 m"),
        ({"share": 0.5, "parts": 0}, "parts", "0 parts"),
        ({"share": 0.5, "opening": -1.0}, "opening", "nobody can cut"),
    ],
)
def test_what_is_no_sector_is_refused_by_name(
    given: dict[str, object], parameter: str, said: str
) -> None:
    with pytest.raises(Refusal) as refused:
        draft(**({"opening": 420.0, "length": 350.0} | given))  # type: ignore[arg-type]
    assert refused.value.parameter == parameter
    assert said in refused.value.what + refused.value.remedy
