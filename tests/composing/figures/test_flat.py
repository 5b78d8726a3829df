"""A piece with its dimensions: right, readable, never overlapping."""

from __future__ import annotations

import cmath
import math
from dataclasses import replace
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from notchbook.composing import numbers
from notchbook.composing.drawing import Stroke
from notchbook.composing.figures import draw_figure
from notchbook.composing.figures.board import Board, callout, callout_aside, label
from notchbook.composing.figures.size import TALLEST
from notchbook.drafting.draft import Draft
from notchbook.drafting.geometry.box import Box, bounds
from notchbook.drafting.geometry.path import polyline
from notchbook.drafting.panels.runs import Run
from notchbook.drafting.shape import Shape
from notchbook.drafting.shapes import cone, disc, panel, ring, strip, tube
from notchbook.reading.recipe import Text as Word
from tests.composing.figures.drawn import (
    CORNERS,
    HAT,
    draw,
    faultless,
    plain,
    said,
    skewed,
)
from tests.composing.geometry import collisions, line, outside, strokes, struck, texts
from tests.composing.sample import (
    NOWHERE,
    draft_of,
    figure,
    piece,
    setting,
)


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
    words = said(draw(figure("flat", piece="brim"))).replace("| ", "")
    box = HAT.pieces["brim"].flat.outline()
    assert len(box) == 2
    # Round the opening 585 mm at length ÷ breadth 1.29, the brim 150 mm wide.
    for expected in ("209 mm", "8¼ in", "162 mm", "6⅜ in", "509 mm (20 in)", "462 mm (18¼ in)"):
        assert expected in words
    assert "150 mm" in words


def test_an_arc_has_its_radius_to_half_a_millimetre_and_a_thirty_second() -> None:
    slant = HAT.pieces["crown"].flat.edges["left"].path.length()
    radius = numbers.radius(slant)
    words = said(draw(figure("flat", piece="crown")))
    assert plain(f"R {radius.metric} ({radius.inch})") in words


def test_allowances_are_named_for_every_cloth() -> None:
    words = said(draw(figure("flat", piece="brim"))).replace("| ", "")
    assert "Allowance, shell (firm twill), lining (cotton lawn): outer 6 mm (¼ in), inner" in words
    assert "Allowance, interfacing (heavy craft interfacing): outer 2 mm" in words
    assert "inside the line, inner" in words and "none." in words


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
    block = label(setting(), ("outer", "strong"), ("1528 mm", "label"))
    anchors = [(30 + 30j, 1 + 0j)]
    assert not callout(board, block, anchors, Box(0, 60 + 60j))
    for _ in range(12):
        callout_aside(board, block, anchors)
    assert len(texts(board.items)) == 24
    assert len(strokes(board.items, "leader")) == 12
    assert collisions(board.items, setting()) == []
    assert all(text.at.real > 60 for text in texts(board.items))


def test_a_centre_far_off_takes_no_room_its_radius_is_broken() -> None:
    """A shallow arc across a wide piece: its centre would stand far above."""
    points = {"a": (0, 0), "b": (300, 0), "c": (300, 200), "d": (0, 200), "m": (150, 214)}
    runs = {
        "top": (Run("line", ("a", "b")),), "right": (Run("line", ("b", "c")),),
        "hem": (Run("arc", ("c", "m", "d")),), "left": (Run("line", ("d", "a")),),
    }  # fmt: skip
    made = draft_of(piece("flap", panel.draft(points=points, edges=runs), {"shell": {"": 10}}))
    drawing = draw(figure("flat", piece="flap"), made)
    faultless(drawing)
    (radius,) = [text for text in texts(drawing.items) if text.text.startswith("R")]
    assert "R 810.5 mm" in plain(radius.text)
    bent = [s.paths[0] for s in strokes(drawing.items, "dimension") if len(s.paths[0].segments) > 1]
    assert len(bent) == 1, "the zigzag of a broken line"
    cut = bounds(strokes(drawing.items, "cut")[0].paths)
    assert cut.low.imag < bounds(bent).low.imag, "within the piece"


def eyeleted(x: float, y: float) -> Draft:
    """A flap of 400 by 160 mm with a hole of 8 mm across."""
    points = {"a": (0, 0), "b": (400, 0), "c": (400, 160), "d": (0, 160), "eye": (x, y)}
    sides = {"top": "ab", "right": "bc", "bottom": "cd", "left": "da"}
    shape = panel.draft(
        points=points,
        edges={name: (Run("line", tuple(ends)),) for name, ends in sides.items()},
        holes={"eyelet": {"eyelet": (Run("circle", ("eye",), radius=4.0),)}},
    )
    return draft_of(piece("flap", shape, {"shell": {"": 10, "eyelet": 0}}))


def test_an_eyelet_is_dimensioned_from_the_nearest_edge_and_the_next_one_across() -> None:
    drawing = draw(figure("flat", piece="flap"), eyeleted(370, 60))
    faultless(drawing)
    words = said(drawing)
    assert "26 mm" in words and "56 mm" in words
    assert "362 mm" not in words and "92 mm" not in words


