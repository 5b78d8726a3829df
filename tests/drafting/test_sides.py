"""Sides of a seam with several edges: where notches go when one pattern is cut several times."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import pytest

from notchbook.drafting.draft import Draft
from notchbook.drafting.engine import draft
from notchbook.drafting.joins import check_joins
from notchbook.drafting.marks import Marks
from notchbook.drafting.truing import true
from notchbook.problems import ContentError
from tests.recipes import HEAD, recipe

CAP = """\
workings: {gores: 6}
allowance: 10 mm
pieces:
  gore: {title: Gore, shape: gore, gores: gores, girth: head, cut: {shell: gores}}
  band: {title: Band, shape: tube, girth: head, height: 5 cm, cut: {shell: 1}}
seams:
  gores: {join: [gore.left, gore.right], notches: 2}
  cap to band: {join: [BASES, band.top], notches: NOTCHES}
  band seam: {join: [band.left, band.right]}
"""


def cap(notches: int, bases: str = "[6 gore.base]") -> Draft:
    front = CAP.replace("NOTCHES", str(notches)).replace("BASES", bases)
    front = front.replace("shell: gores", "shell: 6")
    rule = recipe(HEAD.replace(LINING, "") + front, BODY)
    return draft(rule, rule.size("head-57cm"))


BODY = "## Make it\n\n1. Cut.\n"
LINING = "  lining: {title: lawn, thickness: 0.3 mm, widths: [112 cm]}\n"


def marks(made: Draft, piece: str, edge: str) -> Sequence[tuple[float, str]]:
    """Where notches stand, as shares of the edge, and their words."""
    found = made.pieces[piece]
    words = Marks.of(made)
    path = found.flat.edges[edge].path
    long = path.length()
    shares = [k / 3600 for k in range(3601)]
    return [
        (min(shares, key=lambda s: abs(path.point_at(s * long) - n.at)), words.words(n))
        for n in found.notches
        if n.edge == edge
    ]


@pytest.mark.parametrize("notches", [1, 4, 6])
def test_where_gores_meet_the_band_has_a_notch_and_the_gores_none(notches: int) -> None:
    made = cap(notches)
    assert marks(made, "gore", "base") == []
    assert marks(made, "band", "top") == [
        (pytest.approx(k / 6, abs=1e-3), "") for k in range(1, 6)
    ], "the band's own ends are its seam"
    assert list(check_joins(made)) == []


def test_a_notch_that_falls_alike_on_every_gore_is_marked_and_has_no_number() -> None:
    made = cap(12)
    assert marks(made, "gore", "base") == [(pytest.approx(0.5, abs=1e-3), "")]
    assert len(marks(made, "band", "top")) == 11
    assert {words for _, words in marks(made, "band", "top")} == {""}
    assert list(check_joins(made)) == []


def test_a_notch_that_only_some_gores_would_have_is_left_out() -> None:
    """Of eight, every fourth falls on a joint; the others lie differently on each gore."""
    made = cap(8)
    assert marks(made, "gore", "base") == []
    assert len(marks(made, "band", "top")) == 5
    assert list(check_joins(made)) == []


def test_a_lost_notch_is_told() -> None:
    made = cap(12)
    bare = {**made.pieces, "gore": replace(made.pieces["gore"], notches=())}
    said = [problem.what for problem, _ in check_joins(replace(made, pieces=bare))]
    assert any("no notch on 6 gore.base" in what for what in said)


def test_gores_listed_one_by_one_are_the_same_as_counted() -> None:
    listed = cap(12, f"[{', '.join(['gore.base'] * 6)}]")
    assert listed.pieces == cap(12).pieces


HEM = """\
allowance: 10 mm
pieces:
  base: {title: Base, shape: disc, girth: head, cut: {shell: 1}}
  rise: {title: Rise, shape: strip, length: head, width: 8 cm, parts: 2, cut: {shell: 2}}
seams:
  rise: {join: [rise.left, rise.right]}
  base: {join: [[2 rise.bottom], base.edge], notches: 4}
