"""Strip: a flat band with square ends, such as a head band, a tie or a binding.

Edges, clockwise from the top left corner: ``top`` (left to right), ``right`` (down), ``bottom``
(right to left), ``left`` (up). None is closed, and the strip has no form of its own: what it is
sewn to decides.

Parameters: ``length`` along the strip, ``width`` across it, each from 1 mm to 20 m; ``grain``:
``straight`` (along the strip), ``across``, or ``bias`` (at 45°).
"""

from __future__ import annotations

from notchbook.drafting.geometry.path import Point
from notchbook.drafting.limits import check_lengths, check_word
from notchbook.drafting.rectangle import rectangle
from notchbook.drafting.shape import Edge, Flat, Length, Shape, Word

ALONG = Word("straight")


def draft(*, length: Length, width: Length, grain: Word = ALONG) -> Shape:
    """A rectangle of ``length`` by ``width``, the length along x."""
    check_lengths(length=length, width=width)
    check_word("grain", grain, ("straight", "across", "bias"))
    paths, moves = rectangle(length, width)
    edges = tuple(Edge(name, path) for name, path in paths.items())
    return Shape(Flat((edges,), _grain(length, width, grain)), None, moves)


def _grain(length: float, width: float, grain: str) -> tuple[Point, Point]:
    middle = complex(length, width) / 2
    short = min(length, width)
    half = {
        "straight": complex(0.35 * length, 0),
        "across": complex(0, 0.35 * width),
        "bias": complex(0.35 * short, 0.35 * short),
    }[grain]
    return middle - half, middle + half
