"""A stretch of an edge with all that lies along it, laid straight and drawn large."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from notchbook.composing.drawing import Fill, Stroke, Text
from notchbook.composing.figures.beside import words_beside
from notchbook.composing.figures.board import Board
from notchbook.composing.figures.close_up import CloseUp, neighbour, slit_of
from notchbook.composing.figures.laid_on import across, add_mark, ended, lapped, parted, stitches
from notchbook.composing.figures.legend import point
from notchbook.composing.figures.size import SIZE
from notchbook.composing.setting import Setting
from notchbook.drafting.geometry.path import polyline
from notchbook.drafting.geometry.vector import Point

_WORDS = 29.0
"""No row of its words is longer, mm."""

_NAMED = 8.0
"""Between the lines of a dimension longer than this the seam has its word, mm on the page."""


def draw_close_up(view: CloseUp, named: Sequence[tuple[float, str]], setting: Setting) -> Board:
    """The stretch with all that lies on it; on the right the words of what lies at each depth."""
    board = Board(setting)
    plan = view.plan
    _cloth(board, view)
    for rows in plan.rows:
        for mm in rows.inside:
            _row(board, view, rows.kind, mm)
    if plan.thing and plan.thing.whole:
        lapped(board, view, plan.thing)
    elif plan.thing and plan.thing.at:
        across(board, view, plan.thing)
    elif plan.thing and plan.thing.pieces:
        parted(board, view, plan.thing)
    elif plan.thing:
        ended(board, view, plan.thing)
    if plan.thing and plan.outside and plan.thing.inside < -0.05 < 0.05 < plan.thing.far:
        _stitching_line(board, view)  # As if seen through what lies over it.
    mark = plan.line.notch_near(view.middle)
    near = mark and abs(view.off(mark[0])) < view.half - 3 / view.scale
    if mark and near and (plan.thing is None or plan.thing.whole):
        add_mark(board, view, mark[0], mark[1])
    _name(board, view, named)
    return board


@dataclass(frozen=True, slots=True)
class _Corner:
    """The neighbour of the edge at a corner: where its stitching line and its cut edge run."""

    first: bool
    u: float
    slope: float
    beyond: float

    def stitch(self, v: float) -> float:
        """The stitching line at a depth."""
        return self.u + v * self.slope

    def raw(self, v: float) -> float:
        """The cut edge at a depth."""
        return self.stitch(v) + self.beyond


def _corner(view: CloseUp) -> _Corner | None:
    if view.corner is None:
        return None
    line = view.plan.line
    first = view.corner < 1
    other = neighbour(line, not first)
    length = other.path.length()
    _, way = line.at(view.corner)
    leaving = -other.path.at(length)[1] if first else other.path.at(0.0)[1]
    rel = leaving / way
    if rel.imag < 0.3:  # Not much of a corner: the neighbour goes on along the same line.
        return None
    wide = 0.0 if view.plan.turned else line.piece.cut_line(line.cloth).allowance[other.name]
    beyond = wide / rel.imag * (-1 if first else 1)
    return _Corner(first, view.corner - view.middle, rel.real / rel.imag, beyond)


def _stitching_line(board: Board, view: CloseUp) -> None:
    board.add(Stroke((polyline(*_ends(view)),), "stitch"))


def _ends(view: CloseUp) -> tuple[Point, Point]:
    """Of the stitching line, on the page."""
    low, high, corner = -view.half, view.half, _corner(view)
    if corner:
        low, high = (corner.u, high) if corner.first else (low, corner.u)
    return view.page(low, 0.0), view.page(high, 0.0)


def _cloth(board: Board, view: CloseUp) -> None:
    """Cloth with its cut edge, its stitching line, and a corner if there is one."""
    plan, half, corner = view.plan, view.half, _corner(view)
    out, deep = plan.outside, view.deep

    def ends(v: float) -> tuple[float, float]:
        if corner is None:
            return -half, half
        own = corner.raw(v)
        return (own, half) if corner.first else (-half, own)

    low, high = ends(deep)
    wave = [
        view.page(high + (low - high) * k / 24, deep + 0.5 / view.scale * math.sin(k * 1.57))
        for k in range(25)
    ]
    a, b = (view.page(u, -out) for u in ends(-out))
    board.add(Fill((polyline(a, b, *wave, a),), f"{plan.side}-side"))
    board.add(Stroke((polyline(a, b),), "layer" if out else "solid-outline"))
    if corner:
        sides = [view.page(corner.raw(v), v) for v in (-out, deep)]
        board.add(Stroke((polyline(*sides),), "layer"))
        if abs(corner.beyond) > 0.05:
            inner = [view.page(corner.stitch(v), v) for v in (0.0, deep)]
            board.add(Stroke((polyline(*inner),), "stitch"))
    if out:
        _stitching_line(board, view)
    line = plan.line
    if line.goes_round and not line.path.closed and abs(view.middle) < view.half:
        # The seam that joins its two ends, with the slit that was left in it.
        low, high = slit_of(plan) or (deep, deep)
        parts = [polyline(view.page(0, -out), view.page(0, low))]
        if high < deep:
            parts.append(polyline(view.page(0, high), view.page(0, deep)))
        board.add(Stroke(tuple(parts), "solid-edge"))
        end, away = (-out, -1j) if high < deep else (deep, 1j)
        at = view.page(0, end) + away * view.flip * (1.0 + SIZE * 0.5) + SIZE * 0.35j
        lap = plan.thing.lap * view.scale if plan.thing else 0.0
        if not 0 < lap < _NAMED:  # Its measure stands there.
            board.add(Text(at, board.setting.say("along.seam"), "label", SIZE, "middle"))


def _row(board: Board, view: CloseUp, kind: str, mm: float) -> None:
    """A row of stitches from its start on."""
    plan = view.plan
    start = view.page(-view.half if plan.line.goes_round or plan.middle else _begin(view), mm)
    end = view.page(view.half, mm)
    board.add(*stitches((start, end), kind))
    if kind != "tack" and not slit_of(plan):
        board.add(point(view.page(0, mm) if plan.line.goes_round or plan.middle else start))


def _begin(view: CloseUp) -> float:
    corner = _corner(view)
    return corner.u if corner else -view.half


def _name(board: Board, view: CloseUp, named: Sequence[tuple[float, str]]) -> None:
    """The words of every line, on the right of it."""
    ends = [-view.half, view.half]
    if corner := _corner(view):  # A sharp one reaches out beyond the stretch.
        ends += [corner.raw(v) for v in (-view.plan.outside, view.deep)]
    right = max(view.page(u, 0).real for u in ends) + 1.0
    points = [(complex(right, view.page(0, v).imag), words) for v, words in named]
    # The first is the stitching line.
    points[0] = (complex(max(end.real for end in _ends(view)) + 1.0, 0.0), points[0][1])
    thing = view.plan.thing
    if thing and not thing.whole and not thing.pieces:
        # It is the last that is named, and may not reach so far.
        begin = thing.start - view.middle
        half = thing.width / 2
        sides = (begin - half, begin + half) if thing.at else (begin, view.half)
        reach = max(view.page(u, 0).real for u in sides)
        points[-1] = (complex(min(reach, right), points[-1][0].imag), points[-1][1])
    words_beside(board, points, right, _WORDS)
