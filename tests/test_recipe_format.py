"""docs/recipe-format.md: its example is a true recipe, and no key is missing from the page."""

from __future__ import annotations

import inspect
import re
from pathlib import Path

import pytest

from notchbook.composing.figures import view_names
from notchbook.drafting.engine import draft
from notchbook.drafting.shapes import shapes
from notchbook.drafting.truing import true
from notchbook.gathering.source import Source
from notchbook.reading import (
    body,
    choices,
    front_matter,
    inner_lines,
    pieces,
    seams,
    sizes,
    workshop,
)
from notchbook.reading.formula import FUNCTIONS, READINGS
from notchbook.reading.quantity import UNITS
from notchbook.reading.read import read_recipe
from notchbook.reading.recipe import Recipe
from notchbook.reading.walk import all_figures
from tests.composing.sample import figure_problems, setting

PAGE = (Path(__file__).parents[1] / "docs" / "recipe-format.md").read_text(encoding="utf-8")


@pytest.fixture(scope="module")
def example() -> Recipe:
    """The recipe that the page's examples make together."""
    front = "".join(re.findall(r"^```yaml\n(.*?)^```$", PAGE, re.MULTILINE | re.DOTALL))
    (text,) = re.findall(r"^````markdown\n(.*?)^````$", PAGE, re.MULTILINE | re.DOTALL)
    data = f"---\n{front}---\n\n{text}".encode()
    return read_recipe(Source("wick-pouch", "wick-pouch", {"recipe.md": data}))


def test_the_example_is_true_in_every_size_and_its_figures_can_be_drawn(example: Recipe) -> None:
    assert true(example) == ()
    made = draft(example, example.sizes[0])
    for rule in all_figures(example):
        assert figure_problems(made, rule) == ()


def test_every_key_a_reader_knows_is_on_the_page() -> None:
    known = {
        *front_matter.KEYS, *front_matter.MEASURE_KEYS, *front_matter.EDITION_KEYS,
        *front_matter.LIMIT_KEYS, *front_matter.WORKING_KEYS, *front_matter.NOTION_KEYS,
        *choices.KEYS, *choices.BY_KEYS,
        *sizes.RUN_KEYS, *pieces.CLOTH_KEYS, *pieces.PIECE_KEYS, *pieces.CUT_KEYS, *seams.KEYS,
        *inner_lines.LINE_KEYS, *inner_lines.SPOT_KEYS, *inner_lines.KINDS, *body.LEAVE_KEYS,
        *body.WORDS, *body.STEP_KEYS, *body.STAGE_KEYS, *body.FIGURE_KEYS,
        *workshop.KEYS, *workshop.PAPERS, *workshop.FONTS, *FUNCTIONS, *READINGS, *UNITS,
    }  # fmt: skip
    written = set(re.findall(r"[\w]+|%", PAGE))
    assert known - written == set()


def test_every_shape_is_on_the_page_with_all_it_takes() -> None:
    rows = {row.split("`")[1]: row for row in PAGE.splitlines() if row.startswith("| `")}
    for name, shape in shapes().items():
        written = set(re.findall(r"`(\w+)`", rows[name]))
        assert set(inspect.signature(shape).parameters) - written == set(), name


def test_every_view_of_a_figure_is_on_the_page() -> None:
    written = re.findall(r"^\| view `(\w+)`", PAGE, re.MULTILINE)
    assert set(view_names()) == set(written)


def test_every_caution_is_on_the_page() -> None:
    words = setting().catalogue.words
    cautions = {key.split(".")[1] for key in words if re.fullmatch(r"care\.\w+\.title", key)}
    assert cautions - set(re.findall(r"\w+", PAGE)) == set()
