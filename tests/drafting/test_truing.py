"""Truing finds what does not meet, in any size, and says by how much and where."""

from __future__ import annotations

import pytest

from notchbook.drafting.truing import ends_of_ranges, true
from tests.drafting.test_engine import line_of
from tests.recipes import HAT, HEAD, STEPS, recipe

FRONT = HEAD + HAT


def test_a_sound_recipe_is_true() -> None:
    assert true(recipe()) == ()


def test_every_corner_of_the_ranges_is_visited() -> None:
    titles = {size.title for size in ends_of_ranges(recipe())}
    assert titles == {
        f"head {head} cm, height {height} cm" for head in (52, 66) for height in (25, 60)
    }


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
    front = FRONT.replace("width: 8 cm", "width: 8 cm * 10 cm / (height - 25 cm) + 2 cm")
    (problem,) = true(recipe(front))
    assert "height 25 cm" in problem.what
    assert problem.place.line == line_of(front, "width: 8 cm *")


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