"""


def test_a_strip_in_two_parts_has_the_notch_in_the_middle_of_each() -> None:
    rule = recipe(HEAD.replace(LINING, "") + HEM, BODY)
    made = draft(rule, rule.sizes[0])
    assert marks(made, "rise", "bottom") == [(pytest.approx(0.5, abs=1e-3), "1")]
    assert len(marks(made, "base", "edge")) == 4
    assert list(check_joins(made)) == []


YOKE = """\
allowance: 10 mm
pieces:
  front:
    title: Front
    shape: panel
    points: {a: [0 cm, 0 cm], b: [12 cm, 0 cm], c: [15 cm, 30 cm], d: [0 cm, 30 cm]}
    edges: {neck: [a, b], shoulder: [b, c], hem: [c, d], middle: [d, a]}
    cut: {shell: {pairs: 1}}
  back:
    title: Back
    shape: panel
    points: {a: [0 cm, 0 cm], b: [20 cm, 0 cm], c: [23 cm, 30 cm], d: [-3 cm, 30 cm]}
    edges: {neck: [a, b], east: [b, c], hem: [c, d], west: [d, a]}
    cut: {shell: 1}
  collar: {title: Collar, shape: strip, length: 44 cm, width: 8 cm, cut: {shell: 1}}
seams:
  east: {join: [back.east, front.shoulder]}
  west: {join: [back.west, front.shoulder]}
  neck: {join: [NECK, collar.bottom], notches: 10}
"""


@pytest.mark.parametrize("neck", ["[front.neck, back.neck, front.neck]"])
def test_of_a_pair_the_second_is_passed_the_other_way(neck: str) -> None:
    rule = recipe(HEAD.replace(LINING, "") + YOKE.replace("NECK", neck), BODY)
    made = draft(rule, rule.sizes[0])
    ways = [stretch.backwards for stretch in made.seams["neck"].laid[0]]
    assert ways in ([False, False, True], [True, False, False])
    # Every fortieth millimetre but 120 and 320, where the shoulders are.
    on_collar = [share * 440 for share, _ in marks(made, "collar", "bottom")]
    assert sorted(on_collar) == pytest.approx(
        [40, 80, 120, 160, 200, 240, 280, 320, 360, 400], abs=0.2
    )
    [near, far] = sorted(share * 120 for share, _ in marks(made, "front", "neck"))
    assert (near, far) == (pytest.approx(40, abs=0.1), pytest.approx(80, abs=0.1))
    assert [words for _, words in marks(made, "front", "neck")] in (["1", "2"], ["2", "1"])
    assert list(check_joins(made)) == []


UNEVEN = """\
allowance: 10 mm
pieces:
  front:
    title: Front
    shape: strip
    length: 10 cm
    width: 20 cm
    cut: {shell: 1}
  back: {title: Back, shape: strip, length: 30 cm, width: 20 cm, cut: {shell: 1}}
  band: {title: Band, shape: strip, length: 40 cm, width: 5 cm, cut: {shell: 1}}
seams:
  side: {join: [front.left, back.right]}
  band: {join: [SIDE, band.top], notches: 1}
"""


@pytest.mark.parametrize("side", ["[front.bottom, back.bottom]", "[back.bottom, front.bottom]"])
def test_the_joint_is_marked_where_it_comes_to_lie_whichever_way_the_side_was_named(
    side: str,
) -> None:
    """Bottoms run from right to left, so that the front comes first on its side; the top of the
    band runs from left to right and meets it from the other end."""
    rule = recipe(HEAD.replace(LINING, "") + UNEVEN.replace("SIDE", side), BODY)
    made = draft(rule, rule.sizes[0])
    on_band = sorted(share * 400 for share, _ in marks(made, "band", "top"))
    assert on_band == [pytest.approx(200, abs=0.2), pytest.approx(300, abs=0.2)]
    assert [share * 300 for share, _ in marks(made, "back", "bottom")] == [
        pytest.approx(100, abs=0.2)
    ]
    assert list(check_joins(made)) == []


def test_notches_that_nobody_could_tell_apart_are_refused() -> None:
    with pytest.raises(ContentError) as caught:
        cap(5000)
    (problem,) = caught.value.problems
    assert problem.what.startswith("5000 notches along seam “cap to band” would stand 0.11 mm")
    assert problem.remedy == "Ask for 142 or fewer."


def test_truing_of_a_whole_cap_finds_nothing_but_its_steps() -> None:
    front = HEAD.replace(LINING, "") + CAP.replace("NOTCHES", "12").replace(
        "BASES", "[6 gore.base]"
    )
    found = true(recipe(front.replace("shell: gores", "shell: 6"), BODY))
    assert all("never" in problem.what for problem in found)
