"""Plates: every figure of a draft drawn once, for its page and its booklets alike."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from notchbook.composing.drawing import Drawing
from notchbook.composing.figures import draw_figure
from notchbook.composing.markup.svg import svg
from notchbook.composing.setting import Setting
from notchbook.drafting.draft import Draft
from notchbook.problems import Place
from notchbook.reading.recipe import FigureRule, PieceRule, Prose, Recipe, Scalar, Step, Table, Text


@dataclass(frozen=True, slots=True)
class Plates:
    """SVG texts: ``figures`` by the place of their block, ``pieces`` one flat view by name, and
    ``cover``: the first figure of the recipe's opening, or all its pieces in miniature."""

    figures: Mapping[Place, str]
    pieces: Mapping[str, str]
    cover: str


def draw_plates(draft: Draft, setting: Setting) -> Plates:
    """Draw every figure of the recipe, and every piece flat. Raises ContentError."""
    flat = {
        name: draw_figure(draft, _flat(rule), setting) for name, rule in draft.recipe.pieces.items()
    }

    def drawn(rule: FigureRule) -> Drawing:
        only = _only_piece(rule)
        if only not in flat:
            return draw_figure(draft, rule, setting)
        return replace(flat[only], title=rule.alt.value) if rule.alt else flat[only]

    figures = {
        rule.place: svg(drawn(rule), prefix=f"f{number}-", setting=setting)
        for number, rule in enumerate(figure_rules(draft.recipe), start=1)
    }
    pieces = {
        name: svg(drawing, prefix=f"p{number}-", setting=setting)
        for number, (name, drawing) in enumerate(flat.items(), start=1)
    }
    return Plates(figures, pieces, draw_cover(draft, setting))


def draw_cover(draft: Draft, setting: Setting) -> str:
    """What stands for the recipe on its booklet and on the index, as SVG."""
    place = draft.recipe.place
    opening = (block for block in draft.recipe.opening if isinstance(block, FigureRule))
    rule = next(opening, FigureRule(Text("pieces", place), None, None, Table({}, {}, place), place))
    return svg(draw_figure(draft, rule, setting), prefix="cover-", setting=setting)


def _only_piece(rule: FigureRule) -> str:
    """The piece of a figure that shows one piece flat and nothing else; empty for others."""
    piece = rule.keys.entries.get("piece")
    alone = rule.view.value == "flat" and len(rule.keys.entries) == 1
    return piece.text if alone and isinstance(piece, Scalar) else ""


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
