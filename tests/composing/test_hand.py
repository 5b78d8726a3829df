"""Hand construction in words."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import get_args

from notchbook.composing.hand import sentences
from notchbook.composing.values import Values
from notchbook.drafting.geometry.path import polyline
from notchbook.drafting.moves import (
    Along,
    Crossline,
    Curve,
    Dot,
    Inwards,
    Loop,
    Move,
    Offset,
    Rule,
    Strike,
    Swing,
    Trace,
    Tuck,
)
from tests.composing.bench import made, setting


def told(*moves: Move) -> list[str]:
    """The sentences without their markup, spaces made plain."""
    return [
        text.striptags().replace("\u00a0", " ")
        for text in sentences(moves, setting(), Values("metric"))
    ]


def test_points_are_found_as_on_a_map() -> None:
    first, second = told(
        Dot("A", 0j), Dot("B", complex(-30, 40), origin="A", across=-30.0, down=40.0)
    )
    assert first == "Mark a point A."
    assert second == "From A go 30 mm 1³⁄₁₆ in west, 40 mm 1⁹⁄₁₆ in south; mark B."


def test_widths_are_marked_on_lines_across_a_middle_line() -> None:
    here, above = told(
        Crossline("A", 0.0, (("W1", -50.0), ("E1", 50.0))),
        Crossline("A", -40.0, (("W2", -30.0), ("E2", 30.0))),
    )
    assert here.startswith("Rule a thin line east and west through A, and mark on it: W1 50 mm")
    assert here.endswith("west; E1 50 mm 1³¹⁄₃₂ in east.")
    assert above.startswith("40 mm 1⁹⁄₁₆ in north of A, rule a thin line")
    assert "W2 30 mm" in above


def test_an_arc_starts_at_the_letter_that_stands_there() -> None:
    *_, arc = told(
        Dot("A", 0j),
        Dot("B", 100 + 0j, origin="A", across=100.0),
        Swing("A", 0j, 100.0, 100 + 0j, -1.0, 100.0, end="C", edge="rim"),
    )
    assert "swing an arc anticlockwise from B until it measures 100 mm" in arc
    assert arc.endswith("mark its end C. (Edge: rim.)")


def test_the_end_of_an_arc_is_a_letter_for_the_next_move() -> None:
    *_, back = told(
        Dot("A", 0j),
        Swing("A", 0j, 100.0, 100 + 0j, math.pi / 2, 157.0, end="C"),
        Swing("A", 0j, 100.0, 100j, 0.5, 50.0),
    )
    assert "clockwise from C" in back


def test_every_kind_of_move_has_its_sentence() -> None:
    rule, circle, loop, outside, inside, curve = told(
        Rule("A", "B", 144.0),
        Swing("A", 0j, 10.0, 10 + 0j, math.tau, 62.8),
        Loop(0j, 1j, 100.0, 300.0, 500.0, edge="inner"),
        Offset("inner", 80.0, 1000.0),
        Offset("inner", -5.0, 400.0),
        Curve(("A", "B", "C"), 120.0),
    )
    assert rule.startswith("Rule a straight line from A to B; it measures 144 mm")
    assert "whole circle" in circle
    assert "north and south" in loop
    assert outside.startswith("Outside inner")
    assert inside.startswith("Inside inner, measure 5 mm")
    assert curve.startswith("Join A, B, C")


def test_every_piece_of_a_draft_can_be_told() -> None:
    draft, _ = made()
    for piece in draft.pieces.values():
        assert all(told(*piece.moves))


LINE = polyline(0j, 100 + 0j)
EVERY: tuple[Move, ...] = (
    Dot("A", 0j),
    Dot("B", 100 + 0j, "A", across=100.0),
    Strike("C", 50 + 50j, "A", 70.0, "B", 72.0, clockwise=True),
    Along("D", 30 + 0j, "A", "B", 30.0),
    Crossline("A", 20.0, (("E", 10.0),)),
    Rule("A", "B", 100.0, "top"),
    Swing("A", 0j, 100.0, 100 + 0j, 1.0, 100.0, "F", "rim"),
    Loop(0j, 1j, 100.0, 300.0, 500.0, "inner"),
    Offset("inner", 80.0, 1000.0, "outer"),
    Curve(("A", "B"), 120.0, "side"),
    Tuck("dart", "top", 50.0, 20.0, 80.0, "end", 50 + 80j, LINE, 100.0, "top"),
    Trace("hat_brim", "inner", LINE, 100.0, edge="inner"),
    Trace("hat_brim", "left", LINE, 100.0, whole=False, edge="end"),
    Inwards(("inner", "left"), 40.0, LINE, 100.0, "free"),
    Inwards(("inner",), 0.0, LINE, 100.0, "inner"),
)


def test_every_move_has_its_sentence() -> None:
    assert {type(move) for move in EVERY} == set(get_args(Move))
    for move, sentence in zip(EVERY, told(*EVERY), strict=True):
        edge = getattr(move, "edge", "")
        assert sentence.endswith(f"(Edge: {edge}.)" if edge else ".")
        assert "None" not in sentence
        assert "{" not in sentence


def test_two_arcs_are_struck_from_points_and_cross_on_one_side() -> None:
    *_, struck, along = told(*EVERY[:4])
    assert struck.startswith("With 70 mm 2¾ in of string about A and 72 mm")
    assert struck.endswith("mark C where they cross, clockwise of B as seen from A.")
    assert along == "On the line from A to B, 30 mm 1³⁄₁₆ in from A, mark D."


def test_what_is_traced_names_the_other_piece() -> None:
    whole, part, inwards, stays = told(*EVERY[-4:])
    assert whole.startswith("Lay the paper on the pattern of the hat brim and trace its edge inner")
    assert "carry it on straight" in part
    assert inwards.startswith("From inner, left, measure 40 mm")
    assert stays.startswith("The line inner stays")


def test_a_point_on_the_middle_line_is_just_marked() -> None:
    alone, mixed = told(
        Crossline("A", -106.0, (("B0", 0.0),)), Crossline("A", 0.0, (("C0", 0.0), ("C1", 30.0)))
    )
    assert alone == "106 mm 4³⁄₁₆ in north of A, mark B0."
    assert "C0 on that line; C1 30 mm" in mixed


def test_darts_that_differ_in_nothing_but_their_place_are_told_once() -> None:
    path = polyline(0, 300)
    darts = [
        Tuck(f"dart {k}", "rim", 50.0 * k, 20.0, 80.0, "end", 0j, path, 300.0, edge)
        for k, edge in ((1, ""), (2, ""), (3, "rim"))
    ]
    first, more = told(*darts)
    assert "“dart 1”" in first
    assert more.startswith("Draw 2 more darts in the same way")
    assert "100 mm" in more and "150 mm" in more and more.endswith("(Edge: rim.)")
    assert len(told(darts[0], replace(darts[1], depth=60.0))) == 2


def test_names_of_edges_and_pieces_are_read_as_words() -> None:
    (said,) = told(Rule("A", "B", 300.0, "other_front"))
    assert said.endswith("(Edge: other front.)")
    (said,) = told(Offset("other_front", 10.0, 300.0, "line"))
    assert "other front" in said
