"""The figures a recipe asks for: right, readable, and helpful where they can't be drawn."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from notchbook.composing import numbers
from notchbook.composing.board import Board, callout, callout_aside, label
from notchbook.composing.drawing import Drawing, Fill, Stroke
from notchbook.composing.figures import check_figure, draw_figure, views
from notchbook.drafting.draft import Draft
from notchbook.drafting.geometry.path import Box, bounds, polyline
from notchbook.drafting.shape import Shape
from notchbook.drafting.shapes import cone, disc, panel, ring, strip, tube
from notchbook.problems import Place
from notchbook.reading.recipe import FigureRule, Scalar, Table
from notchbook.reading.recipe import Text as Word
from tests.composing.geometry import (
    collisions,
    opened,
    outside,
    strokes,
    struck,
    texts,
)
from tests.composing.sample import NOWHERE, draft_of, figure, formula, hat, piece, setting

HAT = hat()


def draw(rule: FigureRule, draft: Draft = HAT) -> Drawing:
    return draw_figure(draft, rule, setting())


def said(drawing: Drawing) -> str:
    return plain(" | ".join(text.text for text in texts(drawing.items)))


def plain(words: str) -> str:
    """Words with ordinary spaces between number and unit."""
    return words.replace("\u00a0", " ")


def problems(rule: FigureRule) -> list[str]:
    return [str(problem).replace("\n   ", "") for problem in check_figure(HAT, rule, setting())]


def test_views_are_the_files_of_the_folder() -> None:
    assert views() == ("flat", "layers", "pieces")


# Flat


def faultless(drawing: Drawing) -> None:
    assert collisions(drawing.items, setting()) == []
    assert struck(drawing.items, setting()) == []
    assert outside(drawing, setting()) == []
    assert drawing.box.width <= 120 + 1e-6
    assert drawing.box.height <= 100 + 1e-6
    assert min(text.size for text in texts(drawing.items)) >= 3


@pytest.mark.parametrize("name", HAT.pieces)
def test_a_flat_figure_fits_and_nothing_in_it_overlaps(name: str) -> None:
    faultless(draw(figure("flat", piece=name)))


@pytest.mark.parametrize("name", HAT.pieces)
def test_every_edges_name_and_length_is_there_in_both_units(name: str) -> None:
    words = said(draw(figure("flat", piece=name)))
    for edge in HAT.pieces[name].flat.edges.values():
        assert edge.name in words
        for number in numbers.length(edge.path.length()):
            assert plain(number) in words, edge.name


def test_dimensions_are_read_off_the_geometry() -> None:
    words = said(draw(figure("flat", piece="brim")))
    box = HAT.pieces["brim"].flat.outline()
    assert len(box) == 2
    # Round the opening 585 mm at length ÷ breadth 1.29, the brim 150 mm wide.
    for expected in ("209 mm / 8¼ in", "162 mm / 6⅜ in", "509 mm / 20 in", "462 mm / 18¼ in"):
        assert expected in words
    assert "150 mm" in words


def test_an_arc_has_its_radius_to_half_a_millimetre_and_a_thirty_second() -> None:
    slant = HAT.pieces["crown"].flat.edges["left"].path.length()
    radius = numbers.radius(slant)
    words = said(draw(figure("flat", piece="crown")))
    assert plain(f"R {radius.metric} / {radius.inch}") in words


def test_allowances_are_named_for_every_cloth() -> None:
    words = said(draw(figure("flat", piece="brim")))
    assert "Allowance, shell, lining: outer 6 mm / ¼ in, inner 12 mm / ½ in." in words
    assert "Allowance, interfacing: outer 2 mm" in words
    assert "inside the line, inner none." in words


def test_a_dimension_line_is_as_long_as_its_edge_is_drawn() -> None:
    drawing = draw(figure("flat", piece="cuff"))
    edge = strokes(drawing.items, "stitch")[0].paths[0]
    lines = [stroke.paths[0] for stroke in strokes(drawing.items, "dimension")]
    level = [line for line in lines if abs(line.start.imag - line.end.imag) < 1e-9]
    assert any(line.length() == pytest.approx(edge.length(), abs=1e-6) for line in level)


@pytest.mark.parametrize("name", HAT.pieces)
def test_a_pieces_width_and_height_are_said_if_only_below_it(name: str) -> None:
    words = said(draw(figure("flat", piece=name)))
    box = bounds(HAT.pieces[name].flat.outline())
    assert plain(numbers.length(box.width).metric) in words
    assert plain(numbers.length(box.height).metric) in words


def test_a_callout_that_finds_no_room_stands_aside_rather_than_be_left_out() -> None:
    board = Board(setting())
    bars = [polyline(x * 3, x * 3 + 60j) for x in range(21)]
    board.add(*(Stroke((bar,), "dimension") for bar in bars), rule=True)
    block = label(("outer", "strong"), ("1528 mm", "label"))
    anchors = [(30 + 30j, 1 + 0j)]
    assert not callout(board, block, anchors, Box(0, 60 + 60j))
    for _ in range(12):
        callout_aside(board, block, anchors)
    assert len(texts(board.items)) == 24
    assert len(strokes(board.items, "leader")) == 12
    assert collisions(board.items, setting()) == []
    assert all(text.at.real > 60 for text in texts(board.items))


def test_inches_come_first_where_the_workshop_says_so() -> None:
    inch = replace(setting(), workshop=replace(setting().workshop, units="inch"))
    assert "23 in / 585 mm" in said(draw_figure(HAT, figure("flat", piece="crown"), inch))


def test_several_pieces_stand_below_each_other() -> None:
    drawing = draw(figure("flat", pieces=["crown", "lining_tip"]))
    faultless(drawing)
    assert {"rim", "edge"} <= {text.text for text in texts(drawing.items)}


def test_the_authors_words_are_the_alternative_text_else_the_geometry_speaks() -> None:
    rule = figure("flat", piece="crown")
    made = plain(draw(rule).title)
    assert made.startswith("Point laid flat, 546 mm / 21½ in across")
    assert "rim 585 mm / 23 in" in made
    assert draw(replace(rule, alt=Word("A sector.", NOWHERE))).title == "A sector."


CORNERS = st.tuples(*(st.floats(0, 60) for _ in range(8)))


def skewed(by: tuple[float, ...]) -> Shape:
    """A four-sided panel of about 300 by 200 mm with every corner moved, one side an arc."""
    a, b, c, d = (
        (by[0], by[1]), (300 - by[2], by[3]), (300 - by[4], 200 - by[5]), (by[6], 200 - by[7]),
    )  # fmt: skip
    return panel.draft(
        points={"a": a, "b": b, "c": c, "d": d, "m": ((c[0] + d[0]) / 2, 240)},
        edges={
            "neck": panel.Run("line", ("a", "b")),
            "front": panel.Run("line", ("b", "c")),
            "hem": panel.Run("arc", ("c", "m", "d")),
            "back": panel.Run("line", ("d", "a")),
        },
    )


SHAPES = st.one_of(
    st.builds(
        ring.draft, inner=st.floats(400, 700), width=st.floats(20, 250), oval=st.floats(1, 1.5)
    ),
    st.builds(cone.draft, rim=st.floats(200, 700), slant=st.floats(150, 600)),
    st.builds(disc.draft, girth=st.floats(60, 900), oval=st.floats(0.8, 1.5)),
    st.builds(strip.draft, length=st.floats(80, 1200), width=st.floats(15, 200)),
    st.builds(tube.draft, girth=st.floats(80, 700), height=st.floats(15, 300)),
    st.builds(skewed, CORNERS),
)


@given(SHAPES, st.floats(3, 15))
@settings(deadline=None, max_examples=25)
def test_any_piece_gets_a_figure_without_a_collision_and_with_every_edge(
    shape: Shape, allowance: float
) -> None:
    made = draft_of(piece("part", shape, {"shell": {"": allowance}}))
    drawing = draw(figure("flat", piece="part"), made)
    faultless(drawing)
    words = said(drawing)
    for name, edge in shape.flat.edges.items():
        assert name in words
        assert plain(numbers.length(edge.path.length()).metric) in words


# Layers

FACE_TO_FACE = figure(
    "layers", pieces=["shell brim", "lining brim"], together="right sides", stitch="brim edge"
)


@pytest.mark.parametrize(
    "rule",
    [
        FACE_TO_FACE,
        figure("layers", pieces=["lining brim", "interfacing brim", "shell brim"],
               together="wrong sides"),
        figure("layers", pieces=["crown"], together="right sides", stitch="point seam"),
        figure("layers", pieces=["crown", "shell brim"], together="right sides",
               stitch="crown to brim"),
        figure("layers", pieces=["lining_tip", "crown_lining"], together="right sides",
               stitch="lining tip"),
        figure("layers", pieces=["crown", "crown_lining"], together="nested"),
        figure("layers", pieces=["band", "shell cuff"]),
    ],
)  # fmt: skip
def test_a_layers_figure_fits_and_its_words_touch_nothing(rule: FigureRule) -> None:
    drawing = draw(rule)
    assert collisions(drawing.items, setting()) == []
    assert struck(drawing.items, setting()) == []
    assert outside(drawing, setting()) == []
    assert drawing.box.width <= 120 and drawing.box.height <= 100


def test_right_sides_together_shows_the_upper_layers_wrong_side() -> None:
    drawing = draw(FACE_TO_FACE)
    washes = [item.role for item in opened(drawing.items) if isinstance(item, Fill)]
    assert washes[:1] + washes[1:2] == ["right-side", "wrong-side"]
    words = said(drawing)
    assert "shell, right side up" in words
    assert "lining, wrong side up" in words
    assert "brim edge" in words


def test_between_two_outer_layers_nothing_is_said_of_the_sides() -> None:
    pieces = ["lining brim", "interfacing brim", "shell brim"]
    drawing = draw(figure("layers", pieces=pieces, together="wrong sides"))
    labels = [text.text for text in texts(drawing.items)]
    assert {"lining, wrong side up", "interfacing", "shell, right side up"} <= set(labels)


def test_each_meeting_can_be_said_by_itself() -> None:
    pieces = ["crown", "shell brim", "lining brim"]
    drawing = draw(figure("layers", pieces=pieces, together=["right sides", "wrong sides"]))
    sides = [
        item.role for item in opened(drawing.items)
        if isinstance(item, Fill) and item.role.endswith("side")
    ]  # fmt: skip
    assert sides[:3] == ["right-side", "wrong-side", "right-side"]


def test_stitches_are_drawn_on_every_layer_of_the_seam() -> None:
    assert len(strokes(draw(FACE_TO_FACE).items, "seam")) == 3, "two layers and the key"
    bare = figure("layers", pieces=["shell brim", "lining brim"], together="right sides")
    assert strokes(draw(bare).items, "seam") == []


def test_an_interfacing_is_shown_as_it_is_cut() -> None:
    pieces = ["lining brim", "interfacing brim"]
    drawing = draw(figure("layers", pieces=pieces))
    lower, upper = [item.paths[0] for item in strokes(drawing.items, "layer")][:2]
    # 6 mm outside the stitching line against 2 mm inside it, on 462 mm.
    ratio = _width(upper.points()) / _width(lower.points())
    assert ratio == pytest.approx((462 - 4) / (462 + 12), abs=0.003)


def test_a_gap_is_left_out_of_the_stitches_and_measured() -> None:
    rule = _with_gap("shell brim.outer", 0.0, 140.0)
    closed, opened_up = (strokes(draw(r).items, "seam")[0].paths for r in (FACE_TO_FACE, rule))
    shorter = sum(p.length() for p in closed) - sum(p.length() for p in opened_up)
    ring_length = HAT.pieces["brim"].flat.edges["outer"].path.length()
    share = shorter / sum(p.length() for p in closed)
    # Lying back, the edge is foreshortened except at centre back, where the gap lies across.
    assert 140 / ring_length < share < 140 / ring_length / 0.62
    words = said(draw(rule))
    assert "leave open" in words
    assert "140 mm / 5½ in" in words


def test_one_piece_is_folded_so_that_its_edges_meet() -> None:
    drawing = draw(figure("layers", pieces=["crown"], together="right sides", stitch="point seam"))
    lower, upper = [item.paths[0] for item in strokes(drawing.items, "layer")][:2]
    assert min(p.real for p in lower.points()) == pytest.approx(0, abs=1e-6)
    assert min(p.real for p in upper.points()) == pytest.approx(0, abs=1e-6)
    assert _width(lower.points()) == pytest.approx(_width(upper.points()), abs=0.05)
    assert "fold" in said(drawing)
    assert drawing.title == "Point, folded right sides together. Stitched: point seam."


def test_a_lopsided_piece_seen_from_its_wrong_side_is_mirrored() -> None:
    shape = skewed((0, 0, 120, 0, 0, 0, 0, 0))
    yoke, facing = (piece(name, shape, {"shell": {"": 10}}) for name in ("yoke", "facing"))
    made = draft_of(yoke, facing)
    rule = figure("layers", pieces=["yoke", "facing"], together="right sides")
    lower, upper = [item.paths[0] for item in strokes(draw(rule, made).items, "layer")][:2]
    for path, slanting in ((lower, 1), (upper, -1)):
        top = min(point.imag for point in path.points())
        highest = [point.real for point in path.points() if point.imag < top + 0.5]
        middle = (min(p.real for p in path.points()) + max(p.real for p in path.points())) / 2
        assert (sum(highest) / len(highest) - middle) * slanting < 0


def test_two_cloths_of_one_piece_are_cut_as_a_pair_and_lie_edge_on_edge() -> None:
    cut = {"shell": {"": 10.0}, "lining": {"": 10.0}}
    made = draft_of(piece("yoke", skewed((0, 0, 120, 0, 0, 0, 0, 0)), cut))
    rule = figure("layers", pieces=["shell yoke", "lining yoke"], together="right sides")
    lower, upper = [item.paths[0] for item in strokes(draw(rule, made).items, "layer")][:2]
    for below, above in zip(lower.points(), upper.points(), strict=True):
        assert abs(below - above - 7j) < 1e-6


def test_layers_describe_themselves() -> None:
    assert draw(FACE_TO_FACE).title == (
        "From the lowest layer up: Brim (shell, right side up); Brim (lining, wrong side up). "
        "Stitched: brim edge."
    )


def _width(points: list[complex]) -> float:
    xs = [point.real for point in points]
    return max(xs) - min(xs)


def _with_gap(edge: str, share: float, length: float) -> FigureRule:
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


# What can't be drawn


@pytest.mark.parametrize(
    ("rule", "said"),
    [
        (
            figure("flatt", piece="brim"),
            "recipe.md:40:11: There is no figure view “flatt”. Did you mean “flat”?",
        ),
        (
            figure("flat", piece="brm"),
            "recipe.md:41:12: There is no piece “brm” in this recipe. Did you mean “brim”?",
        ),
        (
            figure("flat", peice="brim"),
            "recipe.md:41:5: A flat figure has no “peice”. Did you mean “piece”?",
        ),
        (
            figure("flat"),
            "recipe.md:40:11: A figure of the view “flat” needs “piece”. "
            "Add a line like “piece: brim”.",
        ),
        (
            figure("layers", pieces=["shell brim", "lining brm"]),
            "recipe.md:41:33: There is no piece “brm” in this recipe. Did you mean “brim”?",
        ),
        (
            figure("layers", pieces=["shel brim"]),
            "recipe.md:41:14: The piece “brim” is not cut from “shel”. Did you mean “shell”?",
        ),
        (
            figure("layers", pieces=["brim", "lining brim"]),
            "recipe.md:41:14: The piece “brim” is cut from several cloths. "
            "Say which: “shell brim” or “lining brim” or “interfacing brim”.",
        ),
        (
            figure("layers", pieces=["crown"], together="right side"),
            "recipe.md:42:15: “together” can't be “right side”. Did you mean “right sides”?",
        ),
        (
            figure("layers", pieces=["crown"], stitch="pont seam"),
            "recipe.md:42:13: There is no seam “pont seam” in this recipe. "
            "Did you mean “point seam”?",
        ),
        (
            figure("layers", pieces=["crown"], stitch="brim edge"),
            "recipe.md:42:13: The seam “brim edge” joins none of the pieces shown. "
            "It joins lining brim.outer, shell brim.outer: show those, or name another seam.",
        ),
        (
            figure("layers", pieces=["crown"], stich="point seam"),
            "recipe.md:42:5: A layers figure has no “stich”. Did you mean “stitch”?",
        ),
        (
            figure("layers", pieces=["crown", "shell brim"], together=["nested", "nested"]),
            "recipe.md:42:16: “together” has 2 entries, but 2 layers meet 1 times. "
            "Write one word, or one for each meeting from the lowest up.",
        ),
        (
            figure("layers", pieces=["crown", "shell brim", "lining brim"],
                   together=["right sides", "right sides"]),
            "recipe.md:42:29: Here the layer below lies wrong side up, so “right sides” can't "
            "meet. Write “wrong sides” or “nested”, or change the meetings below it.",
        ),
        (
            _with_gap("shell brim.outr", 0, 70),
            "recipe.md:45:30: The piece “brim” has no edge “outr”. Did you mean “outer”?",
        ),
        (
            _with_gap("shell brm.outer", 0, 70),
            "recipe.md:45:25: There is no piece “brm” in this recipe. Did you mean “brim”?",
        ),
        (
            _with_gap("shell brim.inner", 0, 70),
            "recipe.md:45:19: The edge “shell brim.inner” is not stitched here, so it has no gap. "
            "Name its seam under “stitch”, or another edge.",
        ),
    ],
)  # fmt: skip
def test_a_word_nobody_knows_is_found_at_its_place_with_a_remedy(
    rule: FigureRule, said: str
) -> None:
    assert problems(rule) == [said]


def test_all_problems_of_a_figure_are_reported_together() -> None:
    rule = figure("layers", pieces=["shel brim", "crwn"], stitch="brim edg", togehter="nested")
    found = problems(rule)
    assert [line.split(":")[1] for line in found] == ["41", "41", "42", "43"]


def test_a_figure_that_can_be_drawn_has_no_problems() -> None:
    assert problems(FACE_TO_FACE) == []
