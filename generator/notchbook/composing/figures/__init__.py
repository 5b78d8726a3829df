"""The views a figure can show, one file each, found by scanning this folder in name order.

A view is a module with ``draw(draft, figure, setting) -> Drawing``, which raises ContentError
where the figure names what is not there.
"""

from __future__ import annotations

import pkgutil
from dataclasses import replace
from importlib import import_module

from notchbook.composing.drawing import Drawing
from notchbook.composing.setting import Setting
from notchbook.drafting.draft import Draft
from notchbook.problems import ContentError, Problem, suggestion
from notchbook.reading.recipe import FigureRule


def views() -> tuple[str, ...]:
    """Every view there is."""
    return tuple(sorted(module.name for module in pkgutil.iter_modules(__path__)))


def draw_figure(draft: Draft, figure: FigureRule, setting: Setting) -> Drawing:
    """The figure a recipe asks for. The author's ``alt`` is its title; without one, the title is
    made from the geometry. Raises ContentError with every problem of the figure."""
    view = figure.view.value
    if view not in views():
        what = f"There is no figure view “{view}”."
        raise ContentError([Problem(figure.view.place, what, suggestion(view, views()))])
    drawing: Drawing = import_module(f"{__name__}.{view}").draw(draft, figure, setting)
    return replace(drawing, title=figure.alt.value) if figure.alt else drawing


def check_figure(draft: Draft, figure: FigureRule, setting: Setting) -> tuple[Problem, ...]:
    """What is wrong with a figure."""
    try:
        draw_figure(draft, figure, setting)
    except ContentError as error:
        return error.problems
    return ()
