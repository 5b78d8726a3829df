"""Plates: every figure of a draft drawn once, for its page and its booklets alike."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace

from notchbook.composing.drawing import Drawing
from notchbook.composing.figures import draw_figure
from notchbook.composing.lay_plates import LayPlate, draw_lays
from notchbook.composing.markup.svg import svg
from notchbook.composing.setting import Setting
from notchbook.drafting.draft import Draft, Lay
from notchbook.problems import ContentError, Findings, Place
from notchbook.reading.recipe import FigureRule, PieceRule, Recipe, Scalar, Table, Text
from notchbook.reading.walk import all_figures

Draw = Callable[[Draft, FigureRule, Setting], Drawing]
"""Draws a figure, as ``draw_figure`` does, which may remember what it drew."""


@dataclass(frozen=True, slots=True)
class Plates:
    """SVG texts: ``figures`` by the place of their block, ``pieces`` one flat view by name, and
    ``cover``: the first figure of the recipe's opening, or all its pieces in miniature. ``lays``
    are those that no figure of the recipe shows; ``drawings`` what the figures were made from."""

    drawings: Mapping[Place, Drawing]
    figures: Mapping[Place, str]
    pieces: Mapping[str, str]
    cover: str
    lays: tuple[LayPlate, ...] = ()


def draw_plates(
    draft: Draft, setting: Setting, draw: Draw = draw_figure, lays: tuple[Lay, ...] = ()
) -> Plates:
    """Draw every figure of the recipe, every piece flat, and the lays. Raises ContentError with
    what is wrong in all of them."""
    flat = draw_pieces(draft, setting, draw)
    findings = Findings()
    drawings: dict[Place, Drawing] = {}
    figures: dict[Place, str] = {}
    for number, rule in enumerate(all_figures(draft.recipe), start=1):
        try:
            drawings[rule.place] = drawing = _drawn(draft, rule, flat, setting, draw)
        except ContentError as error:
            findings.take(error)
        else:
            figures[rule.place] = svg(drawing, prefix=f"f{number}-", setting=setting)
    findings.settle()
    pieces = {
        name: svg(drawing, prefix=f"p{number}-", setting=setting)
        for number, (name, drawing) in enumerate(flat.items(), start=1)
    }
    first = _cover_rule(draft.recipe)
    cover = _cover(draft, drawings.get(first.place) or draw(draft, first, setting), setting)
    return Plates(drawings, figures, pieces, cover, draw_lays(draft, lays, setting))


def _drawn(
    draft: Draft, rule: FigureRule, flat: Mapping[str, Drawing], setting: Setting, draw: Draw
) -> Drawing:
    """A figure; one of a piece alone, which is drawn already, with its own words."""
    only = _only_piece(rule)
    if only not in flat:
        return draw(draft, rule, setting)
    return replace(flat[only], title=rule.alt.value) if rule.alt else flat[only]


def draw_pieces(draft: Draft, setting: Setting, draw: Draw = draw_figure) -> dict[str, Drawing]:
    """Every piece flat, by its name."""
    return {name: draw(draft, _flat(rule), setting) for name, rule in draft.recipe.pieces.items()}


def draw_cover(draft: Draft, setting: Setting, draw: Draw = draw_figure) -> str:
    """What stands for the recipe on its booklet and on the index, as SVG."""
    return _cover(draft, draw(draft, _cover_rule(draft.recipe), setting), setting)


def _cover_rule(recipe: Recipe) -> FigureRule:
    """The first figure of the opening; without one, all pieces, at the place of the recipe."""
    place = recipe.place
    opening = (block for block in recipe.opening if isinstance(block, FigureRule))
    return next(opening, FigureRule(Text("pieces", place), None, None, Table({}, {}, place), place))


def _cover(draft: Draft, drawing: Drawing, setting: Setting) -> str:
    return svg(drawing, prefix=f"{draft.recipe.slug}-cover-", setting=setting)


def _only_piece(rule: FigureRule) -> str:
    """The piece of a figure that shows one piece flat and nothing else; empty for others."""
    piece = rule.keys.entries.get("piece")
    alone = rule.view.value == "flat" and len(rule.keys.entries) == 1
    return piece.text if alone and isinstance(piece, Scalar) else ""


def _flat(piece: PieceRule) -> FigureRule:
    place = piece.place
    keys = Table({"piece": Scalar(piece.name, place, None)}, {"piece": place}, place)
    return FigureRule(Text("flat", place), None, None, keys, place)
