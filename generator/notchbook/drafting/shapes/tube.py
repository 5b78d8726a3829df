"""Tube: a rectangle sewn into a round tube standing on the table.

Edges, clockwise from the top left corner, seen on the right side of the cloth: ``top`` (left to
right), ``right`` (down), ``bottom`` (right to left), ``left`` (up). ``left`` and ``right`` meet in
the tube's own seam at centre back; ``top`` and ``bottom`` become circles that start there. The
grain runs down centre front, which is the middle.

Parameters: ``girth`` round the tube and ``height``, each from 1 mm to 20 m.
"""

from __future__ import annotations

import math

from notchbook.drafting.geometry.path import circle
from notchbook.drafting.limits import check_lengths
from notchbook.drafting.rectangle import rectangle
from notchbook.drafting.shape import Edge, Flat, Form, Length, Level, Shape, Straight


def draft(*, girth: Length, height: Length) -> Shape:
    """A rectangle of ``girth`` by ``height``; its volume is girth² height ÷ 4π."""
    check_lengths(girth=girth, height=height)
    paths, moves = rectangle(girth, height)
    edges = tuple(Edge(name, path, name in ("top", "bottom")) for name, path in paths.items())
    grain = (complex(girth / 2, 0.2 * height), complex(girth / 2, 0.8 * height))
    radius = girth / math.tau
    low, high = (0.0, -radius, 0.0), (0.0, -radius, height)
    back = -math.pi / 2
    form = Form(
        {
            "top": Level(circle(0, radius, back), height),
            "right": Straight(high, low),
            "bottom": Level(circle(0, radius, back, -math.tau), 0.0),
            "left": Straight(low, high),
        },
        volume=math.pi * radius**2 * height,
        seam=("left", "right"),
    )
    return Shape(Flat((edges,), grain), form, moves)
