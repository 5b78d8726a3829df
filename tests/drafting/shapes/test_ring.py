"""Rings: a flat brim round a round or an oval opening."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, Point, Polygon

from notchbook.drafting.geometry.path import Arc, bounds
from notchbook.drafting.moves import Loop, Offset
from notchbook.drafting.shape import Refusal
from notchbook.drafting.shapes.ring import draft
from tests.drafting.shapes.follow import check

ANY = {
    "inner": st.floats(20, 3000),
    "width": st.floats(2, 2000),
    "oval": st.one_of(st.just(1.0), st.floats(0.34, 3)),
}


@settings(deadline=None, max_examples=12)
@given(**ANY)
def test_flat_form_and_moves_are_one_thing(inner: float, width: float, oval: float) -> None:
    check(draft(inner=inner, width=width, oval=oval))


@settings(deadline=None, max_examples=20)
@given(**ANY)
def test_the_opening_keeps_its_girth(inner: float, width: float, oval: float) -> None:
    edges = draft(inner=inner, width=width, oval=oval).flat.edges
    assert edges["inner"].path.length() == pytest.approx(inner, rel=1e-9)


@settings(deadline=None, max_examples=20)
@given(**ANY)
def test_the_outer_edge_is_longer_by_a_turn_of_the_width(
    inner: float, width: float, oval: float
) -> None:
    outer = draft(inner=inner, width=width, oval=oval).flat.edges["outer"].path
    assert abs(outer.length() - inner - math.tau * width) < 0.02


def test_the_outer_edge_is_as_far_from_the_opening_everywhere_as_the_ring_is_wide() -> None:
    edges = draft(inner=576, width=150, oval=1.3).flat.edges
    opening = Polygon([(p.real, p.imag) for p in edges["inner"].path.points(0.0002)])
    for p in edges["outer"].path.points(0.001):
        assert opening.distance(Point(p.real, p.imag)) == pytest.approx(150, abs=0.01)


def test_a_round_ring_is_exact_arcs() -> None:
    flat = draft(inner=600, width=150).flat
    for edge, radius in (("inner", 600 / math.tau), ("outer", 600 / math.tau + 150)):
        for segment in flat.edges[edge].path.segments:
            assert isinstance(segment, Arc)
            assert segment.radius == pytest.approx(radius, rel=1e-12)


def test_both_edges_are_round_and_start_at_centre_back() -> None:
    for oval in (1.0, 1.29, 0.8):
        flat = draft(inner=590, width=100, oval=oval).flat
        for edge in flat.edges.values():
            assert edge.round
            assert abs(edge.path.start.real) < 1e-9
            assert edge.path.start.imag > 0


def test_an_oval_opening_is_longer_from_front_to_back() -> None:
    box = bounds((draft(inner=590, width=100, oval=1.3).flat.edges["inner"].path,))
    assert box.height / box.width == pytest.approx(1.3, rel=1e-4)


@settings(deadline=None, max_examples=20)
@given(**ANY)
def test_the_grain_lies_on_the_cloth_and_runs_front_to_back(
    inner: float, width: float, oval: float
) -> None:
    flat = draft(inner=inner, width=width, oval=oval).flat
    outer, hole = (
        [(p.real, p.imag) for p in path.points(0.0005 * width)] for path in flat.outline()
    )
    start, end = flat.grain
    line = LineString([(start.real, start.imag), (end.real, end.imag)])
    assert Polygon(outer, [hole]).contains(line)
    assert start.real == end.real
    assert start.imag < end.imag


def test_an_oval_is_drawn_with_a_string_and_marked_off_outwards() -> None:
    moves = draft(inner=576, width=150, oval=1.3).moves
    [loop] = [move for move in moves if isinstance(move, Loop)]
    [offset] = [move for move in moves if isinstance(move, Offset)]
    assert loop.apart == pytest.approx(2 * math.sqrt(103.2**2 - 79.4**2), abs=0.1)
    assert loop.string == pytest.approx(loop.apart + 206.4, abs=0.1)
    assert offset.distance == 150


@pytest.mark.parametrize(
    ("wrong", "parameter"),
    [
        ({"inner": 0.0}, "inner"),
        ({"width": -5.0}, "width"),
        ({"width": math.nan}, "width"),
        ({"inner": math.inf}, "inner"),
        ({"oval": 0.0}, "oval"),
        ({"oval": 4.0}, "oval"),
    ],
)
def test_what_cant_be_cut_is_refused_by_name(wrong: dict[str, float], parameter: str) -> None:
    with pytest.raises(Refusal) as refused:
        draft(**{"inner": 590.0, "width": 100.0, "oval": 1.3, **wrong})
    assert refused.value.parameter == parameter
    assert refused.value.what.endswith(".") and refused.value.remedy.endswith(".")
