"""Half or a quarter of a piece on paper, where the recipe asks for it: trace it, flip it, go on.

Only the paper is halved; the cloth is never folded for it, so it does no harm to felt or
interfacing. The fold is no cutting line: lines end on it, and what is traced goes on from there.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from notchbook.drafting.draft import Draft, Notch, Piece
from notchbook.drafting.geometry.box import Box
from notchbook.drafting.geometry.clip import clip
from notchbook.drafting.geometry.path import Path, polyline
from notchbook.drafting.geometry.polygon import cut_off, distance
from notchbook.drafting.geometry.stretch import across
from notchbook.drafting.geometry.vector import Point, dot, unit
from notchbook.drafting.packing.raster import CHORD, Region, outermost
from notchbook.problems import Problem
from notchbook.reading.recipe import PieceRule

TRUE = 0.05
"""How far a piece may miss its own mirror image, mm: a pencil line is wider."""

_ON = 1e-6
_SAMPLES = 48
_FAR = 1e5


@dataclass(frozen=True, slots=True)
class Fold:
    """A straight line that a piece is flipped over: a point on it, and its direction. What is
    printed lies on the left of that, as seen on the page."""

    at: Point
    along: complex

    def depth(self, point: Point) -> float:
        """How far a point lies on the printed side, mm."""
        return dot(point - self.at, self.along * -1j)

    def flipped(self, point: Point) -> Point:
        """Where a point comes to lie on the other side."""
        return across(point, self.at, self.at + self.along)

    def moved(self, turn: complex, shift: complex) -> Fold:
        """Every point p taken to ``p * turn + shift``."""
        return Fold(self.at * turn + shift, self.along * turn)


def folds(draft: Draft) -> Mapping[str, tuple[Fold, ...]]:
    """The folds of every piece that its recipe asks to print in part and that can be."""
    found = {}
    for name, rule in _asked(draft):
        wanted = _WANTED[rule.paper]
        lines = _axes(draft.pieces[name])[:wanted]
        if len(lines) == wanted:
            found[name] = tuple(_facing(line, draft.pieces[name]) for line in lines)
    return found


def unfolded(draft: Draft) -> Iterator[Problem]:
    """What is wrong with a wish to print half or a quarter of a piece."""
    for name, rule in _asked(draft):
        count = len(_axes(draft.pieces[name]))
        if count == 0:
            what = f"Piece “{name}” is not the same on both sides of any line through its middle, "
            what += "in outline and marks, so half of it can't stand for the whole."
            yield Problem(rule.place, what, "Leave “paper” out, and it is printed whole.")
        elif count < _WANTED[rule.paper]:
            what = f"Piece “{name}” is the same on both sides of one line through its middle only, "
            what += "so a quarter of it can't stand for the whole."
            yield Problem(rule.place, what, "Write “paper: half”.")


def _asked(draft: Draft) -> Iterator[tuple[str, PieceRule]]:
    for name, rule in draft.recipe.pieces.items():
        if rule.paper != "whole" and name in draft.pieces:
            yield name, rule


_WANTED = {"half": 1, "quarter": 2}


def _axes(piece: Piece) -> list[Fold]:
    """Lines through the middle that the piece is symmetric about: along its grain, across it, and
    along and across its length. Of two, one is square to the other."""
    if piece.flat.darts or piece.pleats:
        return []
    regions = outermost(piece)
    points = [p for loop in regions[0][:1] for p in _samples(loop)]
    middle = _middle(regions[0][0])
    length = _longest(points, middle)
    start, end = piece.flat.grain
    found: list[Fold] = []
    for along in (unit(end - start), unit(end - start) * 1j, length, length * 1j):
        fold = Fold(middle, along)
        if all(abs(dot(along, other.along)) < 1e-6 for other in found) and _same(piece, fold):
            found.append(fold)
    return found


def _samples(loop: Path) -> list[Point]:
    length = loop.length()
    return [loop.point_at(length * k / _SAMPLES) for k in range(_SAMPLES)]


def _middle(loop: Path) -> Point:
    """The centre of area of what a loop goes round."""
    points = loop.points(0.01)
    area, sum_ = 0.0, 0j
    for a, b in pairwise(points):
        part = a.real * b.imag - b.real * a.imag
        area += part
        sum_ += part * (a + b)
    return sum_ / (3 * area)


def _longest(points: Sequence[Point], middle: Point) -> complex:
    """The direction in which some points spread most (their principal axis)."""
    spread = sum(((p - middle) ** 2 for p in points), 0j)
    return 1 + 0j if abs(spread) < 1e-6 else unit(spread**0.5)


def _same(piece: Piece, fold: Fold) -> bool:
    for line in piece.cut_lines:
        if not _mirrored(line.loops, fold):
            return False
    kinds = {line.kind for line in piece.lines}
    within = [[line.path for line in piece.lines if line.path and line.kind == k] for k in kinds]
    spots = [spot for line in piece.lines for spot in line.crosses]
    return (
        _mirrored(piece.flat.outline(), fold)
        and all(_mirrored(paths, fold) for paths in within if paths)
        and all(any(abs(fold.flipped(p) - q) < TRUE for q in spots) for p in spots)
        and all(any(_twins(n, other, fold) for other in piece.notches) for n in piece.notches)
    )


def _mirrored(loops: Sequence[Path], fold: Fold) -> bool:
    sides = [pair for loop in loops for pair in pairwise(loop.points(0.005))]
    images = (fold.flipped(p) for loop in loops for p in _samples(loop))
    return all(any(distance(p, *side) < TRUE for side in sides) for p in images)


def _twins(one: Notch, other: Notch, fold: Fold) -> bool:
    """Whether a notch falls on another one when it is flipped."""
    return abs(fold.flipped(one.at) - other.at) < TRUE and one.strokes == other.strokes


def _facing(fold: Fold, piece: Piece) -> Fold:
    """The fold with the printed side where the grain line is."""
    start, end = piece.flat.grain
    return Fold(fold.at, -fold.along) if fold.depth((start + end) / 2) < -TRUE else fold


def twin(notch: Notch, piece: Piece, lines: Sequence[Fold]) -> Notch | None:
    """The notch that comes to lie where this one's image is, on the part that is not printed: of
    the same seam, if there is one."""
    found = [n for line in lines for n in piece.notches if n != notch and _twins(notch, n, line)]
    return min(found, key=lambda other: other.seam != notch.seam, default=None)


def part(path: Path, lines: Sequence[Fold]) -> tuple[Path, ...]:
    """The stretches of a path on the printed side of every fold."""
    found: tuple[Path, ...] = (path,)
    for line in lines:
        # With the fold along the x axis, what is printed lies above it on the page.
        back = line.along.conjugate()
        box = Box(complex(-_FAR, -_FAR), complex(_FAR, 1e-7))
        found = tuple(
            kept.moved(line.along, line.at)
            for each in found
            for kept in clip(each.moved(back, -line.at * back), box)
        )
    return found


def regions(piece: Piece, lines: Sequence[Fold]) -> tuple[Region, ...]:
    """What the outermost cutting lines hold on the printed side of every fold."""
    if not lines:
        return outermost(piece)
    return tuple(
        tuple(closed for loop in region if (closed := closed_part(loop, lines)))
        for region in outermost(piece)
    )


def closed_part(loop: Path, lines: Sequence[Fold]) -> Path | None:
    """What a closed path goes round on the printed side of every fold, as a polygon that runs along
    the folds; none where that is nothing."""
    points: Sequence[Point] = loop.points(CHORD / 10)[:-1]
    for line in lines:
        points = cut_off(points, line.depth)
    return polyline(*points, points[0]) if len(points) > 2 else None


def chords(piece: Piece, lines: Sequence[Fold]) -> tuple[Path, ...]:
    """The folds as they are drawn: where they lie within the outermost cutting line and on the
    printed side of each other."""
    found: list[Path] = []
    for line in lines:
        others = [other for other in lines if other is not line]
        meets = sorted(
            dot(a + (b - a) * line.depth(a) / (line.depth(a) - line.depth(b)) - line.at, line.along)
            for region in outermost(piece)[:1]
            for loop in region
            for a, b in pairwise(loop.points(0.01))
            # A point on the fold is on one side of it whatever its rounding says.
            if (line.depth(a) > _ON) != (line.depth(b) > _ON)
        )
        for first, last in zip(meets[::2], meets[1::2], strict=False):
            run = polyline(line.at + line.along * first, line.at + line.along * last)
            found += [kept for kept in part(run, others) if kept.length() > math.sqrt(TRUE)]
    return tuple(found)