def test_one_of_a_mirrored_pair_says_so() -> None:
    pair = replace(HAT.pieces["crown"], pairs={"shell": 1})
    made = replace(HAT, pieces={**HAT.pieces, "crown": pair})
    drawing = draw(figure("flat", piece="crown"), made)
    faultless(drawing, TALLEST)
    assert "One of a mirrored pair (shell)" in said(drawing)
    assert "mirrored pair" in drawing.title
    names = [text.text for text in texts(draw(figure("pieces"), made).items)]
    assert "Point (mirrored pair)" in names and "Brim" in names


def test_no_leader_to_an_edge_of_the_outline_passes_over_the_piece() -> None:
    for name in HAT.pieces:
        drawing = draw(figure("flat", piece=name))
        outline = {edge.name for edge in HAT.pieces[name].flat.loops[0]}
        edges = [s for s in strokes(drawing.items, "stitch") if s.data["edge"] in outline]
        for leader in strokes(drawing.items, "leader"):
            path = leader.paths[0]
            own = line(polyline(path.start, path.end + (path.start - path.end) * 0.05))
            crossed = [s.data["edge"] for s in edges if own.crosses(line(s.paths[0]))]
            assert len(crossed) <= (name in {"brim"}), name


def test_inches_come_first_where_the_workshop_says_so() -> None:
    inch = replace(setting(), workshop=replace(setting().workshop, units="inch"))
    assert "23 in (585 mm)" in said(draw_figure(HAT, figure("flat", piece="crown"), inch))


def test_several_pieces_stand_below_each_other() -> None:
    drawing = draw(figure("flat", pieces=["crown", "lining_tip"]))
    faultless(drawing, TALLEST)
    words = said(drawing)
    assert "rim" in words and "edge" in words


def test_the_authors_words_are_the_alternative_text_else_the_geometry_speaks() -> None:
    rule = figure("flat", piece="crown")
    made = plain(draw(rule).title)
    assert made.startswith("Point laid flat, 546 mm (21½ in) across")
    assert "rim 585 mm (23 in)" in made
    assert draw(replace(rule, alt=Word("A sector.", NOWHERE))).title == "A sector."


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
    faultless(drawing, 130)  # a key may make it higher than 100 mm
    words = said(drawing)
    for name, edge in shape.flat.edges.items():
        assert name in words
        assert plain(numbers.length(edge.path.length()).metric) in words


def test_an_open_arc_says_how_far_it_turns_and_other_curves_how_far_they_reach() -> None:
    assert "arc of 73°" in said(draw(figure("flat", piece="crown")))
    run = {
        "left": (Run("line", ("a", "b")),),
        "hem": (Run("curve", ("b", "m", "c")),),
        "right": (Run("line", ("c", "d")),),
        "top": (Run("line", ("d", "a")),),
    }
    points = {"a": (0, 0), "b": (-40, 200), "m": (60, 240), "c": (160, 190), "d": (100, 0)}
    gore = piece("gore", panel.draft(points=points, edges=run), {"shell": {"": 10}})
    words = said(draw(figure("flat", piece="gore"), draft_of(gore)))
    assert "200 × " in words.replace("|", "") and "overall" in words
    assert "°" not in words


def many_sided(count: int, radius: float) -> Shape:
    """A panel of as many short edges as make a circle."""
    at = {f"p{k}": radius * cmath.rect(1, math.tau * k / count) for k in range(count)}
    names = list(at)
    edges = {f"side_{k}": (Run("line", (names[k], names[(k + 1) % count])),) for k in range(count)}
    return panel.draft(points={n: (p.real, p.imag) for n, p in at.items()}, edges=edges)


@pytest.mark.parametrize("count", [12, 40])
def test_edges_without_room_for_their_words_have_a_number_and_a_key(count: int) -> None:
    made = draft_of(piece("wheel", many_sided(count, 90), {"shell": {"": 8}}))
    drawing = draw(figure("flat", piece="wheel"), made)
    assert collisions(drawing.items, setting()) == []
    assert struck(drawing.items, setting()) == []
    assert outside(drawing, setting()) == []
    assert drawing.box.width <= 120
    words = said(drawing)
    assert all(f"side {k}" in words for k in range(count))
    if count > 12:
        assert f"{count} side {count - 1}: " in words


def test_hundreds_of_notches_are_thinned_until_each_can_be_seen() -> None:
    made = HAT
    crowded = [
        replace(made.pieces["crown"].notches[0], number=k, at=at)
        for k, at in enumerate(made.pieces["crown"].flat.edges["rim"].path.points(0.01))
    ]
    assert len(crowded) > 50
    crown = replace(made.pieces["crown"], notches=tuple(crowded))
    drawing = draw(
        figure("flat", piece="crown"), replace(made, pieces={**made.pieces, "crown": crown})
    )
    faultless(drawing)
    marks = [bounds(stroke.paths).centre for stroke in strokes(drawing.items, "notch")]
    assert len(marks) > 20
    assert min(abs(a - b) for a, b in combinations(marks, 2)) > 1.5


def test_a_label_longer_than_the_drawing_is_set_in_rows() -> None:
    made = HAT
    title = "Lining for the very tall point of the hat that the first lamplighter wears"
    crown = replace(made.pieces["crown"], title=title)
    drawing = draw(
        figure("layers", pieces=["crown", "shell brim"]),
        replace(made, pieces={**made.pieces, "crown": crown}),
    )
    faultless(drawing)
    assert title in " ".join(text.text for text in texts(drawing.items))
