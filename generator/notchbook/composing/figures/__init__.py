"""Figures: what a recipe's ``figure`` blocks show, one view a file in ``views``."""

from __future__ import annotations

import pkgutil
from dataclasses import replace
from importlib import import_module

from notchbook.composing.drawing import Drawing
from notchbook.composing.figures import views
from notchbook.composing.setting import Setting
from notchbook.drafting.draft import Draft
from notchbook.problems import fault, suggestion
from notchbook.reading.recipe import FigureRule


def view_names() -> tuple[str, ...]:
    """Every view there is."""
    return tuple(sorted(module.name for module in pkgutil.iter_modules(views.__path__)))


def draw_figure(draft: Draft, figure: FigureRule, setting: Setting) -> Drawing:
    """The figure a recipe asks for. The author's ``alt`` is its title; without one, the title is
    made from the geometry. Raises ContentError with every problem of the figure."""
    view = figure.view.value
    known = view_names()
    if view not in known:
        what = f"There is no figure view “{view}”."
        raise fault(figure.view.place, what, suggestion(view, known))
    drawing: Drawing = import_module(f"{views.__name__}.{view}").draw(draft, figure, setting)
    return replace(drawing, title=figure.alt.value) if figure.alt else drawing
