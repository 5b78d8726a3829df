"""The reference for authors: every view of a figure, told and drawn from the code itself.

What a view shows and which keys it takes is the docstring of its module, and so is its example:
the lines of a ``figure`` block, drawn here on one recipe (``figures/example.py``).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from markupsafe import Markup, escape

from notchbook.composing.docstring import Explained, docstring_of, explained, setter
from notchbook.composing.drawing import Drawing
from notchbook.composing.figures import draw_figure, view_names, views
from notchbook.composing.figures.example import RECIPE
from notchbook.composing.markup.html import render
from notchbook.composing.markup.svg import svg
from notchbook.composing.pages import Frame
from notchbook.composing.setting import Setting
from notchbook.drafting.draft import Draft
from notchbook.drafting.engine import draft
from notchbook.gathering.source import Source
from notchbook.reading.read import read_recipe
from notchbook.reading.recipe import FigureRule

PAGE = "figures.html"
"""The page's name at the top of a site."""


@dataclass(frozen=True, slots=True)
class View:
    """A view: what its docstring says, its example as it stands in a recipe, and that drawn."""

    name: str
    text: Explained
    block: str
    drawing: Drawing


def figure_views(setting: Setting) -> Iterator[View]:
    """Every view of a figure, in name order."""
    texts = {name: explained(docstring_of(_module(name))) for name in view_names()}
    blocks = {name: f"```figure\n{text.example}```\n" for name, text in texts.items()}
    made = draft_figures(blocks)
    rules = [block for block in made.recipe.opening if isinstance(block, FigureRule)]
    for (name, text), rule in zip(texts.items(), rules, strict=True):
        yield View(name, text, blocks[name], draw_figure(made, rule, setting))


def draft_figures(blocks: Mapping[str, str]) -> Draft:
    """The example drafted, with these blocks in its opening. Raises ContentError."""
    first = "\n## "
    text = RECIPE.replace(first, "\n" + "\n".join(blocks.values()) + first, 1)
    recipe = read_recipe(Source("example", "example", {"recipe.md": text.encode()}))
    return draft(recipe, recipe.sizes[0])


def figures_page(*, setting: Setting, frame: Frame) -> str:
    """The page for authors: all views with a figure of each."""

    def plate(view: View) -> Markup:
        return Markup(svg(view.drawing, prefix=f"{view.name}-", setting=setting))

    return render(
        setting,
        PAGE,
        frame=frame,
        here=PAGE,
        views=list(figure_views(setting)),
        recipe=RECIPE,
        html=setter(),
        plate=plate,
        verbatim=escape,
    )


def figures_text() -> str:
    """All the words of the page that are no drawing's and in no catalogue."""
    return "\n".join([RECIPE, *(docstring_of(_module(name)) for name in view_names())])


def _module(view: str) -> str:
    return f"{views.__name__}.{view}"
