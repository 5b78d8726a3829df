"""Hand construction in words."""

from __future__ import annotations

import math

from notchbook.composing.hand import sentences
from notchbook.composing.values import Values
from notchbook.drafting.moves import Curve, Dot, Loop, Move, Offset, Rule, Swing
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
