"""Cutting lines: corners, steps, squared points, what there is no room for."""

from __future__ import annotations

import cmath
import math
from collections.abc import Sequence
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon

from notchbook.drafting.allowance import cut_lines, cut_loops, too_close
from notchbook.drafting.geometry.crossing import crosses_itself
from notchbook.drafting.geometry.fit import through
from notchbook.drafting.geometry.offset import offset
from notchbook.drafting.geometry.path import Path, circle, polyline
from notchbook.drafting.geometry.segments import Arc, Line
from notchbook.drafting.geometry.vector import Point
from notchbook.drafting.outline import AllowanceError
from notchbook.drafting.shape import Edge, Flat
from tests.drafting.geometry.any import convex, ellipse, stadium


def flat(*loops: Sequence[tuple[str, Path]]) -> Flat:
    return Flat(tuple(tuple(Edge(name, path) for name, path in loop) for loop in loops), (0j, 100j))


def sides(*corners: Point) -> Flat:
    """Straight edges a, b, c … from corner to corner."""
    around = (*corners, corners[0])
    return flat([("abcdefghij"[k], polyline(*around[k : k + 2])) for k in range(len(corners))])


def cone(slant: float, angle: float, top: float = 0.0) -> Flat:
    """A sector about the origin, opening downwards: rim, left, top (if cut off) and right."""
    begin = math.pi / 2 - angle / 2
    left, right = cmath.rect(1, begin + angle), cmath.rect(1, begin)
    rim = ("rim", Path((Arc(0j, slant, begin, angle),)))
    if not top:
        return flat(
            [rim, ("left", polyline(left * slant, 0)), ("right", polyline(0, right * slant))]
        )
    return flat(
        [
            rim,
            ("left", polyline(left * slant, left * top)),
            ("top", Path((Arc(0j, top, begin + angle, -angle),))),
            ("right", polyline(right * top, right * slant)),
        ]
    )


def all_round(piece: Flat, allowance: float) -> dict[str, float]:
    return dict.fromkeys(piece.edges, allowance)


def area(path: Path) -> Polygon:
    return Polygon([(round(p.real, 9), round(p.imag, 9)) for p in path.points(0.001)])


def corners(path: Path) -> list[Point]:
    return [segment.start for segment in path.segments]


def same(found: Sequence[Point], wanted: Sequence[Point]) -> bool:
    """Whether two closed rows of corners are the same, wherever they begin."""
    return len(found) == len(wanted) and any(
        all(abs(a - b) < 1e-6 for a, b in zip((*found[k:], *found[:k]), wanted, strict=True))
        for k in range(len(found))
    )


SQUARE = sides(0, 100, 100 + 100j, 100j)
L = sides(0, 200, 200 + 60j, 80 + 60j, 80 + 150j, 150j)
LEDGE = sides(0, 100, 100 + 50j, 70 + 50j, 70 + 55j, 40 + 55j, 40 + 45j, 45j)
RING = flat([("outer", circle(0, 100))], [("inner", circle(0, 80, 0, -math.tau))])
OVAL = ellipse(103.2, 79.4)
BRIM = flat([("outer", offset(OVAL, 150))], [("inner", OVAL.reversed())])


# Corners.


def test_a_square_is_mitred() -> None:
    (loop,) = cut_loops(SQUARE, all_round(SQUARE, 10))
    assert same(corners(loop), [-10 - 10j, 110 - 10j, 110 + 110j, -10 + 110j])


def test_every_edge_has_its_own_allowance() -> None:
    (loop,) = cut_loops(SQUARE, {"a": 12, "b": 0, "c": -5, "d": 6})
    assert same(corners(loop), [-6 - 12j, 100 - 12j, 100 + 95j, -6 + 95j])


