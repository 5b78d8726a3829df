"""Clipping, turning, folding and pressing, before and after."""

from __future__ import annotations

from itertools import pairwise

import pytest

from notchbook.composing import numbers
from notchbook.composing.drawing import Drawing, Fill
from notchbook.composing.figures.clip_plan import SHORT
from notchbook.drafting.clips import cuts_of
from notchbook.drafting.geometry.path import Path
from notchbook.reading.formula import Formula
from notchbook.reading.quantity import LENGTH
from notchbook.reading.recipe import FigureRule
from notchbook.reading.walk import all_figures
from tests.collection import made
from tests.composing.figures.drawn import draw, faultless, plain, said
from tests.composing.figures.test_stitch import CAPELET, HAT, refused
from tests.composing.geometry import area, opened, strokes, texts
from tests.composing.sample import figure, formula

POUCH = "chandlers-pouch"


def shown(slug: str, view: str, **keys: str) -> Drawing:
    drawing = draw(figure(view, **keys), made(slug))
    faultless(drawing)
    return drawing


def drawn_with(view: str, **keys: str | list[str] | Formula) -> Drawing:
    drawing = draw(figure(view, **keys), made(HAT))
    faultless(drawing)
    return drawing


def slits(drawing: Drawing) -> list[Path]:
    """The clips as they are drawn, from left to right."""
    (stitching, *_) = strokes(drawing.items, "stitch")
    low = max(p.real for p in stitching.paths[0].points())
    found = [
        s.paths[0] for s in strokes(drawing.items, "solid-outline") if s.paths[0].end.real < low
    ]
    return sorted((path for path in found if len(path.segments) == 1), key=lambda p: p.end.real)


@pytest.mark.parametrize("edge", ["brim.inner", "under_brim.inner"])
def test_clips_are_as_far_apart_as_the_drawn_edge_asks_for(edge: str) -> None:
    piece = made(HAT).pieces[edge.partition(".")[0]]
    (cuts,) = cuts_of(piece, "inner")
    drawing = shown(HAT, "clip", edge=edge)
    ends = [path.end for path in slits(drawing)]
    assert len(ends) == 3
    long = slits(drawing)[0].length()
    # A cut ends 1.5 mm short of the stitching, which lies on a circle that much larger.
    scale = long / (12 - SHORT)
    radius = cuts.closest**2 / 1.6
    for a, b in pairwise(ends):
        spaced = abs(b - a) / scale * radius / (radius - SHORT)
        assert spaced == pytest.approx(cuts.closest, rel=0.005)
        assert spaced != pytest.approx(cuts.closest * 1.01, rel=0.005)


def test_no_cut_reaches_the_stitching() -> None:
    for slug, edge in (
        (HAT, "brim.inner"),
        (CAPELET, "cape.opening"),
        (POUCH, "shell side.bottom"),
    ):
        drawing = shown(slug, "clip", edge=edge)
        (stitching, *_) = strokes(drawing.items, "stitch")
        line = stitching.paths[0].points()
        for slit in slits(drawing):
            assert min(abs(slit.end - point) for point in line) > 1.0


def test_a_bulging_edge_is_notched_and_a_hollow_one_clipped() -> None:
    assert "cut out notches" in said(shown(HAT, "clip", edge="brim.outer"))
    hollow = said(shown(HAT, "clip", edge="brim.inner"))
    assert "1. clip" in hollow
    assert "never cut into it" in hollow


def test_clips_end_between_the_stay_stitching_and_the_cut_edge() -> None:
    drawing = drawn_with("clip", edge="brim.inner", stay=formula(1, LENGTH))
    (stay, *_) = strokes(drawing.items, "seam")
    (stitching, *_) = strokes(drawing.items, "stitch")
    line, row = stitching.paths[0].points(), stay.paths[0].points()
    for slit in slits(drawing):
        to_line, to_row = (min(abs(slit.end - p) for p in points) for points in (line, row))
        assert 0.1 < to_row < to_line
        assert to_line / to_row == pytest.approx(SHORT / (SHORT - 1), rel=0.1)
    assert "a hair short of the stay-stitching" in said(drawing).replace("| ", "")


def test_tabs_of_cloths_that_lie_on_each_other_hang_on_one_side() -> None:
    drawing = drawn_with("clip", edge=["brim.inner", "under_brim.inner"], to="under_brim")
    lines = [
        path.points()
        for stroke in strokes(drawing.items, "solid-outline")
        for path in stroke.paths
        if len(path.segments) == 2
    ]
    assert len(lines) == 2
    assert all(points[-1].imag > max(p.imag for p in points[:-1]) for points in lines)
    (upper, lower) = sorted(lines, key=lambda points: points[0].imag)
    assert lower[-1].real < upper[-1].real


