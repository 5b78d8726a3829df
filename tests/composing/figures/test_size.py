"""Figures in the places where they are shown smallest: their words can be read there."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path

import pytest

from notchbook.composing.figures import draw_figure
from notchbook.composing.figures.size import LEAST, SIZE, TALLEST, WIDEST
from notchbook.composing.plates import draw_pieces
from notchbook.drafting.draft import Draft
from notchbook.drafting.engine import draft
from notchbook.gathering.recipes import find_recipe
from notchbook.reading.choosing import published
from notchbook.reading.read import read_recipe
from notchbook.reading.recipe import Recipe
from notchbook.reading.walk import all_figures
from tests.composing.figures.legible import (
    BOOKLET,
    LEAST_PRINTED,
    LEAST_SHOWN,
    PHONE,
    type_printed,
    type_shown,
)
from tests.composing.geometry import collisions, struck
from tests.composing.sample import setting

ROOT = Path(__file__).parents[3]
SLUGS = sorted(path.name for path in (ROOT / "content" / "recipes").iterdir())


@cache
def sets(slug: str) -> tuple[Recipe, ...]:
    """A recipe of the collection, once for each set of choices it is published with."""
    return published(read_recipe(find_recipe(ROOT / "content", slug)))


@cache
def drafts(slug: str) -> tuple[Draft, ...]:
    """A recipe of the collection in its smallest size, once for each set of choices."""
    return tuple(draft(recipe, recipe.sizes[0]) for recipe in sets(slug))


@pytest.mark.parametrize("slug", SLUGS)
def test_no_words_in_any_figure_of_the_collection_are_too_small_or_run_together(slug: str) -> None:
    for number, recipe in enumerate(sets(slug)):
        for each in (recipe.sizes[0], recipe.sizes[-1])[: 1 if number else 2]:
            made = draft(recipe, each)
            drawings = dict(draw_pieces(made, setting()))
            for rule in all_figures(recipe):
                drawings[str(rule.place)] = draw_figure(made, rule, setting())
            for name, drawing in drawings.items():
                assert type_printed(drawing) >= LEAST_PRINTED, name
                assert type_shown(drawing) >= LEAST_SHOWN, name
                assert collisions(drawing.items, setting()) == [], name
                assert struck(drawing.items, setting()) == [], name


def test_the_largest_figure_there_may_be_is_still_read() -> None:
    assert SIZE * BOOKLET.imag / TALLEST >= LEAST_PRINTED
    assert SIZE * BOOKLET.real / WIDEST >= LEAST_PRINTED
    assert SIZE * LEAST >= LEAST_PRINTED  # where a page has no more room for it
    assert SIZE * PHONE.real / WIDEST >= LEAST_SHOWN


def test_booklets_give_figures_the_room_that_is_reckoned_with() -> None:
    css = (ROOT / "themes" / "broadside" / "print.css").read_text()
    (rule,) = re.findall(r"^\.plate svg {(.*)}", css, re.M)
    wide, high = (float(mm) for mm in re.findall(r"max-(?:width|height): ([\d.]+)mm", rule))
    assert wide >= BOOKLET.real
    assert high >= BOOKLET.imag
    (lay,) = re.findall(r"^\.lays \.plate svg { max-width: ([\d.]+)mm; }", css, re.M)
    assert SIZE * float(lay) / WIDEST >= LEAST_PRINTED
