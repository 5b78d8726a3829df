"""Closed round curves, circle or oval, and the moves that draw them: for rings and discs."""

from __future__ import annotations

import math

from notchbook.drafting.geometry.oval import axes, oval, perimeter
from notchbook.drafting.geometry.path import Path, circle
from notchbook.drafting.limits import check_lengths, check_ratio
from notchbook.drafting.moves import Dot, Loop, Move, Swing
from notchbook.drafting.shape import Refusal


def ratio(oval: float | None, length: float | None, breadth: float | None) -> float:
    """Length ÷ breadth of an oval from the ratio itself, or from a length and a breadth that say
    nothing else; 1, a circle, where nothing is given. Raises Refusal."""
    if length is None and breadth is None:
        return 1.0 if oval is None else oval
    if oval is not None:
        raise Refusal(
            "“oval” is given beside a length and a breadth, which have a ratio of their own.",
            "Give “oval”, or “length” and “breadth”.",
            "oval",
        )
    if length is None or breadth is None:
        given, other = ("length", "breadth") if breadth is None else ("breadth", "length")
        raise Refusal(
            f"An oval’s “{given}” says nothing without its “{other}”.",
            f"Give “{other}” too.",
            given,
        )
    check_lengths(length=length, breadth=breadth)
    return length / breadth


def half_axes(
    ratio: float, *, girth: float | None = None, across: float | None = None
) -> tuple[float, float]:
    """Half length (front to back) and half breadth (side to side), mm, of a circle or ellipse of
    this ratio, from its girth or its breadth. Equal for a circle."""
    check_ratio("oval", ratio, 1 / 3, 3)
    if abs(ratio - 1) < 1e-6:
        ratio = 1.0
    if across is not None:
        return across / 2 * ratio, across / 2
    assert girth is not None
    return axes(girth, ratio)


def round_path(half_length: float, half_breadth: float) -> Path:
    """The curve round the origin, clockwise from centre back, which is down the page."""
    if half_length == half_breadth:
        return circle(0, half_length, math.pi / 2)
    return oval(0, half_length, half_breadth)


def draw_round(half_length: float, half_breadth: float, edge: str) -> tuple[Move, ...]:
    """Swing a circle about A, or draw an oval with a loop of string round two pins."""
    girth = perimeter(half_length, half_breadth)
    centre = Dot("A", 0)
    if half_length == half_breadth:
        back = half_length * 1j
        return (
            centre,
            Dot("B", back, "A", down=half_length),
            Swing("A", 0, half_length, back, math.tau, girth, edge=edge),
        )
    longer, shorter = max(half_length, half_breadth), min(half_length, half_breadth)
    apart = 2 * math.sqrt(longer**2 - shorter**2)
    along = 1j if half_length > half_breadth else 1 + 0j
    return (centre, Loop(0, along, apart, 2 * longer + apart, girth, edge))