@pytest.mark.parametrize("piece", [SQUARE, L, LEDGE, cone(460, 1.3), cone(460, 1.3, 150)])
@pytest.mark.parametrize("allowance", [12, 6.5, 20, -3, -4.5])
def test_the_same_all_round_is_what_shapely_buffers(piece: Flat, allowance: float) -> None:
    (loop,) = cut_loops(piece, all_round(piece, allowance))
    (stitching,) = piece.outline()
    known = area(stitching).buffer(allowance, join_style="mitre", mitre_limit=2.5)
    # Shapely sees arcs as chords, a hundredth of a millimetre short of a mitre on their tangents.
    assert area(loop).symmetric_difference(known).area < 0.004 * loop.length()


def test_one_per_cent_off_is_not_what_shapely_buffers() -> None:
    (loop,) = cut_loops(L, all_round(L, 12 * 1.01))
    known = area(L.outline()[0]).buffer(12, join_style="mitre")
    assert area(loop).symmetric_difference(known).area > 0.004 * loop.length()


def test_a_cone_has_a_mitred_tip_and_mitred_rim_corners() -> None:
    half = math.radians(34)
    piece = cone(460, 2 * half)
    (loop,) = cut_loops(piece, all_round(piece, 12))
    tip = min(corners(loop), key=lambda point: point.imag)
    assert tip == pytest.approx(-12j / math.sin(half))
    rim = next(segment for segment in loop.segments if isinstance(segment, Arc))
    assert (rim.centre, rim.radius, rim.sweep) == (0, 472, pytest.approx(2 * half))
    # At right angles the corner is as far from the rim's parallel as the side's allowance.
    assert [round(segment.length(), 6) for segment in loop.segments].count(12) == 2


def test_a_sharp_tip_is_squared_off_at_one_and_a_half_allowances() -> None:
    piece = cone(460, math.radians(30))
    (loop,) = cut_loops(piece, all_round(piece, 10))
    top = sorted(corners(loop), key=lambda point: point.imag)[:2]
    assert [point.imag for point in top] == pytest.approx([-15, -15])
    # 15 mm up, the side's parallel is (10 − 15 sin 15°) ÷ cos 15° from the middle.
    across = (10 - 15 * math.sin(math.radians(15))) / math.cos(math.radians(15))
    assert sorted(point.real for point in top) == pytest.approx([-across, across])


def test_a_sharp_inner_corner_is_squared_off_when_cut_inside() -> None:
    piece = sides(0, 200, 200 + 200j, 110 + 200j, 100 + 60j, 90 + 200j, 200j)
    (loop,) = cut_loops(piece, all_round(piece, -8))
    assert min(abs(point - (100 + 48j)) for point in corners(loop)) < 8
    assert crosses_itself(loop) is None
    assert area(piece.outline()[0]).contains(area(loop))


def test_edges_that_close_on_each_other_are_cut_off_where_they_cross() -> None:
    (loop,) = cut_loops(L, {**all_round(L, 12), "c": 6, "d": 18})
    assert 98 + 66j in [pytest.approx(point) for point in corners(loop)]


def test_a_curve_and_a_line_are_cut_off_where_they_truly_cross() -> None:
    bump = Path((Arc(100 + 0j, 60, math.pi, math.pi),))
    piece = flat(
        [
            ("left", polyline(0, 40)),
            ("bump", bump),
            ("right", polyline(160, 200)),
            ("rest", polyline(200, 200 + 150j, 150j, 0)),
        ]
    )
    (loop,) = cut_loops(piece, all_round(piece, 10))
    # 10 mm above the edge and 70 mm from the middle of the bump.
    reach = math.sqrt(70**2 - 10**2)
    for wanted in (100 - reach - 10j, 100 + reach - 10j):
        assert any(abs(point - wanted) < 1e-6 for point in corners(loop))


def test_two_curves_are_cut_off_where_they_truly_cross() -> None:
    first = through([0, 50 + 30j, 100 + 40j])
    second = through([100 + 40j, 150 + 30j, 200])
    piece = flat(
        [("first", first), ("second", second), ("rest", polyline(200, 200 + 200j, 200j, 0))]
    )
    (loop,) = cut_loops(piece, all_round(piece, 12))
    assert crosses_itself(loop) is None
    known = area(piece.outline()[0]).buffer(12, join_style="mitre", mitre_limit=2.5)
    assert area(loop).symmetric_difference(known).area < 0.02 * loop.length()


