"""Drafting one size: values, pieces, seams, quantities, and what can't be made."""

from __future__ import annotations

import math

import pytest
from shapely import LineString
from shapely import Point as ShapelyPoint

from notchbook.drafting.draft import Draft
from notchbook.drafting.engine import draft, evaluate_in
from notchbook.problems import ContentError, Place
from notchbook.reading.formula import parse
from notchbook.reading.quantity import LENGTH
from tests.recipes import HAT, HEAD, recipe

SIZES = {size.id: size for size in recipe().sizes}


def drafted(front: str = HEAD + HAT, size: str = "head-57cm") -> Draft:
    made = recipe(front)
    return draft(made, next(entry for entry in made.sizes if entry.id == size))


def problems_of(front: str) -> list[str]:
    with pytest.raises(ContentError) as caught:
        drafted(front)
    return [f"{p.place.line}:{p.place.column} {p.what} {p.remedy}" for p in caught.value.problems]


def line_of(front: str, text: str) -> int:
    """The line of the recipe file (front matter starts on line 2) in which ``text`` stands."""
    return front[: front.index(text)].count("\n") + 2


def test_a_size_changes_every_piece_and_number() -> None:
    small, large = drafted(size="head-56cm"), drafted(size="head-58cm")
    assert large.measures["head"] - small.measures["head"] == pytest.approx(20)
    for name, piece in large.pieces.items():
        grown = piece.flat.outline()[0].area() - small.pieces[name].flat.outline()[0].area()
        assert grown > 100, name
    assert large.notions["wire"].value - small.notions["wire"].value == pytest.approx(20, abs=0.05)


def test_rim_is_head_plus_what_lies_inside_the_stitching_line() -> None:
    made = drafted()
    assert made.values["rim"].value == pytest.approx(570 + math.tau * 0.8 + 8)
    inner = made.pieces["brim"].flat.edges["inner"].path.length()
    assert inner == pytest.approx(made.values["rim"].value, abs=1e-3)


def test_quantities_read_the_constructed_edge() -> None:
    made = drafted()
    outer = made.pieces["brim"].flat.edges["outer"].path.length()
    assert made.notions["wire"].value == pytest.approx(outer + 125, abs=1e-6)
    asked = evaluate_in(made, parse("length(brim.outer) / 2", Place("x", 1, 1)))
    assert asked.dimension == LENGTH and asked.value == pytest.approx(outer / 2)


def test_sides_of_a_seam_are_measured_and_meet() -> None:
    seam = drafted().seams["crown to brim"]
    assert seam.round
    assert seam.lengths[0] == pytest.approx(seam.lengths[1], abs=0.02)
    assert seam.miss < 0.02


def test_notches_of_a_round_seam_sit_at_equal_shares_from_centre_back_on_both_sides() -> None:
    made = drafted()
    on_rim = [n for n in made.pieces["crown"].notches if n.seam == "crown to brim"]
    on_brim = [n for n in made.pieces["brim"].notches if n.seam == "crown to brim"]
    assert [n.number for n in on_rim] == [1, 2, 3, 4, 3, 2, 1]
    assert [n.number for n in on_brim] == [0, 1, 2, 3, 4, 3, 2, 1]
    assert [n.strokes for n in on_brim] == [2, 1, 1, 1, 1, 1, 1, 1]
    front = on_brim[4].at
    assert front.real == pytest.approx(0, abs=0.01)
    assert front.imag < 0, "centre front is up the page"


def test_notches_of_an_open_seam_leave_its_ends_alone() -> None:
    crown = drafted().pieces["crown"]
    slant = crown.flat.edges["left"].path.length()
    on_left = [n for n in crown.notches if n.edge == "left"]
    assert [abs(n.at - crown.flat.edges["left"].path.start) for n in on_left] == pytest.approx(
        [slant / 3, 2 * slant / 3]
    )


def test_notches_point_out_of_the_cloth_and_reach_the_outermost_cutting_line() -> None:
    for piece in drafted().pieces.values():
        for notch in piece.notches:
            cut = piece.cut_lines[0].loops
            tip = notch.at + notch.out * notch.reach
            lines = [LineString([(p.real, p.imag) for p in loop.points(0.001)]) for loop in cut]
            assert min(line.distance(ShapelyPoint(tip.real, tip.imag)) for line in lines) < 0.02


def test_each_cloth_has_its_own_cutting_line_where_its_allowance_differs() -> None:
    front = (HEAD + HAT).replace(
        "cut: {shell: 1, lining: 1}",
        "cut: {shell: 1, lining: {count: 2, allowance: {inner: 0 mm, outer: -2 mm}}}",
    )
    brim = drafted(front).pieces["brim"]
    assert brim.counts == {"shell": 1, "lining": 2}
    assert [line.cloths for line in brim.cut_lines] == [("shell",), ("lining",)]
    assert brim.cut_line("lining").allowance == {"outer": -2.0, "inner": 0.0}
    assert brim.cut_line("shell").allowance == {"outer": 6.0, "inner": 12.0}


