"""Every line of a recipe belongs to the block of the page that it wrote."""

from __future__ import annotations

from importlib.resources import files

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from notchbook.gathering.source import Source
from notchbook.proofing.beside import beside, spots
from notchbook.reading.read import read_recipe

TEXT = (files("notchbook") / "starter" / "recipe.md").read_text(encoding="utf-8")
BLOCKS = spots(read_recipe(Source("cosy", "recipes/cosy", {"recipe.md": TEXT.encode()})), TEXT)


def line_of(words: str, text: str = TEXT) -> int:
    return next(n for n, line in enumerate(text.split("\n"), start=1) if words in line)


PLACES = {
    "title: Lantern cosy": "",
    "usual: 14 cm": "measures",
    "small: {title": "sizes",
    "felt: {title": "shopping",
    "inner: {formula": "workings",
    "allowance: 6 mm": "",
    "side: {title": "p1-title",
    "base: {title": "p2-title",
    "base seam: {join": "seams",
    "thread: {title": "shopping",
    "- pins or clips": "shopping",
    "care: [shears]": "care",
    "A sleeve and a base": "",
    "## Cut": "cut",
    "1. Print the sheets": "cut-1",
    "Wrap the side": "cut-1",
    "cut: [side, base]": "cut-2",
    "view: flat": "f1-title",
    "caption: The side.": "f1-title",
    "## Sew": "sew",
    "sew: [base seam]": "sew-2",
}


@pytest.mark.parametrize("words", PLACES)
def test_a_line_belongs_to_the_block_it_wrote(words: str) -> None:
    assert beside(line_of(words), BLOCKS, TEXT, TEXT) == PLACES[words]


@given(
    st.sampled_from([words for words in PLACES if words != "care: [shears]"]),
    st.integers(0, TEXT.count("\n")),
    st.lists(st.sampled_from(["", "nonsense:", "{{", "9. Another"]), min_size=1, max_size=4),
)
@settings(max_examples=60)
def test_it_still_does_when_lines_were_written_above_or_below_it(
    words: str, at: int, new: list[str]
) -> None:
    lines = TEXT.split("\n")
    now = "\n".join([*lines[:at], *new, *lines[at:]])
    assert beside(line_of(words, now), BLOCKS, TEXT, now) == PLACES[words]


def test_a_line_written_into_a_step_belongs_to_that_step() -> None:
    now = TEXT.replace("   round the jar:", "   {{ heigth }}\n   round the jar:")
    assert beside(line_of("heigth", now), BLOCKS, TEXT, now) == "cut-1"
