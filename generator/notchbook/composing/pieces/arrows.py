"""Arrowheads, and the grain line."""

from __future__ import annotations

from notchbook.composing.drawing import Fill, Item, Stroke
from notchbook.drafting.geometry.path import Path, polyline
from notchbook.drafting.geometry.vector import Point, unit


def grain_line(ends: tuple[Point, Point], head: float = 5.0) -> tuple[Item, ...]:
    """A line with an arrowhead, ``head`` mm long, at both ends."""
    start, end = ends
    along = unit(end - start)
    head = min(head, abs(end - start) / 4)
    # The shaft stops inside the heads, so that their points stay sharp.
    inset = along * head * 0.8
    shaft = polyline(start + inset, end - inset)
    heads = (arrowhead(start, -along, head), arrowhead(end, along, head))
    return Stroke((shaft,), "grain"), Fill(heads, "ink")


def arrowhead(tip: Point, towards: complex, length: float) -> Path:
    """A slim arrowhead, three times as long as it is wide."""
    back, side = tip - towards * length, towards * 1j * length / 6
    return polyline(tip, back + side, back - side, tip)
