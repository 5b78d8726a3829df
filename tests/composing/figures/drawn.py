"""Figures of the hat and what tests look at in them."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import strategies as st

from notchbook.composing.drawing import Drawing
from notchbook.composing.figures import draw_figure
from notchbook.composing.figures.size import HIGHEST, WIDEST
from notchbook.drafting.draft import Draft, Opening
from notchbook.drafting.panels.runs import Run
from notchbook.drafting.shape import Shape
from notchbook.drafting.shapes import panel
from notchbook.reading.recipe import FigureRule
from tests.composing.figures.legible import LEAST_PRINTED, LEAST_SHOWN, type_printed, type_shown
from tests.composing.geometry import (
    collisions,
    outside,
    struck,
    texts,
)
from tests.composing.sample import (
    figure,
    figure_problems,
    hat,
    setting,
)

HAT = hat()


def draw(rule: FigureRule, draft: Draft = HAT) -> Drawing:
    return draw_figure(draft, rule, setting())


def said(drawing: Drawing) -> str:
    return plain(" | ".join(text.text for text in texts(drawing.items)))


def plain(words: str) -> str:
    """Words with ordinary spaces between number and unit."""
    return words.replace("\u00a0", " ")


def problems(rule: FigureRule) -> list[str]:
    found = figure_problems(HAT, rule)
    return [plain(str(problem)).replace("\n   ", "") for problem in found]


def faultless(drawing: Drawing, highest: float = HIGHEST) -> None:
    assert collisions(drawing.items, setting()) == []
    assert struck(drawing.items, setting()) == []
    assert outside(drawing, setting()) == []
    assert drawing.box.width <= WIDEST + 1e-6
    assert drawing.box.height <= highest + 1e-6
    assert type_printed(drawing) >= LEAST_PRINTED
    assert type_shown(drawing) >= LEAST_SHOWN


FACE_TO_FACE = figure(
    "layers", pieces=["shell brim", "lining brim"], together="right sides", stitch="brim edge"
)


def left_open(seam: str, start: float, end: float, draft: Draft = HAT) -> Draft:
    """The draft with a seam left open from one place of its first side to another, mm."""
    length = (end - start) % draft.seams[seam].lengths[0]
    opening = Opening(seam, start, end, length, None, "sew-1", None)
    return replace(draft, openings={seam: opening})


CORNERS = st.tuples(*(st.floats(0, 60) for _ in range(8)))


def skewed(by: tuple[float, ...]) -> Shape:
    """A four-sided panel of about 300 by 200 mm with every corner moved, one side an arc."""
    a, b, c, d = (
        (by[0], by[1]), (300 - by[2], by[3]), (300 - by[4], 200 - by[5]), (by[6], 200 - by[7]),
    )  # fmt: skip
    return panel.draft(
        points={"a": a, "b": b, "c": c, "d": d, "m": ((c[0] + d[0]) / 2, 240)},
        edges={
            "neck": (Run("line", ("a", "b")),),
            "front": (Run("line", ("b", "c")),),
            "hem": (Run("arc", ("c", "m", "d")),),
            "back": (Run("line", ("d", "a")),),
        },
    )
