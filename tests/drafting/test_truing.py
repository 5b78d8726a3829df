"""Truing finds what does not meet, in any size, and says by how much and where."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import pairwise

import pytest

from notchbook.drafting.engine import draft
from notchbook.drafting.joins import check_joins
from notchbook.drafting.sets import SCATTERED, scatter, visited
from notchbook.drafting.truing import true
from tests.drafting.test_engine import line_of
from tests.recipes import HAT, HEAD, STEPS, recipe

FRONT = HEAD + HAT


def test_a_sound_recipe_is_true() -> None:
    assert true(recipe()) == ()


def test_every_corner_of_the_ranges_is_visited() -> None:
    titles = {size.title for size in visited(recipe())}
    assert titles >= {
        f"head {head} cm, height {height} cm" for head in (52, 66) for height in (25, 60)
    }


def test_sets_between_the_corners_are_visited_and_named_in_whole_millimetres() -> None:
    between = [size for size in visited(recipe()) if size.id.startswith("set-")][4:]
    assert len(between) == SCATTERED
    assert between[0].title == "head 55.6 cm, height 27.4 cm"


def test_a_fault_only_in_the_middle_of_the_ranges_is_found_and_named() -> None:
    front = FRONT.replace("inner: rim", "inner: rim + max(0 mm, 20 mm - abs(height - 45 cm))")
    (problem,) = true(recipe(front))
    assert "seam “crown to brim” do not meet" in problem.what
    assert re.search(r"\(At head [\d.]+ cm, height 4[45][\d.]* cm[,.]", problem.what)


def test_with_many_measures_each_goes_to_its_ends_alone() -> None:
    more = "".join(
        f"  m{k}: {{title: M, ask: M, usual: 3 cm, range: [2 cm, 4 cm]}}\n" for k in range(6)
    )
    front = FRONT.replace("sizes: {", f"{more}sizes: {{", 1)
    found = {size.title for size in visited(recipe(front))}
    assert {"head 52 cm", "head 66 cm", "m5 2 cm", "m5 4 cm"} <= found
    assert len(found) == 3 + 1 + 16 + SCATTERED - 1, "three sizes, one of which is usual"


@pytest.mark.parametrize("dimensions", [1, 2, 3, 7])
def test_the_scatter_leaves_no_part_of_a_range_out(dimensions: int) -> None:
    points = list(scatter(dimensions, SCATTERED))
    assert len(set(points)) == SCATTERED
    for coordinate in zip(*points, strict=True):
        ordered = sorted((0.0, *coordinate, 1.0))
        assert max(b - a for a, b in pairwise(ordered)) < 0.25


def test_a_piece_too_wide_for_its_cloth_is_told_once_with_the_worst_set() -> None:
    front = FRONT.replace("width: 8 cm", "width: height * 1.2")
    lining, shell = sorted(true(recipe(front)), key=lambda problem: problem.what)
    assert "“brim” does not fit on shell 1500 mm wide: it is 148 mm too wide" in shell.what
    assert "(At head 66 cm, height 60 cm, where it is worst; wrong in " in shell.what
    assert shell.place.line == line_of(front, "shell: {title")
    assert "lining 1120 mm wide" in lining.what


def test_a_seam_that_does_not_meet_says_by_how_much_in_the_worst_size() -> None:
    front = FRONT.replace("inner: rim", "inner: rim * 1.01")
    (problem,) = true(recipe(front))
    assert problem.place.line == line_of(front, "crown to brim")
    assert "crown.rim 673.0 mm against shell brim.inner 679.8 mm, 6.7 mm off" in problem.what
    assert "(At head 66 cm, height" in problem.what


def test_declared_ease_is_wanted() -> None:
    front = FRONT.replace("inner: rim", "inner: rim + 6 mm").replace(
        "shell brim.inner], notches: 8", "shell brim.inner], notches: 8, ease: {brim: 6 mm}"
    )
    assert true(recipe(front)) == ()


def test_division_by_zero_at_one_end_of_a_range_names_that_end() -> None:
    front = FRONT.replace("width: 8 cm", "width: 8 cm + 1 mm * 1 mm / (height - 25 cm)")
    (problem,) = true(recipe(front))
    assert "height 25 cm" in problem.what
    assert problem.place.line == line_of(front, "width: 8 cm +")


def test_a_cone_whose_rim_outruns_its_slant_is_found_at_the_end_where_it_does() -> None:
    front = FRONT.replace("height: height, cut", "slant: height / 3, cut")
    found = true(recipe(front))
    assert any("crown" in problem.what for problem in found)


@pytest.mark.parametrize(
    ("old", "new", "says", "remedy"),
    [
        ("cut: [brim, crown]", "cut: [brim]", "“crown” is never cut", "cut: [shell crown]"),
        ("cut: [brim, crown]", "cut: [brim, shell brim, crown]", "is cut here, and already", "one"),
        ("point seam, ", "", "“point seam” is never sewn", "sew: [point seam]"),
        ("[brim edge, point", "[brim edge, brim edge, point", "sewn here, and already", "one"),
        ("    use: [wire]\n", "", "“wire” is never used", "use: [wire]"),
    ],
)
def test_steps_that_forget_or_repeat_are_told(old: str, new: str, says: str, remedy: str) -> None:
    (problem,) = true(recipe(body=STEPS.replace(old, new)))
    assert says in problem.what
    assert remedy in problem.remedy


def test_a_seam_sewn_before_its_piece_is_cut_is_told_at_the_step() -> None:
    first, second = STEPS.split("2. Sew.")
    body = first.replace("cut: [brim, crown]", "sew: [brim edge, point seam, crown to brim]")
    body += "2. Sew." + second.replace(
        "sew: [brim edge, point seam, crown to brim]", "cut: [brim, crown]"
    )
    found = true(recipe(body=body))
    assert len(found) == 3
    assert all("is sewn here, before" in problem.what for problem in found)


def test_a_caution_nobody_placed_is_told() -> None:
    front = FRONT.replace("allowance: 12 mm\n", "allowance: 12 mm\ncare: [wire]\n", 1)
    (problem,) = true(recipe(front))
    assert problem.place.line == line_of(front, "care: [wire]")
    assert "never placed" in problem.what


def test_lines_that_run_too_close_are_told() -> None:
    front = FRONT.replace("{outer: 6 mm}", "{outer: 1 mm}")
    found = true(recipe(front))
    assert any("1.0 mm apart at “outer”" in problem.what for problem in found)


def test_a_formula_in_the_text_is_worked_out_too() -> None:
    (problem,) = true(recipe(body=STEPS.replace("{{ rim }}", "{{ length(brim.out) }}")))
    assert "no edge called “out”" in problem.what


def test_what_closes_a_piece_on_itself_has_to_be_sewn_and_the_line_to_write_is_told() -> None:
    front = FRONT.replace("  point seam: {join: [crown.left, crown.right], notches: 2}\n", "")
    body = STEPS.replace("point seam, ", "")
    (problem,) = true(recipe(front, body))
    assert problem.place.line == line_of(front, "crown: {title")
    assert "No seam of the recipe sews “left” and “right” of piece “crown”" in problem.what
    line = "crown seam: {join: [crown.left, crown.right]}"
    assert line in problem.remedy
    mended = front.replace("seams:\n", f"seams:\n  {line}\n")
    assert true(recipe(mended, STEPS.replace("point seam", "crown seam"))) == ()


def test_an_edge_its_own_seam_has_closed_cannot_be_sewn_again() -> None:
    front = FRONT.replace("notions:\n", "  godet: {join: [crown.left, crown.right]}\nnotions:\n")
    (problem,) = true(recipe(front, STEPS.replace("point seam", "point seam, godet")))
    assert problem.place.line == line_of(front, "godet")
    assert "“crown.left” is sewn here, but seam “point seam” has closed it already" in problem.what


def test_an_edge_cannot_meet_itself_unless_it_is_cut_twice() -> None:
    front = FRONT.replace("[shell brim.outer, lining brim.outer]", "[brim.outer, brim.outer]")
    front = front.replace("shell brim.inner", "brim.inner").replace(", lining: 1}", "}")
    front = front.replace("  lining: {title: lawn, thickness: 0.3 mm, widths: [112 cm]}\n", "")
    (problem,) = true(recipe(front))
    assert "joins 2 times “shell brim.outer”, which is cut once" in problem.what
    assert true(recipe(front.replace("cut: {shell: 1}\n", "cut: {shell: 2}\n", 1))) == ()


def test_twin_notches_that_are_not_marked_alike_are_told() -> None:
    rule = recipe()
    made = draft(rule, rule.sizes[0])
    assert not list(check_joins(made))
    brim = made.pieces["brim"]
    for broken, says in (
        ([replace(n, number=n.number + 1) for n in brim.notches], "“4” on crown.rim, “5” on"),
        (brim.notches[:-1], "“1” on crown.rim, no notch on shell brim.inner"),
        ([replace(n, at=n.at + 1) for n in brim.notches], "no notch on shell brim.inner"),
    ):
        pieces = {**made.pieces, "brim": replace(brim, notches=tuple(broken))}
        found = [problem for problem, _ in check_joins(replace(made, pieces=pieces))]
        assert all("seam “crown to brim” are not marked alike" in p.what for p in found)
        assert any(says in problem.what for problem in found)
