"""Rings: a flat brim round a round or an oval opening."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, Point, Polygon

from notchbook.drafting.geometry.box import bounds
from notchbook.drafting.geometry.segments import Arc
from notchbook.drafting.moves import Loop, Offset
from notchbook.drafting.shape import Curve, Refusal, Word
from notchbook.drafting.shapes.ring import draft
from tests.drafting.shapes.follow import check, check_flat, check_form

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


# Sloped, of two widths, with a round edge.

SLOPED = {
    "inner": st.floats(200, 1500),
    "share": st.floats(0.1, 0.6),
    "degrees": st.one_of(st.floats(15, 60), st.floats(-60, -15)),
    "oval": st.one_of(st.just(1.0), st.floats(0.7, 1.6)),
}


@settings(deadline=None, max_examples=12)
@given(**SLOPED)
def test_sloped_ones_agree(inner: float, share: float, degrees: float, oval: float) -> None:
    shape = draft(inner=inner, width=share * inner, slope=math.radians(degrees), oval=oval)
    check(shape)
    edges = shape.flat.edges
    assert edges["inner"].path.length() == pytest.approx(inner, abs=0.01)
    grown = math.tau * share * inner * math.cos(math.radians(degrees))
    assert edges["outer"].path.length() == pytest.approx(inner + grown, abs=0.01)


@settings(deadline=None, max_examples=12)
@given(**SLOPED, lower=st.floats(0.8, 1.25), longer=st.floats(0.6, 1.6))
def test_ones_longer_and_lower_behind_agree(
    inner: float, share: float, degrees: float, oval: float, lower: float, longer: float
) -> None:
    width = 0.5 * share * inner
    shape = draft(
        inner=inner,
        width=width,
        width_back=width * longer,
        slope=math.radians(degrees),
        slope_back=math.radians(degrees * lower),
        oval=oval,
    )
    check(shape)
    assert shape.flat.edges["left"].path.length() == pytest.approx(width * longer)


@settings(deadline=None, max_examples=10)
@given(inner=st.floats(200, 1500), oval=st.floats(0.7, 1.6), longer=st.floats(0.6, 1.6))
def test_level_ones_longer_behind_agree(inner: float, oval: float, longer: float) -> None:
    shape = draft(inner=inner, width=100, width_back=100 * longer, oval=oval)
    check(shape)
    outer, hole = shape.flat.outline()
    back = outer.start - hole.start
    assert back == pytest.approx(100j * longer, abs=1e-3)


@settings(deadline=None, max_examples=10)
@given(**SLOPED, k=st.floats(0.4, 3))
def test_everything_grows_in_proportion(
    inner: float, share: float, degrees: float, oval: float, k: float
) -> None:
    def made(k: float) -> list[float]:
        slope = math.radians(degrees)
        shape = draft(inner=k * inner, width=k * share * inner, slope=slope, oval=oval)
        edges = [edge.path.length() / k for edge in shape.flat.edges.values()]
        return [*edges, math.sqrt(shape.flat.outline()[0].area()) / k]

    assert made(k) == pytest.approx(made(1), abs=0.02)


@settings(deadline=None, max_examples=10)
@given(**SLOPED)
def test_sewn_up_the_cloth_keeps_its_area(
    inner: float, share: float, degrees: float, oval: float
) -> None:
    """Steiner: the brim between two parallels has L w + π w² cos θ."""
    width, slope = share * inner, math.radians(degrees)
    shape = draft(inner=inner, width=width, slope=slope, oval=oval)
    area = inner * width + math.pi * width * width * math.cos(slope)
    assert shape.flat.outline()[0].area() == pytest.approx(area, rel=1e-5)


def test_a_round_sloped_ring_is_a_sector_of_exact_arcs() -> None:
    flat = draft(inner=600, width=150, slope=math.radians(60)).flat
    for edge, radius in (("inner", 600 / math.pi), ("outer", 600 / math.pi + 150)):
        arcs = flat.edges[edge].path.segments
        for arc in arcs:
            assert isinstance(arc, Arc)
            assert arc.radius == pytest.approx(radius)
        assert abs(sum(arc.sweep for arc in arcs)) == pytest.approx(math.pi)  # type: ignore[union-attr]


def test_a_round_one_is_the_same_whether_in_arcs_or_developed() -> None:
    slope = math.radians(30)
    arcs = draft(inner=576, width=120, slope=slope).flat.outline()[0]
    cubics = draft(inner=576, width=120, slope=slope, oval=1.0001).flat.outline()[0]
    assert cubics.area() == pytest.approx(arcs.area(), rel=1e-4)
    assert bounds((cubics,)).width == pytest.approx(bounds((arcs,)).width, abs=0.05)


def test_a_drooping_one_stands_on_its_edge_and_a_raised_one_on_its_opening() -> None:
    for oval in (1.0, 1.3):
        for degrees, inner, outer in ((30, 50, 0), (-30, 0, 50)):
            form = draft(inner=576, width=100, oval=oval, slope=math.radians(degrees)).form
            assert form
            heights = {name: form.edges[name].height for name in ("inner", "outer")}  # type: ignore[union-attr]
            assert heights == pytest.approx({"inner": inner, "outer": outer})


def test_what_a_sloped_brim_holds_is_a_frustum() -> None:
    form = draft(inner=math.tau * 90, width=100, slope=math.radians(60)).form
    assert form
    high = 100 * math.sin(math.radians(60))
    frustum = math.pi / 3 * high * (90**2 + 90 * 140 + 140**2)
    assert form.volume == pytest.approx(frustum)
    flat = draft(inner=576, width=100, width_back=140, slope=0.5).form
    assert flat and flat.volume == 0


def test_one_lower_behind_hangs_lowest_at_centre_back() -> None:
    form = draft(inner=576, width=100, slope=0.4, slope_back=0.6, oval=1.3).form
    assert form
    edge = form.edges["outer"]
    assert isinstance(edge, Curve)
    heights = [z for _, _, z in edge.points]
    assert min(heights) == heights[0] == heights[-1] == pytest.approx(0)
    assert form.edges["inner"].height == pytest.approx(100 * math.sin(0.6))  # type: ignore[union-attr]
    assert max(heights) == pytest.approx(100 * (math.sin(0.6) - math.sin(0.4)))


def test_a_round_edge_leaves_the_ends_narrower() -> None:
    flat = draft(inner=635, width=127, oval=1.289, outer=Word("round")).flat
    outer, hole = bounds(flat.outline()[:1]), bounds(flat.outline()[1:])
    assert all(isinstance(segment, Arc) for segment in flat.edges["outer"].path.segments)
    assert (outer.width - hole.width) / 2 == pytest.approx(127, abs=0.01)
    assert (outer.height - hole.height) / 2 == pytest.approx(
        127 - (hole.height - hole.width) / 2, abs=0.01
    )
    check(draft(inner=635, width=127, oval=1.289, outer=Word("round")))
    check(draft(inner=635, width=127, outer=Word("round")))


@pytest.mark.parametrize(
    ("given", "parameter", "words"),
    [
        ({"slope": math.radians(10)}, "slope", "too near the level"),
        ({"slope": math.radians(10), "oval": 1.0}, "slope", "too near the level"),
        ({"slope": math.radians(85)}, "slope", "steeper"),
        ({"slope": math.nan}, "slope", "steeper"),
        ({"slope": 0.4, "slope_back": -0.4}, "slope_back", "level somewhere"),
        ({"slope_back": 0.4}, "slope_back", "level somewhere"),
        ({"slope": 0.3, "slope_back": 1.3}, "slope_back", "too fast"),
        ({"width_back": 0.0}, "width_back", "nobody can cut"),
        ({"outer": "rond"}, "outer", "can't be"),
        ({"outer": "round", "slope": 0.4}, "outer", "level ring"),
        ({"outer": "round", "width_back": 120.0}, "outer", "level ring"),
        ({"outer": "round", "width": 20.0}, "width", "nearest"),
        ({"length": 200.0, "oval": None, "breadth": 0.0}, "breadth", "nobody can cut"),
    ],
)
def test_what_cant_slope_is_refused_by_name(
    given: dict[str, object], parameter: str, words: str
) -> None:
    with pytest.raises(Refusal, match=words) as refused:
        draft(**{"inner": 590.0, "width": 100.0, "oval": 1.3, **given})  # type: ignore[arg-type]
    assert refused.value.parameter == parameter
    assert refused.value.what.endswith(".") and refused.value.remedy.rstrip("?").endswith(
        (".", "”")
    )
    if words == "too near the level":
        named = float(refused.value.remedy.split("°")[0].split()[-1])
        draft(inner=590.0, width=100.0, slope=math.radians(named))


@settings(deadline=None, max_examples=60)
@given(
    st.floats(20, 5000),
    st.floats(0.01, 2),
    st.floats(0.01, 2),
    st.floats(0.34, 2.99),
    st.floats(-1.4, 1.4),
    st.floats(0.5, 2),
)
def test_any_brim_that_is_not_refused_is_a_piece_that_agrees_with_its_form(
    inner: float, front: float, back: float, oval: float, slope: float, lower: float
) -> None:
    try:
        shape = draft(
            inner=inner,
            width=max(inner * front, 1),
            width_back=max(inner * back, 1),
            oval=oval,
            slope=slope,
            slope_back=slope * lower,
        )
    except Refusal as refusal:
        assert refusal.parameter.startswith("slope")
    else:
        check_flat(shape)
        check_form(shape)
