"""The sheets view: the map that sheet 1 has, large enough to be read in a step."""

from __future__ import annotations

from dataclasses import replace

import pytest

from notchbook.composing.drawing import Drawing
from notchbook.composing.figures import draw_figure
from notchbook.composing.figures.size import TALLEST
from notchbook.composing.paper import PAPERS
from notchbook.composing.sheets.taping import plan
from notchbook.drafting.engine import draft as drafting
from notchbook.drafting.geometry.box import Box, bounds
from tests.composing.figures.drawn import HAT, draw, faultless, problems, said
from tests.composing.geometry import strokes, texts
from tests.composing.sample import figure, figure_problems, setting
from tests.recipes import HEAD, recipe


def numbers(drawing: Drawing) -> list[int]:
    return sorted(int(text.text) for text in texts(drawing.items) if text.role == "name")


def sheets(drawing: Drawing) -> list[Box]:
    (frames,) = strokes(drawing.items, "leader")
    return [bounds([frame]) for frame in frames.paths]


@pytest.mark.parametrize("paper", ["a4", "a3", "a0"])
def test_every_sheet_has_its_number_and_every_piece_its_outline_at_one_scale(paper: str) -> None:
    made, drawing = plan(HAT, PAPERS[paper]), draw(figure("sheets", paper=paper))
    assert numbers(drawing) == sorted(made.numbers.values())
    (outlines,) = strokes(drawing.items, "layer")
    scale = sheets(drawing)[0].width / made.width
    assert sheets(drawing)[0].height / made.height == pytest.approx(scale)
    drawn = [bounds([path]) for path in outlines.paths]
    true = [
        bounds([loop.moved(placed.turn, placed.shift)])
        for placed in made.placed
        for region in made.regions[placed.piece]
        for loop in region
    ]
    for ours, theirs in zip(drawn, true, strict=True):
        assert ours.low == pytest.approx(theirs.low * scale, abs=0.1)
        assert ours.high == pytest.approx(theirs.high * scale, abs=0.1)
    faultless(drawing, TALLEST)


def test_one_piece_is_shown_on_its_own_sheets_and_no_others() -> None:
    made = plan(HAT, PAPERS["a3"])
    for piece in HAT.pieces.values():
        drawing = draw(figure("sheets", paper="a3", piece=piece.name))
        assert numbers(drawing) == made.sheets_of(piece.name)
        listed = ", ".join(str(number) for number in numbers(drawing))
        assert f"{piece.title}: sheet" in said(drawing) and listed in said(drawing)
        faultless(drawing, TALLEST)


def test_the_paper_is_the_first_the_workshop_publishes_unless_another_is_named() -> None:
    given = setting()
    for papers in (("a1", "a0"), ("a0", "a1")):
        published = replace(given, workshop=replace(given.workshop, papers=papers))
        ours = draw_figure(HAT, figure("sheets"), published)
        assert numbers(ours) == numbers(draw(figure("sheets", paper=papers[0])))


@pytest.mark.parametrize(
    ("key", "value", "said"),
    [
        ("paper", "a44", "recipe.md:41:12: “paper” can't be “a44”. Did you mean “a4”?"),
        ("piece", "brm", "recipe.md:41:12: There is no piece “brm” in this recipe."),
        ("pieces", "brim", "recipe.md:41:5: A figure of the sheets has no “pieces”."),
    ],
)
def test_what_is_not_there_is_told_with_its_place(key: str, value: str, said: str) -> None:
    (problem,) = problems(figure("sheets", **{key: value}))
    assert problem.startswith(said)


def test_a_map_too_small_to_be_read_is_told() -> None:
    front = f"""{HEAD}allowance: 1 cm
pieces:
  line: {{title: Line, shape: strip, length: 18 m, width: 10 cm, cut: {{shell: 1}}}}
"""
    made = recipe(front, "## Make it\n\n1. Cut it.\n")
    drafted = drafting(made, made.sizes[0])
    (small,) = figure_problems(drafted, figure("sheets", paper="a3"))
    assert "too small to be read" in small.what and "Name a piece" in small.remedy