def test_an_edge_shorter_than_its_allowance_may_still_have_room() -> None:
    (loop,) = cut_loops(LEDGE, all_round(LEDGE, 20))
    assert any(abs(point - (90 + 70j)) < 1e-6 for point in corners(loop))
    assert any(abs(point - (90 + 75j)) < 1e-6 for point in corners(loop))


def test_smooth_edges_with_different_allowances_are_joined_by_a_straight_step() -> None:
    top, right, bottom, left = (Path((segment,)) for segment in stadium(100, 30).segments)
    piece = flat([("top", top), ("right", right), ("bottom", bottom), ("left", left)])
    (loop,) = cut_loops(piece, {"top": 12, "right": 6, "bottom": 12, "left": -5})
    steps = [segment for segment in loop.segments if isinstance(segment, Line)]
    assert Line(100 - 12j, 100 - 6j) in steps
    assert sorted(step.length() for step in steps) == pytest.approx([6, 6, 17, 17, 100, 100])


def test_smooth_edges_with_one_allowance_are_joined_without_a_step() -> None:
    top, right, bottom, left = (Path((segment,)) for segment in stadium(100, 30).segments)
    piece = flat([("top", top), ("right", right), ("bottom", bottom), ("left", left)])
    (loop,) = cut_loops(piece, all_round(piece, 12))
    assert [type(segment) for segment in loop.segments] == [Line, Arc, Line, Arc]


def test_a_slight_corner_between_different_allowances_is_stepped_across() -> None:
    piece = sides(0, 100, 200 + 3j, 200 + 100j, 100j)
    (loop,) = cut_loops(piece, {**all_round(piece, 12), "b": 6})
    step = next(s for s in loop.segments if isinstance(s, Line) and 5.9 < s.length() < 6.1)
    assert step.start == pytest.approx(100 - 12j)


def test_a_side_in_one_line_is_one_line() -> None:
    piece = sides(0, 50, 100, 100 + 100j, 100j)
    (loop,) = cut_loops(piece, all_round(piece, 10))
    assert len(loop.segments) == 4


def test_an_edge_that_begins_and_ends_in_one_corner() -> None:
    drop = through([0, 60 + 90j, 0 + 140j, -60 + 90j, 0], start_tangent=1 + 1j, end_tangent=1 - 1j)
    piece = flat([("edge", drop)])
    (loop,) = cut_loops(piece, {"edge": 10})
    assert min(point.imag for point in corners(loop)) == pytest.approx(-10 * math.sqrt(2))
    (loop,) = cut_loops(piece, {"edge": -10})
    assert min(point.imag for point in corners(loop)) > 10
    assert crosses_itself(loop) is None


# Whole loops.


def test_a_disc_is_only_made_larger_or_smaller() -> None:
    piece = flat([("edge", circle(5 + 5j, 60))])
    for allowance in (12, 0, -12):
        (loop,) = cut_loops(piece, {"edge": allowance})
        assert loop == circle(5 + 5j, 60 + allowance)


def test_a_brim_grows_outwards_and_into_its_opening() -> None:
    outer, inner = cut_loops(BRIM, {"outer": 6, "inner": 12})
    assert outer.length() == pytest.approx(
        BRIM.edges["outer"].path.length() + math.tau * 6, abs=0.01
    )
    assert inner.length() == pytest.approx(OVAL.length() - math.tau * 12, abs=0.01)
    assert outer.area() > 0 > inner.area()


@settings(deadline=None, max_examples=25)
@given(convex, st.floats(0.5, 60))
def test_an_outline_with_allowance_holds_its_stitching_line(path: Path, allowance: float) -> None:
    (loop,) = cut_loops(flat([("edge", path)]), {"edge": allowance})
    assert loop.closed
    assert area(loop).contains(area(path))


