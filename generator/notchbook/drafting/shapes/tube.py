"""Tube: a rectangle sewn into a round or oval tube standing on the table.

Edges, clockwise from the top left corner, seen on the right side of the cloth: ``top`` (left to
right), ``right`` (down), ``bottom`` (right to left), ``left`` (up). ``left`` and ``right`` meet in
the tube's own seam at centre back; ``top`` and ``bottom`` become circles or ovals that start there.
The grain runs down centre front, which is the middle.

Parameters, lengths from 1 mm to 20 m:

- ``girth``, round the tube;
- ``height``, from the table up;
- ``oval``, length ÷ breadth as it stands, from ⅓ to 3, or ``length`` and ``breadth``, which give
  this ratio and nothing else. An oval one is cut the same: what it is sewn to makes it oval, and it
  holds less.

Example::

    drum:
      title: Side of a drum cap
      shape: tube
      girth: 59 cm
      height: 9 cm
      cut: {shell: 1}
"""

from __future__ import annotations

import math

from notchbook.drafting.aids.rectangle import rectangle
from notchbook.drafting.aids.rounds import half_axes, ratio, round_path
from notchbook.drafting.limits import check_lengths
from notchbook.drafting.shape import (
    Edge,
    Flat,
    Form,
    Length,
    Level,
    Ratio,
    Section,
    Shape,
    Straight,
    lying,
)


def draft(
    *,
    girth: Length,
    height: Length,
    oval: Ratio | None = None,
    length: Length | None = None,
    breadth: Length | None = None,
) -> Shape:
    """A rectangle of ``girth`` by ``height``; round, its volume is girth² height ÷ 4π."""
    check_lengths(girth=girth, height=height)
    a, b = half_axes(ratio(oval, length, breadth), girth=girth)
    paths, moves = rectangle(girth, height)
    edges = tuple(Edge(name, path, name in ("top", "bottom")) for name, path in paths.items())
    grain = (complex(girth / 2, 0.2 * height), complex(girth / 2, 0.8 * height))
    bottom = lying(round_path(a, b)).path
    back = bottom.start.imag
    low, high = (0.0, back, 0.0), (0.0, back, height)
    form = Form(
        {
            "top": Level(bottom.reversed(), height),
            "right": Straight(high, low),
            "bottom": Level(bottom, 0.0),
            "left": Straight(low, high),
        },
        volume=math.pi * a * b * height,
        seam=("left", "right"),
        inside=(Section(0.0, girth), Section(height, girth)),
    )
    return Shape(Flat((edges,), grain), form, moves)
