"""Disc: a flat round or oval piece, such as the tip of a crown or the bottom of a pouch.

Edges: one, ``edge``, closed, clockwise from centre back. Centre front is up the page, centre back
down, and an oval's length runs from front to back, as the grain does.

Parameters, lengths from 1 mm to 20 m:

- ``girth`` round the edge or ``across`` from side to side, one of the two;
- ``oval``, length ÷ breadth, from ⅓ to 3, or ``length`` and ``breadth``. Beside a girth these two
  give the ratio and nothing else; alone they are the disc's own.

A round disc is two exact arcs; an oval one is an ellipse, fitted to well below 0.02 mm, which keeps
the girth exactly (see ``geometry/oval.py``).

By hand: a circle with a string; an oval with a loop of string round two pins. With half length a
and half breadth b the pins stand 2c apart, c = √(a² − b²), and the closed loop measures 2a + 2c,
for the pencil's distances from the two pins then always add up to 2a, which makes an ellipse.

Example::

    tip:
      title: Tip of the crown
      shape: disc
      girth: 59 cm
      oval: 1.29
      cut: {shell: 1}
"""

from __future__ import annotations

from notchbook.drafting.aids.rounds import draw_round, half_axes, ratio, round_path
from notchbook.drafting.limits import check_lengths, check_one
from notchbook.drafting.shape import Edge, Flat, Form, Length, Ratio, Section, Shape, lying


def draft(
    *,
    girth: Length | None = None,
    across: Length | None = None,
    oval: Ratio | None = None,
    length: Length | None = None,
    breadth: Length | None = None,
) -> Shape:
    """A circle or an ellipse round the origin."""
    shape = ratio(oval, length, breadth)
    if girth is None and across is None:
        across = breadth
    check_one(girth=girth, across=across)
    check_lengths(girth=girth, across=across)
    a, b = half_axes(shape, girth=girth, across=across)
    path = round_path(a, b)
    grain = (complex(0, -0.6 * a), complex(0, 0.6 * a))
    return Shape(
        Flat(((Edge("edge", path, round=True),),), grain),
        Form({"edge": lying(path)}, 0.0, inside=(Section(0.0, path.length()), Section(0.0, 0.0))),
        draw_round(a, b, "edge"),
    )
