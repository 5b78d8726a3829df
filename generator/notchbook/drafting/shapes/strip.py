"""Strip: a flat band, such as a head band, a tie or a binding, whole or in lengths to be joined.

Edges, clockwise from the top left corner: ``top`` (left to right), ``right`` (down), ``bottom``
(right to left), ``left`` (up). None is closed, and the strip has no form of its own: what it is
sewn to decides.

Parameters:

- ``length``, along the whole strip, from 1 mm to 20 m;
- ``width``, across it, from 1 mm to 20 m;
- ``grain``: ``straight`` (along the strip), ``across``, or ``bias`` (at 45°);
- ``parts``, from 1 to 100: where the cloth is not long enough, the strip is cut in so many equal
  lengths, which are joined end to end, ``left`` of one to ``right`` of the next. The piece is one
  of them: cut as many, and name its edge as many times in the seam that takes the whole strip;
- ``longest``: what the cloth gives in one length, tip to tip. A strip that needs more parts than
  it has is refused.

The ends are square. On the bias, a joined strip has ends at 45° instead, along the grain, as such
joins neither stretch nor lie on top of themselves; ``top`` and ``bottom`` are as long as before,
and a part reaches further by the strip's width from tip to tip.

Example::

    binding:
      title: Binding
      shape: strip
      length: 1.2 m
      width: 6 cm
      grain: bias
      parts: 2
      cut: {shell: 2}
"""

from __future__ import annotations

import math

from notchbook.drafting.aids.rectangle import rectangle
from notchbook.drafting.geometry.vector import Point
from notchbook.drafting.limits import LEAST, check_lengths, check_ratio, check_word, mm
from notchbook.drafting.shape import Edge, Flat, Length, Refusal, Shape, Word

ALONG = Word("straight")


def draft(
    *,
    length: Length,
    width: Length,
    grain: Word = ALONG,
    parts: int = 1,
    longest: Length | None = None,
) -> Shape:
    """A part of a strip of ``length`` by ``width``, the length along x."""
    check_lengths(length=length, width=width, longest=longest)
    check_word("grain", grain, ("straight", "across", "bias"))
    check_ratio("parts", parts, 1, 100)
    if length < LEAST * parts:
        raise Refusal(
            f"Cut in {parts} parts, a strip of {mm(length)} is in crumbs.",
            "Make it of fewer parts.",
            "parts",
        )
    part = length / parts
    shear = width if grain == "bias" and parts > 1 else 0.0
    if longest is not None and part + shear > longest + 1e-6:
        _refuse(length, width if grain == "bias" else 0.0, part + shear, longest)
    paths, moves = rectangle(part, width, shear)
    edges = tuple(Edge(name, path) for name, path in paths.items())
    middle = complex(part + shear, width) / 2
    return Shape(Flat((edges,), _grain(middle, part, width, grain)), None, moves)


def _refuse(length: float, shear: float, part: float, longest: float) -> None:
    """Too long for the cloth, and in how many parts it would not be."""
    what = f"It is cut {mm(part)} long, tip to tip, and the cloth gives {mm(longest)}."
    need = math.ceil((length - 1e-6) / (longest - shear)) if longest > shear else math.inf
    if need > 100:
        raise Refusal(
            what, "Make it narrower or shorter, or cut it from a larger cloth.", "longest"
        )
    raise Refusal(what, f"Join it from {need} parts (“parts: {need}”) and cut as many.", "longest")


def _grain(middle: Point, length: float, width: float, grain: str) -> tuple[Point, Point]:
    short = min(length, width)
    half = {
        "straight": complex(0.35 * length, 0),
        "across": complex(0, 0.35 * width),
        "bias": complex(0.35 * short, 0.35 * short),
    }[grain]
    return middle - half, middle + half
