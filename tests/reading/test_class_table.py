"""Tables of a class: what is read, and what is said of what can't be."""

from __future__ import annotations

import pytest

from notchbook.problems import ContentError
from notchbook.reading.class_table import read_class
from tests.recipes import HAT, HEAD, recipe

RECIPE = recipe(HEAD + HAT)


@pytest.mark.parametrize("mark", [",", ";", "\t"])
def test_a_row_is_a_person_and_an_empty_cell_is_as_usual(mark: str) -> None:
    text = f"name{mark}head{mark}height\nAdda{mark}56.5cm{mark}\n\nBeric{mark}{mark}40 cm\n"
    adda, beric = read_class(text.encode(), "class.csv", RECIPE)
    assert (adda.name, dict(adda.measures)) == ("Adda", {"head": "56.5cm"})
    assert (beric.name, dict(beric.measures)) == ("Beric", {"height": "40 cm"})
    assert beric.place.line == 4


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("name,haed\nAdda,56cm\n", "no measure and no choice called “haed”"),
        ("name,head,head\nAdda,56cm,57cm\n", "two columns “head”"),
        ("name,head\n", "no person in it"),
        ("", "no person in it"),
        ("name,head\nAdda,56,5cm\n", "3 cells, but there are 2 columns"),
    ],
)
def test_what_is_wrong_is_a_sentence_at_its_line(text: str, said: str) -> None:
    with pytest.raises(ContentError) as caught:
        read_class(text.encode(), "class.csv", RECIPE)
    (problem,) = caught.value.problems
    assert said in problem.what
    assert problem.place.file == "class.csv" and problem.place.line >= 1


def test_a_table_that_is_no_text_is_refused() -> None:
    with pytest.raises(ContentError, match="not UTF-8"):
        read_class(b"\xff\xfe\x00", "class.csv", RECIPE)