# Whole degrees, each once: a star with two points in one direction touches itself.
stars = st.dictionaries(st.integers(0, 359), st.floats(60, 200), min_size=3, max_size=9).map(
    lambda reach: [cmath.rect(reach[turn], math.radians(turn)) for turn in sorted(reach)]
)


@settings(deadline=None, max_examples=40)
@given(stars, st.lists(st.floats(0, 15), min_size=9, max_size=9))
def test_any_star_with_any_positive_allowances_holds_its_stitching_line(
    points: list[Point], allowances: list[float]
) -> None:
    piece = sides(*points)
    (stitching,) = piece.outline()
    short = min(e.path.length() for e in piece.edges.values()) < 1
    if stitching.area() < 2000 or short or not area(stitching).is_valid:
        return
    try:
        (loop,) = cut_loops(piece, dict(zip("abcdefghij", allowances, strict=False)))
    except AllowanceError:
        return
    assert loop.closed
    assert loop.area() > 0
    assert crosses_itself(loop) is None
    assert area(stitching).difference(area(loop)).area < 1e-3


@settings(deadline=None, max_examples=40)
@given(
    st.floats(100, 700), st.floats(0.3, 5.9), st.floats(0, 0.8), st.tuples(*[st.floats(-6, 15)] * 4)
)
def test_any_cone_with_any_allowances_has_a_proper_cutting_line(
    slant: float, angle: float, kept: float, allowances: tuple[float, ...]
) -> None:
    top = slant * kept if kept > 0.2 else 0.0
    piece = cone(slant, angle, top)
    named = dict(zip(("rim", "left", "top", "right"), allowances, strict=True))
    try:
        (loop,) = cut_loops(piece, named)
    except AllowanceError as error:
        narrow = top * min(angle, math.tau - angle) < 40
        assert narrow or min(allowances) < 0, error.what
        return
    assert loop.closed
    assert crosses_itself(loop) is None
    larger = area(piece.outline()[0]).buffer(15.1 * 2.5)
    # shapely may leave specks in the middle of what it grew over itself.
    assert area(loop).difference(larger).area < 0.01


def bent(kind: str, bend: float, a: Point, b: Point) -> Path:
    """An edge from a to b: straight, or bent to one side by a share of its length."""
    if kind == "line":
        return polyline(a, b)
    top = (a + b) / 2 - (b - a) * 1j * bend
    if kind == "curve":
        return through([a, top, b])
    # The arc through three points: half its angle is 2 atan(2 bend).
    sweep = 4 * math.atan(2 * bend)
    radius = abs(b - a) / 2 / math.sin(abs(sweep) / 2)
    centre = top + (b - a) / abs(b - a) * 1j * math.copysign(radius, bend)
    return Path((Arc(centre, radius, cmath.phase(a - centre), sweep),))


@settings(deadline=None, max_examples=40)
@given(
    st.lists(
        st.tuples(
            st.sampled_from(["line", "arc", "curve"]),
            st.floats(0.03, 0.15).flatmap(lambda bend: st.sampled_from([bend, -bend])),
            st.floats(100, 200),
            st.floats(0, 0.5),
        ),
        min_size=3,
        max_size=7,
    ),
    st.sampled_from([12, 6, -5, -10]),
)
def test_any_outline_of_lines_arcs_and_curves_is_what_shapely_buffers(
    given_edges: list[tuple[str, float, float, float]], allowance: float
) -> None:
    count = len(given_edges)
    spots = [
        cmath.rect(radius, math.tau * (k + shift) / count)
        for k, (_, _, radius, shift) in enumerate(given_edges)
    ]
    piece = flat(
        [
            ("abcdefg"[k], bent(kind, bend, spots[k], spots[(k + 1) % count]))
            for k, (kind, bend, _, _) in enumerate(given_edges)
        ]
    )
    (stitching,) = piece.outline()
    around = [*stitching.segments, stitching.segments[0]]
    turns = [cmath.phase(b.tangent(0) / a.tangent(1)) for a, b in pairwise(around)]
    if crosses_itself(stitching) or max(map(abs, turns)) > 2.2:  # Shapely squares off otherwise.
        return
    (loop,) = cut_loops(piece, all_round(piece, allowance))
    known = area(stitching).buffer(allowance, join_style="mitre", mitre_limit=4)
    assert area(loop).buffer(0).symmetric_difference(known).area < 0.01 * loop.length()


