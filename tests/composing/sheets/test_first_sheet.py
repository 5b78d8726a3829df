"""What the first page says, and the one page of a projector: nothing lies over anything else."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

import pytest

from notchbook.composing.drawing import Group
from notchbook.composing.lettering.placing import overlap, text_items, text_tile
from notchbook.composing.paper import PAPERS
from notchbook.composing.rulers import SCALED, laid_rulers
from notchbook.composing.sheets.cover import cover
from notchbook.composing.sheets.document import sheets
from notchbook.composing.sheets.taping import plan
from notchbook.drafting.draft import Draft
from notchbook.drafting.engine import draft
from tests.composing.geometry import area, collisions, outside, strokes, texts, type_box
from tests.composing.sample import setting
from tests.recipes import STRIP, recipe

PIECES = """allowance: 1 cm
pieces:
  band: {title: Band, shape: strip, length: 64 cm, width: 9 cm, cut: {shell: 1}}
  a: {title: A knob to sew on in front, shape: disc, girth: 16 cm, cut: {shell: 2, lining: 4}}
  b: {title: A knob to sew on behind, shape: disc, girth: 15 cm, cut: {shell: 2, lining: 4}}
"""


def made(front: str = STRIP + PIECES) -> Draft:
    read = recipe(front, "## Make it\n\n1. Cut it.\n")
    return draft(read, read.sizes[0])


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_a_ruler_laid_on_a_true_and_on_a_scaled_line_stands_over_every_fitting_strip(
    paper: str,
) -> None:
    drafted = made()
    planned = plan(drafted, PAPERS[paper])
    for girth in (178.0, 300.0, 357.0, 575.0, 640.0, 900.0, 1390.0):
        sized = replace(drafted, measures={**drafted.measures, "head": girth})
        page = cover(sized, planned, PAPERS[paper], setting())[0]
        found = [text for text in texts(page.items) if text.text in ("true", "scaled")]
        assert len(found) == 2
        tiles = [text_tile(text, setting()) for text in text_items(page.items)]
        assert not any(overlap(one, other) for one, other in combinations(tiles, 2))
        (strip,) = (text for text in texts(page.items) if text.text.startswith("Fitting strip"))
        assert found[1].at.imag + 3.4 * 2.5 - 2 < strip.at.imag + 2


def test_the_scaled_line_ends_as_far_before_150_as_it_says() -> None:
    items = laid_rulers(0, 55.0, 60.0, 3.4, setting())
    whole, short = (line.paths[0] for line in strokes(items, "layer"))
    ends = [path.segments[1].end.real - path.segments[1].start.real for path in (whole, short)]
    assert ends[1] / ends[0] == pytest.approx(SCALED)
    zero, full = (text.at.real for text in texts(items)[:2])
    assert full - zero == pytest.approx(ends[0])


def test_a_cross_stays_out_of_what_a_copy_shops_first_page_says() -> None:
    paper = PAPERS["a2"]
    planned = plan(made(), paper)
    on_first = [at for each in planned.diagonals for cell, at in each.ends if cell == (0, 0)]
    assert on_first
    for at in on_first:
        assert at.real > paper.block.real or at.imag > paper.block.imag


def test_words_beside_a_projected_piece_keep_off_other_pieces_and_on_the_page() -> None:
    drafted = made()
    paper = PAPERS["projection"]
    page = sheets(drafted, plan(drafted, paper), paper, setting())[0]
    assert outside(page, setting()) == []
    assert collisions(page.items, setting()) == []
    groups = [item for item in page.items if isinstance(item, Group)]
    outlines = {group.data["piece"]: area(strokes(group.items, "cut")[0].paths) for group in groups}
    beside = 0
    for group in groups:
        own = group.data["piece"]
        for text in texts(group.items):
            tile = type_box(text, setting())
            beside += not tile.intersects(outlines[own])
            others = [outline for name, outline in outlines.items() if name != own]
            assert not any(tile.intersects(outline) for outline in others), text.text
    assert beside >= 8
