"""Drafting and truing with choices: every set is trued, and the worst one is named."""

from __future__ import annotations

import math

import pytest

from notchbook.drafting.engine import draft
from notchbook.drafting.geometry.box import bounds
from notchbook.drafting.truing import true
from notchbook.reading.choosing import choose
from tests.choosy import choosy

WIRED = {"opening": "round", "edge": "wired"}


def test_every_set_of_a_sound_recipe_is_true() -> None:
    assert true(choosy()) == ()


def test_a_draft_is_as_usual_where_choices_are_not_settled() -> None:
    recipe = choosy()
    made = draft(recipe, recipe.sizes[0])
    assert made.recipe == choose(recipe, {})
    assert list(made.pieces) == ["brim", "crown", "ear", "wad"]
    assert made.notions == {}


def test_what_is_chosen_is_what_is_drafted() -> None:
    settled = choose(choosy(), WIRED)
    made = draft(settled, settled.sizes[0])
    assert list(made.pieces) == ["brim", "crown"]
    inner = made.pieces["brim"].flat.edges["inner"]
    box = bounds([inner.path])
    assert box.width == pytest.approx(box.height)
    assert inner.length() == pytest.approx(made.values["rim"].value)
    assert made.notions["wire"] is not None
    girth = math.tau * (inner.length() / math.tau + 80) + 125
    assert made.notions["wire"].value == pytest.approx(girth)


def test_a_fault_of_one_set_is_told_with_that_set() -> None:
    (problem,) = true(choosy("oval: 1.29, round: 1", "oval: 1.29, round: 9"))
    assert "“oval” comes to 9, which is out of reach." in problem.what
    assert "(At 56 cm, in the set round-wired; wrong in " in problem.what


def test_a_fault_of_a_set_nobody_publishes_is_told_too() -> None:
    (problem,) = true(choosy("    cut: [brim, crown]\n", "    cut: [crown]\n"))
    assert problem.what == "Piece “brim” is never cut from lining or shell."
    old = "    when: {edge: wired}\n    use: [wire]\n"
    (problem,) = true(choosy(old, "    when: {edge: wired, opening: round}\n    use: [wire]\n"))
    assert problem.what == "Notion “wire” is never used. (With opening: oval, edge: wired.)"


def test_a_choice_in_a_pieces_parameter_is_told_what_to_write_instead() -> None:
    found = true(choosy("    oval: ratio\n", "    oval: opening\n"))
    assert [problem.what for problem in found] == [
        "“opening” is a choice, and a value is wanted here."
    ]
    assert "{by: opening, oval: …, round: …}" in found[0].remedy
