"""Inset: a piece made smaller than another one, as a lining is that has to lie inside its shell.

What lies inside a bend goes the shorter way round it. A layer t nearer to the centre of a closed
curve is 2πt shorter, whatever the curve (Steiner): a lining between whose middle and the shell's
lie 0.8 mm needs 5 mm less girth, which two seam edges give that are each moved in by 2.5 mm. So
every edge of the other piece is replaced by its parallel on the side of the cloth; lines and arcs
stay lines and arcs, cubics are fitted to 0.005 mm. Where two edges meet, their parallels are cut
off where they cross or carried on straight until they meet.

Edges: those of the other piece, with their names, their order and their starts. The grain runs as
in the other piece, too.

Parameters:

- ``of``, the other piece;
- ``by``, how far its edges move in, from 0 mm to 100 mm: one length for all of them, or lengths for
  some (``{left: 2 mm, right: 2 mm}``), while the others stay.

It has no form of its own. By hand it is traced from the other piece, square to whose edges the
distance is marked off inwards at many places.

Example::

    point:
      title: Point
      shape: cone
      rim: 59 cm
      height: 40 cm
      cut: {shell: 1}
    point_lining:
      title: Lining of the point
      shape: inset
      of: point
      by: {left: 5 mm, right: 5 mm}
      cut: {shell: 1}
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Annotated

from notchbook.drafting.allowance import cut_loops
from notchbook.drafting.limits import mm
from notchbook.drafting.moves import Inwards, Move, Trace
from notchbook.drafting.outline import AllowanceError, moved_loop, stretch
from notchbook.drafting.shape import Edge, Flat, Other, Refusal, Shape
from notchbook.drafting.signature import by_edge
from notchbook.problems import suggestion

MOST = 100.0
"""How far an edge can move in, mm."""


def draft(*, of: Other, by: Annotated[Mapping[str, float], by_edge]) -> Shape:
    """The other piece with its edges moved in by so many mm."""
    flat = of.flat
    for name, distance in by.items():
        if name and name not in flat.edges:
            remedy = suggestion(name, flat.edges)
            raise Refusal(f"The other piece has no edge called “{name}”.", remedy, "by")
        if not 0 <= distance <= MOST:
            raise Refusal(
                f"An edge should move in by {mm(distance)}.",
                f"Make it 0 mm or more and {mm(MOST)} or less.",
                "by",
            )
    if flat.darts:
        raise Refusal(
            "The other piece has darts, which do not get smaller with its edges.",
            "Draft this piece as a panel of its own.",
            "of",
        )
    moved = {edge: -by.get(edge, by.get("", 0.0)) for edge in flat.edges}
    try:
        cut_loops(flat, moved)
        loops = tuple(_smaller(loop, moved) for loop in flat.loops)
    except AllowanceError as error:
        raise Refusal(
            f"There is no room: {error.what}", f"Move “{error.edge}” in by less.", "by"
        ) from None
    start, end = flat.grain
    middle, half = (start + end) / 2, 0.45 * (end - start)
    smaller = Flat(loops, (middle - half, middle + half))
    return Shape(smaller, None, tuple(_moves(of, smaller, moved)))


def _moves(of: Other, smaller: Flat, moved: Mapping[str, float]) -> Iterator[Move]:
    """Everything traced, then every line that moves, and what the others keep of theirs."""
    for edge in of.flat.edges.values():
        yield Trace(of.name, edge.name, edge.path, edge.path.length())
    # An edge that stays is a line already; what its neighbours leave of it is drawn again.
    for edge in smaller.edges.values():
        distance, length = -moved[edge.name], edge.path.length()
        yield Inwards((edge.name,), distance, edge.path, length, edge=edge.name)


def _smaller(loop: tuple[Edge, ...], moved: Mapping[str, float]) -> tuple[Edge, ...]:
    segments, names = moved_loop(loop, moved)
    return tuple(replace(edge, path=stretch(segments, names, {edge.name})) for edge in loop)
