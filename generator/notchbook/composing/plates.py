"""Plates: every figure of a draft drawn once, for its page and its booklets alike."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from notchbook.composing.drawing import Drawing
from notchbook.composing.figures import draw_figure
from notchbook.composing.markup.svg import svg
from notchbook.composing.setting import Setting
from notchbook.drafting.draft import Draft
from notchbook.problems import ContentError, Findings, Place
from notchbook.reading.recipe import FigureRule, PieceRule, Scalar, Table, Text
from notchbook.reading.walk import all_figures


@dataclass(frozen=True, slots=True)
class Plates:
    """SVG texts: ``figures`` by the place of their block, ``pieces`` one flat view by name, and
    ``cover``: the first figure of the recipe's opening, or all its pieces in miniature."""

    figures: Mapping[Place, str]
    pieces: Mapping[str, str]
    cover: str


def draw_plates(draft: Draft, setting: Setting) -> Plates:
    """Draw every figure of the recipe, and every piece flat. Raises ContentError with what is wrong
    in all of them."""
    flat = draw_pieces(draft, setting)
    findings = Findings()
    figures: dict[Place, str] = {}
    for number, rule in enumerate(all_figures(draft.recipe), start=1):
        try:
            drawing = _drawn(draft, rule, flat, setting)
        except ContentError as error:
            findings.take(error)
        else:
            figures[rule.place] = svg(drawing, prefix=f"f{number}-", setting=setting)
    findings.settle()
    pieces = {
        name: svg(drawing, prefix=f"p{number}-", setting=setting)
        for number, (name, drawing) in enumerate(flat.items(), start=1)
    }
    return Plates(figures, pieces, draw_cover(draft, setting))


def _drawn(
    draft: Draft, rule: FigureRule, flat: Mapping[str, Drawing], setting: Setting
) -> Drawing:
    """A figure; one of a piece alone, which is drawn already, with its own words."""
    only = _only_piece(rule)
    if only not in flat:
        return draw_figure(draft, rule, setting)
    return replace(flat[only], title=rule.alt.value) if rule.alt else flat[only]


def draw_pieces(draft: Draft, setting: Setting) -> dict[str, Drawing]:
    """Every piece flat, by its name."""
    return {
        name: draw_figure(draft, _flat(rule), setting) for name, rule in draft.recipe.pieces.items()
    }


def draw_cover(draft: Draft, setting: Setting) -> str:
    """What stands for the recipe on its booklet and on the index, as SVG."""
    place = draft.recipe.place
    opening = (block for block in draft.recipe.opening if isinstance(block, FigureRule))
    rule = next(opening, FigureRule(Text("pieces", place), None, None, Table({}, {}, place), place))
    prefix = f"{draft.recipe.slug}-cover-"
    return svg(draw_figure(draft, rule, setting), prefix=prefix, setting=setting)


def _only_piece(rule: FigureRule) -> str:
    """The piece of a figure that shows one piece flat and nothing else; empty for others."""
    piece = rule.keys.entries.get("piece")
    alone = rule.view.value == "flat" and len(rule.keys.entries) == 1
    return piece.text if alone and isinstance(piece, Scalar) else ""


def _flat(piece: PieceRule) -> FigureRule:
    place = piece.place
    keys = Table({"piece": Scalar(piece.name, place, None)}, {"piece": place}, place)
    return FigureRule(Text("flat", place), None, None, keys, place)
