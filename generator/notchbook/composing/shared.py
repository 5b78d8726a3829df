"""Figures as files of their own, to be shown and sent around: on white, saying what they are of."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import replace

from notchbook.composing.called import size_title
from notchbook.composing.drawing import Drawing, Fill
from notchbook.composing.figures.board import MARGIN
from notchbook.composing.lettering.paragraph import lowest, paragraph
from notchbook.composing.markup.svg import svg
from notchbook.composing.setting import Setting
from notchbook.drafting.draft import Draft
from notchbook.drafting.geometry.box import Box
from notchbook.drafting.geometry.path import polyline
from notchbook.problems import Place
from notchbook.reading.recipe import FigureRule, Recipe
from notchbook.reading.walk import placed_blocks

FOLDER = "figures"
"""Beside the page that shows them."""

_SIZE, _ROOM = 2.6, 2.0
"""Em of the line below a figure, and the white round both beside a figure's own, mm."""


def figure_files(recipe: Recipe) -> Mapping[Place, str]:
    """The name of every figure's file, by the place of its block: the stage or step that it stands
    in (``sew-the-brim-2``, ``opening``), its view, and a number where that is not the first such
    one there. Words and other figures may change round it without changing its name."""
    seen: Counter[str] = Counter()
    names = {}
    for where, block in placed_blocks(recipe):
        if isinstance(block, FigureRule):
            name = f"{where or 'opening'}-{block.view.value}"
            seen[name] += 1
            names[block.place] = f"{name}-{seen[name]}.svg" if seen[name] > 1 else f"{name}.svg"
    return names


def shared(draft: Draft, drawing: Drawing, setting: Setting) -> str:
    """A figure as an SVG file that needs nothing else. Its title is its alternative text; recipe,
    edition, size, maker and licence stand below it and in its description."""
    recipe, workshop = draft.recipe, setting.workshop
    credit = setting.say(
        "figure.credit",
        title=recipe.title,
        number=recipe.edition.number,
        size=size_title(draft, setting),
        maker=workshop.maker or workshop.title,
        licence=recipe.licence,
    )
    low, high = drawing.box.low, drawing.box.high
    at = complex(low.real + MARGIN, high.imag + 1.5 * _SIZE)
    rows = paragraph(credit, at, drawing.box.width - 2 * MARGIN, _SIZE, setting)
    room = complex(_ROOM, _ROOM)
    box = Box(low - room, complex(high.real, lowest(rows) + MARGIN) + room)
    description = f"{drawing.description} {credit}".strip()
    sheet = replace(drawing, box=box, items=(*drawing.items, *rows), description=description)
    return svg(on_paper(sheet), standalone=True, setting=setting) + "\n"


def on_paper(drawing: Drawing) -> Drawing:
    """The drawing on a white ground, for those who read in the dark."""
    low, high = drawing.box.low, drawing.box.high
    corners = (low, complex(high.real, low.imag), high, complex(low.real, high.imag), low)
    return replace(drawing, items=(Fill((polyline(*corners),), "paper"), *drawing.items))