def test_a_circle_is_shown_as_a_circle() -> None:
    front = (
        (HEAD + HAT)
        .replace("rim: head +", "rim: ease + head +")
        .replace("allowance: 12 mm\n", "  ease: rim / 10\nallowance: 12 mm\n", 1)
    )
    (problem,) = problems_of(front)
    assert "rim → ease → rim" in problem
    assert problem.startswith(f"{line_of(front, 'rim: ease')}:3 ")
    assert "Give one of them a value" in problem


def test_a_circle_through_an_edge_is_shown_as_a_circle() -> None:
    front = (HEAD + HAT).replace("rim: head +", "rim: length(crown.rim) - head +")
    (problem,) = problems_of(front)
    assert "rim → piece crown → rim" in problem


def test_what_another_problem_caused_is_not_repeated() -> None:
    front = (HEAD + HAT).replace("rim: head +", "rim: head / (height - 30 cm) * 1 mm +")
    (problem,) = problems_of(front)
    assert problem.startswith(f"{line_of(front, 'rim: head')}:")


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ("shape: cone", "shape: cono", "There is no shape called “cono”. Did you mean “cone”?"),
        ("rim: rim, height", "rimm: rim, height", "Did you mean “rim”?"),
        (", height: height, cut", ", cut", "height"),
        ("width: 8 cm", "width: head * head", "is an area; a length belongs here"),
        ("width: 8 cm", "width: 8", "is a plain number; a length belongs here"),
        ("{outer: 6 mm}", "{outr: 6 mm}", "Did you mean “outer”?"),
        ("crown.rim, shell", "crown.rin, shell", "Did you mean “rim”?"),
        ("length(brim.outer)", "length(brim.outre)", "Did you mean “outer”?"),
        ("height: height, cut", "height: height, slant: 2 cm, cut", "slant"),
    ],
)
def test_a_wrong_piece_is_a_sentence_with_its_line(old: str, new: str, says: str) -> None:
    front = (HEAD + HAT).replace(old, new)
    for lines in (0, 3):
        shifted = "# a comment\n" * lines + front
        found = [entry for entry in problems_of(shifted) if says in entry]
        assert found, problems_of(shifted)
        near = line_of(shifted, new if new.strip(", ") else "crown: {title")
        assert abs(int(found[0].split(":")[0]) - near) <= (7 if "head * head" in new else 1)


def test_a_measure_out_of_range_says_its_range() -> None:
    front = (HEAD + HAT).replace("usual: 30 cm", "usual: 25 cm")
    made = recipe(front)
    size = made.sizes[0]
    stretched = type(size)("own", "own", {"head": parse("70cm", Place("--measure head", 1, 1))},
                           size.place)  # fmt: skip
    with pytest.raises(ContentError) as caught:
        draft(made, stretched)
    (problem,) = caught.value.problems
    assert str(problem.place) == "--measure head:1:1"
    assert "70cm is out of range" in problem.what
    assert problem.remedy == "Give it between 52 cm and 66 cm."


def test_limits_are_told_in_the_authors_words() -> None:
    front = (HEAD + HAT).replace(
        "cloths:\n", "limits:\n  - {require: height > head, say: Make it taller.}\ncloths:\n", 1
    )
    (problem,) = problems_of(front)
    assert "height > head" in problem and "Make it taller." in problem


def test_pairs_are_two_cuts_each_and_stand_instead_of_a_count() -> None:
    front = (HEAD + HAT).replace(
        "height: height, cut: {shell: 1}", "height: height, cut: {shell: {pairs: 2}}"
    )
    crown = drafted(front).pieces["crown"]
    assert crown.counts == {"shell": 4} and crown.pairs == {"shell": 2}
    assert drafted().pieces["crown"].pairs == {}
    with pytest.raises(ContentError) as caught:
        recipe(front.replace("{pairs: 2}", "{pairs: 2, count: 1}"))
    (problem,) = caught.value.problems
    assert "“count” and “pairs” both say" in problem.what
    assert problem.place.line == line_of(front, "pairs: 2")


def test_pieces_derived_from_each_other_are_shown_as_a_circle() -> None:
    front = (HEAD + HAT).replace(
        "seams:\n",
        "  one: {title: One, shape: inset, of: two, by: 1 mm, cut: {shell: 1}}\n"
        "  two: {title: Two, shape: inset, of: one, by: 1 mm, cut: {shell: 1}}\nseams:\n",
        1,
    )
    (problem,) = problems_of(front)
    assert "piece one → piece two → piece one" in problem


@pytest.mark.parametrize(("allowance", "told"), [("90 cm", True), ("15 cm", False)])
def test_an_allowance_wider_than_its_piece_is_refused(allowance: str, told: bool) -> None:
    front = (HEAD + HAT).replace("rim: rim, height: height,", "rim: rim, height: height, ALLOW")
    front = front.replace("ALLOW", f"allowance: {{rim: {allowance}}},")
    rule = recipe(front)
    if not told:
        draft(rule, rule.sizes[0])
        return
    with pytest.raises(ContentError) as caught:
        draft(rule, rule.sizes[0])
    (problem,) = caught.value.problems
    assert problem.place.line == line_of(front, "crown: {title")
    assert "at “rim” comes to 900 mm, which is wider than the piece" in problem.what
    assert problem.remedy.startswith("Make it 313 mm or less")
