"""Insets: the same piece, its edges moved in."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from notchbook.drafting.engine import draft
from notchbook.drafting.shape import Flat, Other, Refusal
from notchbook.drafting.shapes import cone, inset, ring, strip
from notchbook.problems import ContentError
from tests.drafting.shapes.follow import check_flat, check_moves
from tests.drafting.test_allowance import area, sides
from tests.recipes import HAT, HEAD, recipe


@given(st.floats(0, 8))
@settings(deadline=None, max_examples=5)
def test_every_edge_lies_so_far_inside_its_own(by: float) -> None:
    for piece in (
        cone.draft(rim=590, height=300, keep=150).flat,
        ring.draft(inner=590, width=80, oval=1.29).flat,
        sides(0, 200, 200 + 60j, 80 + 60j, 80 + 150j, 150j),
    ):
        shape = inset.draft(of=Other("crown", piece), by={"": by})
        check_flat(shape)
        check_moves(shape)
        assert list(shape.flat.edges) == list(piece.edges)
        for name, edge in shape.flat.edges.items():
            assert edge.round == piece.edges[name].round
            mine = area(edge.path).boundary if edge.path.closed else None
            if mine is not None:
                theirs = area(piece.edges[name].path).boundary
                assert mine.hausdorff_distance(theirs) == pytest.approx(by, abs=0.02)


def test_a_lining_with_its_seam_edges_moved_in_is_smaller_round_by_twice_as_much() -> None:
    piece = cone.draft(rim=590, height=300).flat
    lining = inset.draft(of=Other("crown", piece), by={"left": 2.5, "right": 2.5}).flat
    slant = math.hypot(300, 590 / math.tau)
    # The seam edges keep their direction, so the rim loses the angle 2.5 mm take at its radius.
    wanted = 590 - 2 * slant * math.asin(2.5 / slant)
    assert lining.edges["rim"].path.length() == pytest.approx(wanted)
    assert wanted == pytest.approx(585, abs=0.01)


def test_closed_edges_follow_steiner() -> None:
    piece = ring.draft(inner=590, width=80, oval=1.29).flat
    small = inset.draft(of=Other("crown", piece), by={"": 3.0}).flat
    for name, sign in (("outer", -1), ("inner", 1)):
        wanted = piece.edges[name].path.length() + sign * math.tau * 3
        assert small.edges[name].path.length() == pytest.approx(wanted, abs=0.02)


@pytest.mark.parametrize(
    ("by", "says"),
    [({"tip": 2.0}, "no edge called “tip”"), ({"": -2.0}, "−2 mm"), ({"": 16.0}, "no room")],
)
def test_what_can_t_be_made_is_refused(by: dict[str, float], says: str) -> None:
    with pytest.raises(Refusal) as caught:
        inset.draft(of=Other("crown", strip.draft(length=300, width=30).flat), by=by)
    assert says in caught.value.what
    assert caught.value.parameter == "by"


def test_a_recipe_gives_one_length_or_one_for_each_edge() -> None:
    def made(by: str) -> Flat:
        line = f"  small: {{title: S, shape: inset, of: crown, by: {by}, cut: {{shell: 1}}}}\n"
        rule = recipe((HEAD + HAT).replace("seams:\n", f"{line}seams:\n", 1))
        return draft(rule, rule.sizes[0]).pieces["small"].flat

    assert made("2 mm") == made("shell.thickness * 2.5")
    assert made("{left: 2 mm, right: 2 mm}") != made("2 mm")
    for wrong, says in (
        ("[2 mm]", "one length, or one for each edge"),
        ("{left: [2 mm]}", "“left” is one length"),
        ("2", "a length belongs here"),
        ("{lft: 2 mm}", "no edge called “lft”"),
    ):
        with pytest.raises(ContentError) as caught:
            made(wrong)
        assert any(says in problem.what for problem in caught.value.problems)
