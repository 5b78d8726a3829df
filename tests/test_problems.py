"""Problems: how places are written, and which name was meant."""

from __future__ import annotations

import pickle

import pytest

from notchbook.problems import ContentError, Place, Problem, suggestion
from notchbook.reading.formula import FUNCTIONS, READINGS
from notchbook.reading.front_matter import KEYS


def test_what_has_no_lines_is_named_without_them() -> None:
    assert str(Place("recipe.md", 3, 5)) == "recipe.md:3:5"
    assert str(Place("--measure head=57")) == "--measure head=57"


def test_problems_come_in_the_order_of_their_places_each_once_and_travel() -> None:
    late, early = (Problem(Place("a.md", line, 1), "Wrong.", "Mend it.") for line in (9, 2))
    error = ContentError([late, early, late])
    assert error.problems == (early, late)
    assert pickle.loads(pickle.dumps(error)).problems == error.problems


@pytest.mark.parametrize(
    ("word", "known", "meant"),
    [
        ("len", (*FUNCTIONS, *READINGS), "length"),
        ("vol", (*FUNCTIONS, *READINGS), "volume"),
        ("SQRT", FUNCTIONS, "sqrt"),
        ("roundup", FUNCTIONS, "round_up"),
        ("summery", KEYS, "summary"),
        ("license", KEYS, "licence"),
        ("ed", KEYS, "editions"),
        ("allow", KEYS, "allowance"),
        ("hgt", ("head", "height"), "height"),
        ("headgirth", ("head", "height"), "head"),
        ("brm", ("brim", "crown"), "brim"),
    ],
)
def test_the_name_that_was_meant_is_found(word: str, known: tuple[str, ...], meant: str) -> None:
    assert suggestion(word, known) == f"Did you mean “{meant}”?"


@pytest.mark.parametrize("word", ["zzz", "h", "", "colour"])
def test_nothing_is_suggested_where_nothing_is_near(word: str) -> None:
    assert suggestion(word, ("head", "height")) == "Use one of: head, height."
    assert suggestion(word, ("brim",)) == "The only one there is: brim."
