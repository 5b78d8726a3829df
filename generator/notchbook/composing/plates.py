"""Plates: every figure of a draft drawn once, for its page and its booklets alike."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from notchbook.composing.figures import draw_figure
from notchbook.composing.markup.svg import svg
from notchbook.composing.setting import Setting
from notchbook.drafting.draft import Draft
from notchbook.problems import Place
from notchbook.reading.recipe import FigureRule, PieceRule, Prose, Recipe, Scalar, Step, Table, Text


@dataclass(frozen=True, slots=True)
class Plates:
    """SVG texts: ``figures`` by the place of their block, ``pieces`` one flat view by name."""

    figures: Mapping[Place, str]
    pieces: Mapping[str, str]


def draw_plates(draft: Draft, setting: Setting) -> Plates:
    """Draw every figure of the recipe, and every piece flat. Raises ContentError."""
    figures = {
        rule.place: svg(draw_figure(draft, rule, setting), prefix=f"f{number}-", setting=setting)
        for number, rule in enumerate(figure_rules(draft.recipe), start=1)
    }
    pieces = {
        name: svg(draw_figure(draft, _flat(rule), setting), prefix=f"p{number}-", setting=setting)
        for number, (name, rule) in enumerate(draft.recipe.pieces.items(), start=1)
    }
    return Plates(figures, pieces)


def figure_rules(recipe: Recipe) -> Iterator[FigureRule]:
    """Every figure of a recipe in the order of the text."""
    for block in (*recipe.opening, *(b for stage in recipe.stages for b in stage.blocks)):
        inner: tuple[Prose | FigureRule, ...] = (
            block.blocks if isinstance(block, Step) else (block,)
        )
        yield from (part for part in inner if isinstance(part, FigureRule))


def _flat(piece: PieceRule) -> FigureRule:
    place = piece.place
    keys = Table({"piece": Scalar(piece.name, place, None)}, {"piece": place}, place)
    return FigureRule(Text("flat", place), None, None, keys, place)