def test_what_is_trimmed_off_is_drawn_and_said() -> None:
    drawing = drawn_with("clip", edge="brim.outer", trimmed=formula(4, LENGTH))
    words = said(drawing).replace("| ", "")
    assert "trim to 4 mm (⅛ in), then cut out notches" in words and "trimmed off" in words
    assert strokes(drawing.items, "solid-hidden")
    assert "trim" not in said(shown(HAT, "clip", edge="brim.outer"))


def test_three_graded_allowances_turn_up_along_the_cloth_they_go_to() -> None:
    drawn = made(HAT)
    (rule,) = (
        each for each in all_figures(drawn.recipe)
        if each.view.value == "press" and "to" in each.keys.entries
    )  # fmt: skip
    drawing = draw(rule, drawn)
    faultless(drawing)
    words = said(drawing).replace("| ", "")
    for told in ("turn all to: Point", "Point 12 mm (½ in), Brim 8 mm", "Under brim 5 mm"):
        assert told in words
    ends = {text.text: text.at for text in texts(drawing.items) if text.role == "number"}
    heights = [ends[key].imag for key in sorted(ends, key=lambda key: -int(key.split("\u00a0")[0]))]
    steps = [b - a for a, b in pairwise(heights)]
    assert len(steps) == 2 and steps[0] / steps[1] == pytest.approx(4 / 3, abs=0.01)


def test_a_tube_is_clipped_straight_and_spreads() -> None:
    drawing = shown(POUCH, "clip", edge="shell side.bottom")
    assert "it spreads round" in said(drawing)
    (stitching, *_) = strokes(drawing.items, "stitch")
    heights = [point.imag for point in stitching.paths[0].points()]
    assert max(heights) - min(heights) < 0.3


def test_a_hem_is_turned_by_its_allowance() -> None:
    words = said(shown(CAPELET, "fold", edge="cape.hem"))
    assert "20 mm" in words and "¾ in" in words
    assert "fold to the wrong | side" in words


def test_a_line_that_is_folded_tells_its_depth_up_to_the_cut_edge() -> None:
    cap = made("wick-trimmers-cap")
    high = cap.values["high"].value
    words = said(shown("wick-trimmers-cap", "fold", line="band.fold"))
    assert f"{high + 10:.0f} mm" in words


def test_a_line_in_the_middle_of_a_strip_folds_edge_on_edge() -> None:
    drawing = shown("wick-trimmers-cap", "fold", line="band.fold", then="opened")
    cloths = [path for s in strokes(drawing.items, "solid-outline") for path in s.paths]
    before, folded, after = cloths[:3]
    assert abs(folded.start.real - folded.end.real) < 0.01
    for flat in (before, after):
        assert flat.end.real - flat.start.real == pytest.approx(2 * 13.5, abs=0.01)
    assert "open again" in said(drawing)
    hem = shown(CAPELET, "fold", edge="cape.hem")
    cloths = [path for s in strokes(hem.items, "solid-outline") for path in s.paths]
    assert abs(cloths[1].start.real - cloths[1].end.real) > 5


def test_what_lies_on_the_turned_half_ends_at_stitching_line_and_fold() -> None:
    keys = {"line": "band.fold", "on": "stiffening", "then": "later"}
    drawing = shown("wick-trimmers-cap", "fold", **keys)
    cap = made("wick-trimmers-cap")
    assert f"{cap.values['high'].value:.0f} mm" in said(drawing)
    bar = next(i for i in opened(drawing.items) if isinstance(i, Fill) and i.role == "either-side")
    (cloth,) = strokes(drawing.items, "solid-outline")[0].paths
    ends = sorted(p.real for p in bar.paths[0].points())
    share = (ends[-1] - ends[0]) / (cloth.end.real - cloth.start.real)
    assert share == pytest.approx(35 / 90, abs=0.01)


def test_a_pleat_takes_what_lies_between_its_marks_and_lies_half_as_deep() -> None:
    drawn = made("wick-trimmers-cap")
    band, edge = drawn.seams["pleated top to band"].lengths
    taken = (edge - band) / 16
    words = said(shown("wick-trimmers-cap", "fold", pleat="pleated top to band")).replace("| ", "")
    across, deep = (plain(numbers.length(mm).metric) for mm in (taken, taken / 2))
    assert f"16 pleats, all the same way round. From mark to mark {across} " in words
    assert f"each lies {deep} " in words
    assert across != plain(numbers.length(1.01 * taken).metric)


def test_allowances_are_pressed_open_or_to_one_side() -> None:
    apart = shown(HAT, "press", seam="point seam")
    assert "press open" in said(apart)
    aside = shown(HAT, "press", seam="lining tip", to="lining_tip")
    assert "press both to: Lining tip" in said(aside)
    assert apart.title != aside.title
    assert "12 mm (½ in)" in said(apart)


