"""The measuring view: every measure at its place, with its value."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest

from notchbook.composing.drawing import Stroke
from notchbook.composing.figures import draw_figure
from notchbook.composing.figures.size import TALLEST
from notchbook.composing.figures.taken import GIRTHS, HEAD_AND_BUST, LOWER_LEG, seen_for
from notchbook.drafting.draft import Draft
from notchbook.drafting.fit import CROWN
from notchbook.drafting.geometry.box import bounds
from notchbook.problems import ContentError
from notchbook.reading.recipe import TAKEN
from tests.collection import SLUGS, drafts
from tests.composing.figures.drawn import faultless, said
from tests.composing.geometry import opened
from tests.composing.sample import figure, figure_problems, setting
from tests.recipes import HAT, HEAD, recipe


def made(slug: str, *taken: str) -> Draft:
    """A recipe in its smallest size; its measures are ``taken`` so, where that is given."""
    drawn = drafts(slug)[0]
    if not taken:
        return drawn
    places = dict(zip(drawn.recipe.measures, taken, strict=False))
    measures = {
        name: replace(measure, taken=places.get(name, ""))
        for name, measure in drawn.recipe.measures.items()
    }
    return replace(drawn, recipe=replace(drawn.recipe, measures=measures))


@pytest.mark.parametrize("slug", SLUGS)
def test_every_measure_that_says_where_it_is_taken_is_named_with_its_value(slug: str) -> None:
    drawn = made(slug)
    measures = [m for m in drawn.recipe.measures.values() if m.taken]
    if not measures:
        assert "says where it is taken" in str(figure_problems(drawn, figure("measuring"))[0])
        return
    drawing = draw_figure(drawn, figure("measuring"), setting())
    faultless(drawing, TALLEST)
    words = said(drawing).replace(" | ", " ")
    for measure in measures:
        tape = f"{drawn.measures[measure.name] / 10:.1f}".removesuffix(".0")
        assert f"{tape} cm" in words
        assert measure.title.value in words
        assert measure.title.value in drawing.title


@pytest.mark.parametrize("places", [*pairwise(TAKEN), *zip(TAKEN, TAKEN[4:], strict=False)])
def test_any_two_places_are_shown_and_told_side_by_side(places: tuple[str, str]) -> None:
    drawing = draw_figure(made("lamplighters-hat", *places), figure("measuring"), setting())
    faultless(drawing, TALLEST)
    tapes = [s for s in opened(drawing.items) if isinstance(s, Stroke) and s.role == "tape"]
    assert len(tapes) >= 2


def test_every_place_there_is_a_word_for_is_on_something() -> None:
    assert {*HEAD_AND_BUST, *LOWER_LEG, "hand"} == set(TAKEN)
    assert set(GIRTHS) < set(TAKEN)
    for place in TAKEN:
        (kind,) = seen_for([place])
        assert any(place in seen.tapes for seen in kind)
        assert setting().catalogue.words[f"measuring.{place}"]


def test_the_tape_goes_round_the_head_where_its_girth_is_measured() -> None:
    front, side = seen_for(["head"], 570.0)[0]
    for seen in (front, side):
        tape = bounds([seen.tapes["head"]])
        assert tape.height == 0
        assert tape.centre.imag == 0
    head = bounds([side.outlines[0]])
    assert head.low.imag == pytest.approx(-CROWN * 570.0, abs=0.5)


def test_the_tape_up_to_the_book_is_as_long_as_a_crown_is_high() -> None:
    ((side,),) = seen_for(["crown"], 570.0)
    assert side.tapes["crown"].length() == pytest.approx(CROWN * 570.0)


def test_a_recipe_can_choose_among_its_measures() -> None:
    drawn = made("lock-keepers-gaiters")
    words = said(draw_figure(drawn, figure("measuring", measures=["calf"]), setting()))
    assert "Calf girth" in words
    assert "Ankle girth" not in words


@pytest.mark.parametrize(
    ("keys", "words"),
    [
        ({"measure": "head"}, "A measuring figure has no “measure”. Did you mean “measures”?"),
        ({"measures": ["haed"]}, "There is no measure “haed” in this recipe."),
        ({"measures": ["brim"]}, "The measure “brim” does not say where it is taken."),
    ],
)
def test_what_it_cannot_show_is_said(keys: dict[str, str], words: str) -> None:
    found = figure_problems(made("lamplighters-hat"), figure("measuring", **keys))
    assert [words in str(problem).replace("\n   ", "") for problem in found] == [True]


def test_a_place_no_tape_knows_is_found_with_the_one_that_is_meant() -> None:
    front = HEAD.replace(
        "    range: [52 cm, 66 cm]\n", "    range: [52 cm, 66 cm]\n    taken: hed\n"
    )
    with pytest.raises(ContentError) as caught:
        recipe(front + HAT)
    (problem,) = caught.value.problems
    assert "“taken” can't be “hed”. Did you mean “head”?" in str(problem).replace("\n   ", "")
