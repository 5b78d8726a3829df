"""Ring: a flat brim, with a round or oval opening and an outer edge parallel to it.

Two closed edges, both starting at centre back: ``inner``, the opening, which runs anticlockwise
because it is a hole, and ``outer``, clockwise. Centre front is up the page, centre back down. An
oval opening is longer from front to back. The grain runs the same way, through the cloth at one
side.

Parameters: ``inner``, the girth of the opening, and ``width``, the same all round, each from 1 mm
to 20 m; ``oval``, length ÷ breadth of the opening, from ⅓ to 3, where 1 is round.

A round ring is made of exact arcs of radius inner ÷ 2π and that plus the width. The girth of an
oval opening is kept exactly: its axes follow from the girth and the ratio (``geometry/oval.py``).
Its outer edge is no ellipse but the parallel of one, and like every parallel of a convex curve it
is 2π × width longer (Steiner). Opening and edge are fitted to better than 0.02 mm.

By hand: two circles about one centre; or the oval with a loop of string round two pins and the
outer edge marked off square to it.
"""

from __future__ import annotations

import math

from notchbook.drafting.geometry.offset import offset
from notchbook.drafting.geometry.path import Point
from notchbook.drafting.limits import check_lengths
from notchbook.drafting.moves import Dot, Move, Offset, Swing
from notchbook.drafting.rounds import draw_round, half_axes, round_path
from notchbook.drafting.shape import Edge, Flat, Form, Length, Ratio, Shape, lying


def draft(*, inner: Length, width: Length, oval: Ratio = 1.0) -> Shape:
    """A ring round the origin."""
    check_lengths(inner=inner, width=width)
    a, b = half_axes(oval, girth=inner)
    opening = round_path(a, b)
    outer = offset(opening, width)
    hole = opening.reversed()
    return Shape(
        Flat(
            ((Edge("outer", outer, round=True),), (Edge("inner", hole, round=True),)),
            _grain(a, b, width),
        ),
        Form({"outer": lying(outer), "inner": lying(hole)}, volume=0.0),
        _moves(a, b, width, inner),
    )


def _grain(a: float, b: float, width: float) -> tuple[Point, Point]:
    """Half way between opening and edge at the side. A circle of radius ρ that touches the opening
    there from within has a parallel that lies within the ring's, and shows how long a straight line
    stays on the cloth: (ρ + w)² − (ρ + w/2)² = ρw + ¾w²."""
    touching = min(b, a * a / b)
    half = 0.8 * math.sqrt(touching * width + 0.75 * width * width)
    across = b + width / 2
    return complex(across, -half), complex(across, half)


def _moves(a: float, b: float, width: float, inner: float) -> tuple[Move, ...]:
    length = inner + math.tau * width
    if a != b:
        return (*draw_round(a, b, "inner"), Offset("inner", width, length, "outer"))
    radius = a + width
    back = radius * 1j
    return (
        *draw_round(a, b, "inner"),
        Dot("C", back, "A", down=radius),
        Swing("A", 0, radius, back, math.tau, length, edge="outer"),
    )
