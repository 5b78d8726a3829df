"""The dimensions a draughtsman puts to a piece: straight runs, the whole, holes, radii.

Each finds a place where nothing else is drawn; what has none is given back in words.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise

from notchbook.composing import numbers
from notchbook.composing.figures.board import Board
from notchbook.composing.figures.ruled import dimension, radial
from notchbook.composing.numbers import Pair
from notchbook.composing.pairs import both
from notchbook.drafting.draft import Piece
from notchbook.drafting.geometry.box import bounds
from notchbook.drafting.geometry.path import Path
from notchbook.drafting.geometry.segments import Arc, Line
from notchbook.drafting.geometry.vector import Point, dot, unit
from notchbook.drafting.shape import Edge


def straight(board: Board, edge: Edge, allowance: float, words: Pair) -> bool:
    """A straight edge's dimension line outside the cutting line; whether it is one and has room.
    ``allowance`` is as drawn."""
    start, end = edge.path.start, edge.path.end
    if not _is_straight(edge.path) or abs(end - start) < 12:
        return False
    out = unit(end - start) * -1j
    return any(
        dimension(board, start + shift, end + shift, words, out, extend=(start, end), free=True)
        for shift in (out * (max(allowance, 0.0) + distance) for distance in (4.0, 8.0))
    )


def _is_circle(path: Path) -> bool:
    box = bounds([path])
    return all(isinstance(segment, Arc) for segment in path.segments) and (
        abs(box.width - box.height) < 1e-3
    )


def _is_straight(path: Path) -> bool:
    return all(isinstance(segment, Line) for segment in path.segments) and (
        abs(abs(path.end - path.start) - path.length()) < 1e-6
    )


def overall(board: Board, piece: Piece, small: Piece) -> Iterator[str]:
    """Width below and height beside it, where no straight edge has said as much; of a circle
    the width alone. What has no room is given back in words."""
    true = bounds(piece.flat.outline())
    outline = small.flat.outline()[0]
    drawn, outer = bounds([outline]), bounds(small.cut_lines[0].loops)
    left, right, top, foot = _furthest(outline)
    spans = [
        edge.path.end - edge.path.start
        for edge in small.flat.edges.values()
        if _is_straight(edge.path)
    ]
    if not any(abs(abs(span.real) - drawn.width) < 1e-3 > abs(span.imag) for span in spans):
        for y in (outer.high.imag + 5, outer.high.imag + 9):
            ends = complex(left.real, y), complex(right.real, y)
            words = numbers.length(true.width)
            if dimension(board, *ends, words, 1j, extend=(left, right), free=True):
                break
        else:
            yield _said(board, "flat.width", true.width)
    if _is_circle(outline) or any(
        abs(abs(span.imag) - drawn.height) < 1e-3 > abs(span.real) for span in spans
    ):
        return
    words = numbers.length(true.height)
    for x, away in ((outer.low.real, -1), (outer.high.real, 1)):
        for shift in (5, 9):
            ends = complex(x + away * shift, foot.imag), complex(x + away * shift, top.imag)
            if dimension(board, *ends, words, away, extend=(foot, top), free=True):
                return
    yield _said(board, "flat.height", true.height)


def _said(board: Board, key: str, mm: float) -> str:
    return board.setting.say(key, length=both(numbers.length(mm), board.setting))


def holes(board: Board, small: Piece, factor: float) -> Iterator[str]:
    """The breadth and length of each hole (of a circle the breadth alone), and how far it is from
    the outline. What has no room is given back in words."""
    outline, *holes = small.flat.outline()
    for hole in holes:
        box = bounds([hole])
        left, right, top, foot = _furthest(hole)
        across, along = (numbers.length(size / factor) for size in (box.width, box.height))
        for y, away in ((foot.imag + 5, 1j), (top.imag - 5, -1j), (box.centre.imag, -1j)):
            ends = complex(left.real, y), complex(right.real, y)
            if dimension(board, *ends, across, away, extend=(left, right)):
                break
        else:
            yield _said(board, "flat.hole.width", box.width / factor)
        for x, away in ((left.real - 5, -1), (right.real + 5, 1), (box.centre.real, -1)):
            ends = complex(x, foot.imag), complex(x, top.imag)
            if _is_circle(hole) or dimension(board, *ends, along, away, extend=(foot, top)):
                break
        else:
            yield _said(board, "flat.hole.height", box.height / factor)
        yield from _beside(board, hole, outline, small, factor)


def _beside(board: Board, hole: Path, outline: Path, small: Piece, factor: float) -> Iterator[str]:
    """From a hole straight out to where the outline is nearest, and unless it is as near all round,
    to where it is nearest across that; somewhere between notches. Else in words."""
    rim = outline.points(0.01)
    length = hole.length()
    gaps: list[_Gap] = []
    for foot, along in hole.places(share * length for share in _ROUND):
        way = along * 1j
        if any(abs(notch.at - foot) < 2.5 for notch in small.notches):
            continue
        if hits := list(_hits(foot, way, rim)):
            gaps.append((min(hits), foot, way))
    if not gaps:
        return
    yield from _nearest(board, gaps, factor)
    least, _, out = min(gaps, key=_size)
    if max(gaps, key=_size)[0] > 1.1 * least:
        across = [gap for gap in gaps if abs(dot(gap[2], out)) < 0.15]
        yield from _nearest(board, across, factor)


_Gap = tuple[float, Point, complex]
"""How far the outline is from a point of a hole, that point, and the direction out to it."""

_ROUND = (0.69, 0.31, 0.81, 0.19, 0.44, 0.56, *(k / 32 for k in range(32)))


def _size(gap: _Gap) -> float:
    return gap[0]


def _nearest(board: Board, gaps: Sequence[_Gap], factor: float) -> Iterator[str]:
    """The least of some gaps, or one hardly wider, as a dimension; else in words."""
    least = min(map(_size, gaps), default=0.0)
    words = numbers.length(least / factor)
    for found, foot, way in gaps:
        if numbers.length(found / factor) == words and dimension(
            board, foot, foot + way * found, words, way * -1j
        ):
            return
    if gaps:
        yield _said(board, "flat.hole.edge", least / factor)


def _hits(start: Point, way: complex, line: Sequence[Point]) -> Iterator[float]:
    """How far along a ray a line of points is met."""
    back = way.conjugate()
    for a, b in pairwise((point - start) * back for point in line):
        if (a.imag > 0) != (b.imag > 0):
            at = a.real - a.imag * (b.real - a.real) / (b.imag - a.imag)
            if at > 0:
                yield at


def _furthest(path: Path) -> Iterator[Point]:
    """The points of a path that lie furthest to the left, to the right, up and down."""
    points = path.points(0.01)
    for way in (-1, 1, 1j, -1j):
        yield max(points, key=lambda point, back=way: (point * back).real)  # type: ignore[misc]


def bend(board: Board, piece: Piece, edge: Edge, factor: float) -> Iterator[str]:
    """How an edge that is not straight runs, in words to set at it. Of one circular arc its radius
    (which is drawn from the centre where there is room) and how far it turns; of any other curve
    how wide and high it is, where the whole piece's width and height do not say it."""
    if arc := _circular(edge.path):
        centre, radius, turned = arc
        words = board.setting.say(
            "flat.radius", radius=both(numbers.radius(radius / factor), board.setting)
        )
        if not _drawn_radius(board, edge.path, centre, words):
            yield words
        if not edge.path.closed:
            yield board.setting.say("flat.sweep", angle=numbers.angle(turned).metric)
    elif not (edge.path.closed or _is_straight(edge.path)):
        own, whole = bounds([edge.path]), bounds(piece.flat.outline())
        size = complex(own.width, own.height) / factor
        if abs(size - complex(whole.width, whole.height)) > 1:
            words = both(numbers.extent(size.real, size.imag), board.setting)
            yield board.setting.say("flat.extent", extent=words)


def _circular(path: Path) -> tuple[Point, float, float] | None:
    """Centre, radius and angle of a path that is one circular arc."""
    arcs = [segment for segment in path.segments if isinstance(segment, Arc)]
    if len(arcs) < len(path.segments):
        return None
    centre, radius = arcs[0].centre, arcs[0].radius
    if any(abs(a.centre - centre) > 1e-6 or abs(a.radius - radius) > 1e-6 for a in arcs):
        return None
    return centre, radius, abs(math.fsum(arc.sweep for arc in arcs))


def _drawn_radius(board: Board, path: Path, centre: Point, words: str) -> bool:
    length = path.length()
    shares = (0.3, 0.7, 0.38, 0.62, 0.22, 0.78, 0.12, 0.88)
    tips = path.places(share * length for share in shares)
    return any(radial(board, centre, tip, words) for tip, _ in tips)


def anchors(path: Path) -> list[tuple[Point, complex]]:
    """Points of an edge that words may lead to, each with the direction away from the cloth."""
    length = path.length()
    shares = (0.44, 0.56, 0.31, 0.69, 0.19, 0.81, 0.06, 0.94)
    return [(at, along * -1j) for at, along in path.places(share * length for share in shares)]
