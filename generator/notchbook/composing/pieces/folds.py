"""Darts and pleats as they are marked on a piece."""

from __future__ import annotations

from collections.abc import Iterator

from notchbook.composing.drawing import Fill, Item, Stroke
from notchbook.drafting.draft import Piece, Pleat
from notchbook.drafting.geometry.path import Path, circle, polyline
from notchbook.drafting.geometry.vector import unit
from notchbook.drafting.shape import Dart

_DOT = 0.8
"""Radius of the dot at the point of a dart, mm."""


def fold_marks(piece: Piece, size: float = 1.0) -> Iterator[Item]:
    """The marks of a piece's darts and pleats, ``size`` times as large as on a sheet.

    A dart's legs are stitched, so they are broken as stitching lines are, with a dot at the point.
    A pleat is two short lines into the cloth and an arrow from the one that is folded to the one it
    is laid on.
    """
    for dart in piece.flat.darts:
        yield Stroke(_legs(dart), "dart", {"dart": dart.name})
        yield Fill((circle(dart.point, _DOT * size),), "ink")
    for pleat in piece.pleats:
        lines, head = _pleat(pleat, size)
        yield Stroke(lines, "pleat", {"edge": pleat.edge, "seam": pleat.seam})
        yield Fill((head,), "ink")


def fold_lines(piece: Piece) -> Iterator[Path]:
    """The lines of these marks, which words keep off."""
    for dart in piece.flat.darts:
        yield from _legs(dart)
    for pleat in piece.pleats:
        yield from _pleat(pleat, 1.0)[0]


def _legs(dart: Dart) -> tuple[Path, ...]:
    return tuple(polyline(foot, dart.point) for foot in dart.feet)


def _pleat(pleat: Pleat, size: float) -> tuple[tuple[Path, ...], Path]:
    """The lines of a pleat, and its arrowhead."""
    (fold, out), (onto, back) = pleat.fold, pleat.onto
    inside = 18.0 * size
    start, tip = fold - out * inside / 2, onto - back * inside / 2
    along = unit(tip - start)
    long = min(4.0 * size, abs(tip - start) / 3)
    wing = along * 1j * long / 4
    head = polyline(tip, tip - along * long + wing, tip - along * long - wing, tip)
    lines = (
        polyline(fold, fold - out * inside),
        polyline(onto, onto - back * inside),
        polyline(start, tip - along * long * 0.8),
    )
    return lines, head