def test_allowances_are_told_as_they_were_trimmed() -> None:
    cap = made("wick-trimmers-cap")
    (rule,) = (rule for rule in all_figures(cap.recipe) if rule.view.value == "press")
    drawing = draw(rule, cap)
    assert "Allowances: Band trimmed to 6 mm (¼ in); Top 10 mm (⅜ in)." in said(drawing).replace(
        " | ", " "
    )
    assert refused(HAT, figure("press", seam="lining tip", trimmed={"brim": "6 mm"})) == [
        "recipe.md:42:15: “trimmed” of this seam has no “brim”. "
        "Use one of: crown_lining, lining_tip."
    ]


def test_turned_right_side_out_a_thing_ends_at_its_stitching() -> None:
    drawing = shown(HAT, "turn", seam="brim edge", through="brim.inner")
    fills = [item for item in opened(drawing.items) if isinstance(item, Fill)]
    after = next(
        item for item in reversed(fills) if item.role == "right-side" and len(item.paths) == 2
    )
    box = after.paths[0].points()
    wide = max(p.real for p in box) - min(p.real for p in box)
    hole = after.paths[1].points()
    inner = max(p.real for p in hole) - min(p.real for p in hole)
    # Its opening keeps its allowance, drawn wider than it is, and is smaller by that.
    edges = made(HAT).pieces["under_brim"].flat.edges
    true = [edges[name].path.points() for name in ("outer", "inner")]
    share = [max(p.real for p in t) - min(p.real for p in t) for t in true]
    assert inner / wide < share[1] / share[0]
    assert area(after.paths).area > 0.8 * wide**2 * 0.7


def test_it_is_turned_through_the_gap_unless_an_edge_is_named() -> None:
    assert "the gap of | 70 mm" in said(shown(HAT, "turn", seam="brim edge"))
    assert "Brim, | inner" in said(shown(HAT, "turn", seam="brim edge", through="brim.inner"))
    assert "Point, rim" in said(shown(HAT, "turn", seam="point seam"))


@pytest.mark.parametrize(
    ("slug", "rule", "found"),
    [
        (
            POUCH,
            figure("turn", seam="base seam"),
            "recipe.md:40:11: The pieces of “base seam” can't lie flat on each other, so turning "
            "them can't be drawn flat. Show what they become with “view: solid”.",
        ),
        (
            HAT,
            figure("turn", seam="brim edge", through="brim.outer"),
            "recipe.md:42:14: Nothing can be pulled out through “brim.outer”: it is sewn or not "
            "here. Name an open edge: brim.inner or under_brim.inner.",
        ),
        (
            HAT,
            figure("clip", edge="crown.left"),
            "recipe.md:41:11: The edge “crown.left” is straight, so that its allowance lies flat "
            "uncut. Name another edge.",
        ),
        (
            HAT,
            figure("clip"),
            "recipe.md:40:11: A figure of the view “clip” needs “edge”. "
            "Add a line like “edge: brim.EDGE”.",
        ),
        (
            HAT,
            figure("clip", edge="brim.inner", stay=formula(2, LENGTH)),
            "recipe.md:42:11: Cuts end 1.5 mm outside the stitching line, so a row 2 mm outside it "
            "would be cut through. Stay-stitch 1 mm outside the line: stay: 1 mm.",
        ),
        (
            HAT,
            figure("clip", edge="brim.inner", to="under_brim"),
            "recipe.md:42:9: “under_brim” is not one of several cloths that are clipped here. "
            "Leave “to” out.",
        ),
        (
            HAT,
            figure("fold", edge="interfacing brim.outer"),
            "recipe.md:41:11: The edge “interfacing brim.outer” has no allowance that could be "
            "turned. Give it one, or name another edge.",
        ),
        (
            HAT,
            figure("fold", edge="brim.outr"),
            "recipe.md:41:16: The piece “brim” has no edge “outr”. Did you mean “outer”?",
        ),
        (
            "wick-trimmers-cap",
            figure("fold", pleat="band seam"),
            "recipe.md:41:12: The seam “band seam” has no pleats. Name a seam that has “pleats”, "
            "or an “edge” or a “line” instead.",
        ),
        (
            "wick-trimmers-cap",
            figure("fold", line="band.fld"),
            "recipe.md:41:11: There is no line “band.fld” to fold along in this recipe. "
            "Did you mean “band.fold”?",
        ),
        (
            HAT,
            figure("press", seam="crown to brim"),
            "recipe.md:40:11: The 3 allowances of “crown to brim” lie on each other and go to one "
            "side. Write the cloth they go to: “to: crown” or “to: under_brim”.",
        ),
        (
            HAT,
            figure("press", seam="lining tip", to="lining_tp"),
            "recipe.md:42:9: The allowances of “lining tip” can't be pressed to “lining_tp”. "
            "Did you mean “lining_tip”?",
        ),
    ],
)  # fmt: skip
def test_what_cannot_be_shown_is_refused_with_a_remedy(
    slug: str, rule: FigureRule, found: str
) -> None:
    assert refused(slug, rule) == [found]
