"""Figures of the hat and what tests look at in them."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import strategies as st

from notchbook.composing.drawing import Drawing
from notchbook.composing.figures import draw_figure
from notchbook.composing.figures.size import HIGHEST, WIDEST
from notchbook.drafting.draft import Draft
from notchbook.drafting.panels.runs import Run
from notchbook.drafting.shape import Shape
from notchbook.drafting.shapes import panel
from notchbook.problems import Place
from notchbook.reading.recipe import FigureRule, Scalar, Table
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
    formula,
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


def with_gap(edge: str, share: float, length: float) -> FigureRule:
    """FACE_TO_FACE with a gap; lengths are formulas."""
    at = Place("recipe.md", 45, 12)
    mm = formula(length, (1, 0, 0))  # type: ignore[arg-type]
    entries = {
        "edge": Scalar(edge, Place("recipe.md", 45, 19), None),
        "share": Scalar(str(share), at, formula(share)),
        "length": Scalar(f"{length} mm", at, mm),
    }
    table = Table(entries, dict.fromkeys(entries, at), at)
    keys = FACE_TO_FACE.keys
    return replace(
        FACE_TO_FACE,
        keys=Table({**keys.entries, "open": table}, {**keys.keys, "open": at}, keys.place),
    )


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