# What there is no room for.


@pytest.mark.parametrize(
    ("piece", "allowance", "edge", "what"),
    [
        (
            flat([("edge", circle(0, 60))]),
            {"edge": -61},
            "edge",
            "radius of 60.0 mm, too tight for a parallel 61.0 mm",
        ),
        (BRIM, {"outer": 6, "inner": 70}, "inner", "too tight for a parallel 70.0 mm"),
        (RING, {"outer": -11, "inner": -11}, "outer", "cut 11.0 mm inside edge “outer”"),
        (RING, {"outer": 5, "inner": -30}, "inner", "cut 30.0 mm inside edge “inner”"),
        (SQUARE, all_round(SQUARE, -50), "a", "edge “a” vanishes, as at -50.0 mm"),
        (L, all_round(L, -31), "b", "edge “b” vanishes"),
        (cone(460, 1.3, 30), all_round(cone(460, 1.3, 30), 31), "top", "too tight"),
    ],
)
def test_what_there_is_no_room_for_names_its_edge_and_says_why(
    piece: Flat, allowance: dict[str, float], edge: str, what: str
) -> None:
    with pytest.raises(AllowanceError) as caught:
        cut_loops(piece, allowance)
    assert caught.value.edge == edge
    assert what in caught.value.what


def test_a_slot_that_would_close_is_refused() -> None:
    slot = sides(0, 100, 100 + 100j, 58 + 100j, 58 + 30j, 42 + 30j, 42 + 100j, 100j)
    with pytest.raises(AllowanceError) as caught:
        cut_loops(slot, all_round(slot, 9))
    assert caught.value.edge == "e"
    assert len(cut_loops(slot, all_round(slot, 7))) == 1


def test_a_line_that_would_cross_itself_far_from_its_corners_is_refused() -> None:
    lane = flat(
        [
            ("outside", Path((Arc(0j, 100, 0, 6.2),))),
            ("stop", polyline(cmath.rect(100, 6.2), cmath.rect(80, 6.2))),
            ("inside", Path((Arc(0j, 80, 6.2, -6.2),))),
            ("start", polyline(80, 100)),
        ]
    )
    with pytest.raises(AllowanceError, match="crosses itself"):
        cut_loops(lane, all_round(lane, 12))
    assert cut_loops(lane, all_round(lane, 3))


# Lines for several cloths.


def test_cloths_with_the_same_allowances_share_a_line() -> None:
    lines = cut_lines(
        BRIM,
        {
            "shell": {"outer": 6, "inner": 12},
            "interfacing": {"outer": -2, "inner": 0},
            "lining": {"inner": 12, "outer": 6},
        },
    )
    assert [line.cloths for line in lines] == [("shell", "lining"), ("interfacing",)]
    assert lines[1].allowance == {"outer": -2, "inner": 0}
    assert lines[1].loops[1] == OVAL.reversed()


def test_lines_that_can_not_be_told_apart_are_reported() -> None:
    lines = cut_lines(
        BRIM,
        {
            "shell": {"outer": 6, "inner": 12},
            "lining": {"outer": 6.8, "inner": 12},
            "interfacing": {"outer": -2, "inner": 0.5},
        },
    )
    assert too_close(BRIM, lines) == (("outer", pytest.approx(0.8)), ("inner", 0.5))


def test_lines_that_fall_together_or_lie_well_apart_are_not_reported() -> None:
    lines = cut_lines(
        BRIM, {"shell": {"outer": 6, "inner": 12}, "interfacing": {"outer": -2, "inner": 0}}
    )
    assert too_close(BRIM, lines) == ()
