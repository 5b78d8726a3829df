"""Facings: the edges of the other piece kept, a parallel free edge, ends along the neighbours."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from notchbook.drafting.engine import draft
from notchbook.drafting.geometry.path import Path, polyline
from notchbook.drafting.geometry.segments import Arc
from notchbook.drafting.shape import EdgesOf, Flat, Other, Refusal, Shape
from notchbook.drafting.shapes import cone, facing, inset, ring
from notchbook.problems import ContentError
from tests.drafting.shapes.follow import check_flat, check_moves
from tests.drafting.test_allowance import area, flat, sides
from tests.recipes import HAT, HEAD, recipe


def made(piece: Flat, *names: str, depth: float = 40.0) -> Shape:
    shape = facing.draft(along=EdgesOf(Other("cape", piece), names), depth=depth)
    check_flat(shape)
    check_moves(shape)
    for name in names:
        assert shape.flat.edges[name].path == piece.edges[name].path
    whole = area(piece.outline()[0])
    for hole in piece.outline()[1:]:
        whole = whole.difference(area(hole.reversed()))
    band = area(shape.flat.outline()[0])
    for hole in shape.flat.outline()[1:]:
        band = band.difference(area(hole.reversed()))
    assert band.difference(whole).area < 0.1, "a facing lies on its piece"
    for end in shape.flat.grain:
        assert band.contains(area(polyline(end - 0.1, end + 0.1, end + 0.1j)).centroid)
    return shape


@given(st.floats(300, 900), st.floats(100, 600), st.floats(5, 80))
@settings(deadline=None, max_examples=25)
def test_a_facing_of_a_cones_rim_is_a_frustum_of_the_same_cone(
    rim: float, height: float, depth: float
) -> None:
    piece = cone.draft(rim=rim, height=height).flat
    slant = math.hypot(height, rim / math.tau)
    edges = made(piece, "rim", depth=depth).flat.edges
    assert edges["free"].path.length() == pytest.approx(rim * (slant - depth) / slant)
    assert edges["start"].path.length() == pytest.approx(depth, abs=1e-3)
    assert edges["end"].path.length() == pytest.approx(depth, abs=1e-3)
    assert edges["free"].round and edges["rim"].round
    assert not edges["start"].round


def test_facings_of_a_ring_are_rings_whose_free_edges_follow_steiner() -> None:
    piece = ring.draft(inner=600, width=150, oval=1.29).flat
    outer = made(piece, "outer").flat
    assert outer.edges["free"].path.length() == pytest.approx(600 + math.tau * 110, abs=0.05)
    inner = made(piece, "inner").flat
    assert inner.edges["free"].path.length() == pytest.approx(600 + math.tau * 40, abs=0.05)
    assert [edge.name for loop in inner.loops for edge in loop] == ["free", "inner"]


def test_a_facing_ends_along_slanted_neighbours() -> None:
    piece = sides(-100, 100, 160 + 300j, -160 + 300j)
    edges = made(piece, "c", depth=50).flat.edges
    slant = 50 / math.sin(math.atan2(300, 60))
    assert edges["end"].path.length() == pytest.approx(slant)
    assert edges["free"].path.length() == pytest.approx(320 - 2 * 50 * 60 / 300)


def test_a_facing_goes_round_corners_and_ends_at_a_hollow_one_along_the_neighbour_carried_on() -> (
    None
):
    piece = sides(0, 200, 200 + 60j, 80 + 60j, 80 + 150j, 150j)
    around = made(piece, "a", "b", depth=20).flat
    assert set(around.edges) == {"a", "b", "end", "free", "start"}
    assert around.edges["free"].path.length() == pytest.approx(180 + 40)
    hollow = made(piece, "c", depth=20).flat
    assert hollow.edges["end"].path.length() == pytest.approx(20)
    assert hollow.outline()[0].area() == pytest.approx(120 * 20)


def test_a_facing_along_a_curve_ends_on_a_curved_neighbour() -> None:
    bow = Arc(complex(-500, 300), 600, math.asin(-0.5), math.asin(0.5))
    bottom, left = complex(-100, 300), complex(-100, 0)
    piece = flat(
        [
            ("a", polyline(left, bow.start)),
            ("b", Path((bow,))),
            ("c", polyline(bow.end, bottom)),
            ("d", polyline(bottom, left)),
        ]
    )
    shape = made(piece, "c", depth=60)
    end = shape.flat.edges["start"].path.segments[0]
    assert isinstance(end, Arc) and end.radius == pytest.approx(600)


@pytest.mark.parametrize(
    ("names", "depth", "says", "parameter"),
    [
        (("a", "c"), 10.0, "do not follow each other", "along"),
        (("a",), 400.0, "no room for its depth", "depth"),
        (("a",), 0.0, "nobody can cut", "depth"),
    ],
)
def test_what_can_t_be_made_is_refused(
    names: tuple[str, ...], depth: float, says: str, parameter: str
) -> None:
    piece = sides(-100, 100, 160 + 300j, -160 + 300j)
    with pytest.raises(Refusal) as caught:
        facing.draft(along=EdgesOf(Other("cape", piece), names), depth=depth)
    assert says in caught.value.what
    assert caught.value.parameter == parameter


FACED = "  hem_facing: {title: F, shape: facing, along: crown.rim, depth: 3 cm, cut: {shell: 1}}\n"


def drafted(piece: str) -> dict[str, Flat]:
    rule = recipe((HEAD + HAT).replace("seams:\n", f"{piece}seams:\n", 1))
    return {name: each.flat for name, each in draft(rule, rule.sizes[0]).pieces.items()}


def test_a_recipe_derives_a_facing_from_an_edge_wherever_its_piece_stands() -> None:
    found = drafted(FACED)
    assert found["hem_facing"].edges["rim"].path == found["crown"].edges["rim"].path
    front = (HEAD + HAT).replace("pieces:\n", f"pieces:\n{FACED}", 1)
    rule = recipe(front)
    assert draft(rule, rule.sizes[0]).pieces["hem_facing"].flat == found["hem_facing"]


@pytest.mark.parametrize(
    ("old", "new", "says", "remedy"),
    [
        ("crown.rim", "crwn.rim", "There is no piece called “crwn”.", "Did you mean “crown”?"),
        ("crown.rim", "crown.rims", "no edge called “rims”", "Did you mean “rim”?"),
        ("crown.rim", "crown", "takes edges of a piece", "Write piece.edge"),
        ("crown.rim", "[crown.rim, brim.outer]", "of “crown” and of “brim”", "one piece"),
        ("crown.rim", "hem_facing.free", "in a circle: piece hem_facing", "does not depend"),
        ("along: crown.rim, ", "", "needs “along”", "Add “along:”"),
        ("3 cm", "3 m", "no room for its depth", "less deep"),
    ],
)
def test_a_wrong_facing_is_a_sentence(old: str, new: str, says: str, remedy: str) -> None:
    with pytest.raises(ContentError) as caught:
        drafted(FACED.replace(old, new))
    assert any(
        says in problem.what and remedy in problem.remedy for problem in caught.value.problems
    ), caught.value


def test_a_facing_of_an_inset_is_evaluated_in_turn() -> None:
    found = drafted(
        "  lining_band: {title: B, shape: facing, along: small.rim, depth: 3 cm, cut: {shell: 1}}\n"
        "  small: {title: S, shape: inset, of: crown, by: 2 mm, cut: {shell: 1}}\n"
    )
    small = inset.draft(of=Other("crown", found["crown"]), by={"": 2.0}).flat
    assert found["lining_band"].edges["rim"].path == small.edges["rim"].path
