"""The lays of a draft drawn for its page and its booklet, beside the cutting list."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from markupsafe import Markup

from notchbook.composing.figures.lay_plan import draw_lay
from notchbook.composing.markup.svg import svg
from notchbook.composing.setting import Setting
from notchbook.composing.values import Values, words
from notchbook.drafting.draft import Draft, Lay
from notchbook.reading.recipe import Scalar
from notchbook.reading.walk import all_figures


@dataclass(frozen=True, slots=True)
class LayPlate:
    """A lay drawn: its cloth and width in words, and its SVG."""

    title: Markup
    svg: Markup


def draw_lays(draft: Draft, lays: Iterable[Lay], setting: Setting) -> tuple[LayPlate, ...]:
    """Every lay, but none of a cloth that the recipe has a figure of its own for."""
    figures = [rule for rule in all_figures(draft.recipe) if rule.view.value == "lay"]
    keys = [rule.keys.entries.get("cloth") for rule in figures]
    shown = {key.text for key in keys if isinstance(key, Scalar)}
    values = Values(setting.workshop.units)
    return tuple(
        LayPlate(
            words(
                setting.catalogue.words["list.lay.title"],
                cloth=draft.recipe.cloths[lay.cloth].title,
                width=values.tape(lay.width),
            ),
            Markup(svg(draw_lay(draft, lay, setting), prefix=f"l{number}-", setting=setting)),
        )
        for number, lay in enumerate(lays, start=1)
        if lay.cloth not in shown
    )
