"""The pieces view: everything at one scale, inside the figure, nothing over anything else."""

from __future__ import annotations

from itertools import combinations

import pytest

from notchbook.composing.drawing import Stroke, Text
from notchbook.composing.figures import draw_figure
from notchbook.composing.lettering.placing import extent
from notchbook.drafting.draft import Draft
from notchbook.drafting.engine import draft
from notchbook.drafting.geometry.box import bounds
from notchbook.problems import ContentError
from tests.composing.sample import figure, setting
from tests.recipes import recipe

SETTING = setting()


def drafted() -> Draft:
    made = recipe()
    return draft(made, made.sizes[0])


def test_every_piece_is_drawn_and_named_at_one_scale() -> None:
    made = drafted()
    drawing = draw_figure(made, figure("pieces"), SETTING)
    assert {item.text for item in drawing.items if isinstance(item, Text)} == {"Brim", "Point"}
    cuts = [item for item in drawing.items if isinstance(item, Stroke) and item.role == "layer"]
    drawn = sorted(bounds(cut.paths).width for cut in cuts)
    true = sorted(bounds(piece.cut_lines[0].loops).width for piece in made.pieces.values())
    assert drawn[0] / true[0] == pytest.approx(drawn[1] / true[1])
    assert 0.05 < drawn[0] / true[0] < 1


def test_nothing_leaves_the_figure_or_lies_over_anything_else() -> None:
    drawing = draw_figure(drafted(), figure("pieces"), SETTING)
    for item in drawing.items:
        box = extent((item,), SETTING)
        assert drawing.box.low.real <= box.low.real and box.high.real <= drawing.box.high.real
        assert drawing.box.low.imag <= box.low.imag and box.high.imag <= drawing.box.high.imag
    solid = [item for item in drawing.items if isinstance(item, Text) or item.role == "layer"]
    for one, other in combinations([extent((item,), SETTING) for item in solid], 2):
        apart = (
            one.high.real <= other.low.real
            or other.high.real <= one.low.real
            or one.high.imag <= other.low.imag
            or other.high.imag <= one.low.imag
        )
        assert apart


def test_some_pieces_can_be_chosen_and_an_unknown_one_is_told() -> None:
    drawing = draw_figure(drafted(), figure("pieces", pieces=["crown"]), SETTING)
    assert [item.text for item in drawing.items if isinstance(item, Text)] == ["Point"]
    with pytest.raises(ContentError) as caught:
        draw_figure(drafted(), figure("pieces", pieces=["crwn"]), SETTING)
    assert caught.value.problems[0].remedy == "Did you mean “crown”?"
