"""Figures in the places where they are shown smallest: their words can be read there."""

from __future__ import annotations

import re

import pytest

from notchbook.composing.drawing import Text
from notchbook.composing.figures import draw_figure
from notchbook.composing.figures.size import LEAST, SIZE, TALLEST, WIDEST
from notchbook.composing.plates import draw_pieces
from notchbook.drafting.engine import draft
from notchbook.reading.recipe import Scalar
from notchbook.reading.walk import all_figures
from tests.collection import CONTENT, SLUGS, sets
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


@pytest.mark.parametrize("slug", SLUGS)
def test_words_in_any_figure_of_the_collection_can_be_read(slug: str) -> None:
    for number, recipe in enumerate(sets(slug)):
        for each in (recipe.sizes[0], recipe.sizes[-1])[: 1 if number else 2]:
            made = draft(recipe, each)
            drawings = dict(draw_pieces(made, setting()))
            for rule in all_figures(recipe):
                match rule.view.value, rule.keys.entries:
                    case "flat", {"piece": Scalar(), **others} if not others:
                        continue  # It is drawn already.
                drawings[str(rule.place)] = draw_figure(made, rule, setting())
            for name, drawing in drawings.items():
                assert type_printed(drawing) >= LEAST_PRINTED, name
                assert type_shown(drawing) >= LEAST_SHOWN, name
                assert collisions(drawing.items, setting()) == [], name
                assert struck(drawing.items, setting()) == [], name
                words = [item.text for item in drawing.items if isinstance(item, Text)]
                assert not any("_" in word for word in (drawing.title, *words)), name


def test_the_largest_figure_there_may_be_is_still_read() -> None:
    assert SIZE * BOOKLET.imag / TALLEST >= LEAST_PRINTED
    assert SIZE * BOOKLET.real / WIDEST >= LEAST_PRINTED
    assert SIZE * LEAST >= LEAST_PRINTED  # where a page has no more room for it
    assert SIZE * PHONE.real / WIDEST >= LEAST_SHOWN


def test_booklets_give_figures_the_room_that_is_reckoned_with() -> None:
    css = (CONTENT.parent / "themes" / "broadside" / "print.css").read_text()
    (rule,) = re.findall(r"^\.plate svg {(.*)}", css, re.M)
    wide, high = (float(mm) for mm in re.findall(r"max-(?:width|height): ([\d.]+)mm", rule))
    assert wide >= BOOKLET.real
    assert high >= BOOKLET.imag
    (lay,) = re.findall(r"^\.lays \.plate svg { max-width: ([\d.]+)mm; }", css, re.M)
    assert SIZE * float(lay) / WIDEST >= LEAST_PRINTED
