"""What lies along an edge, drawn on a stretch of it that is laid straight: stitches, ends, laps."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from notchbook.composing import numbers
from notchbook.composing.drawing import Fill, Stroke, Text
from notchbook.composing.figures.along_thing import Thing
from notchbook.composing.figures.board import HEAD, Board
from notchbook.composing.figures.close_up import HALF, THIN, CloseUp, reference, slit_of
from notchbook.composing.figures.ruled import dimension
from notchbook.composing.figures.size import SIZE
from notchbook.composing.pairs import both
from notchbook.composing.pieces.arrows import arrowhead
from notchbook.drafting.geometry.path import Path, circle, polyline
from notchbook.drafting.geometry.vector import Point, unit

SLIM = 1.8
"""Nothing laid is drawn thinner, mm on the page."""


def stitches(run: Sequence[Point], kind: str) -> list[Stroke]:
    """Stitches along a line: dashes, or the long ones of tacking."""
    if kind != "tack":
        return [Stroke((polyline(*run),), "seam")]
    found: list[Path] = []
    own: list[Point] = [run[0]]
    left, on = 4.0, True
    for a, b in pairwise(run):
        while abs(b - a) > left:
            a += unit(b - a) * left
            if on:
                found.append(polyline(*own, a))
            own, on = [a], not on
            left = 4.0 if on else 2.2
        left -= abs(b - a)
        own.append(b)
    if on and len(own) > 1:
        found.append(polyline(*own))
    return [Stroke(tuple(found), "solid-outline")]


def _strip(view: CloseUp, thing: Thing, low: float, high: float, aside: float = 0.0) -> list[Point]:
    """The outline of a stretch of what is laid, from one place to another."""
    wide = max(thing.width, SLIM / view.scale)
    near = thing.inside
    if thing.width < wide and near > 0:
        near = max(near, 1.4 / view.scale)  # Clear of the edge.
    near += aside
    return [view.page(u, v) for u, v in (
        (low, near), (high, near), (high, near + wide), (low, near + wide))]  # fmt: skip


def _depth(corners: Sequence[Point], view: CloseUp) -> float:
    """How far inside the stitching line the outline of a stretch begins, mm."""
    return corners[0].imag / view.scale / view.flip


def _put(board: Board, corners: Sequence[Point], open_at: Sequence[int]) -> None:
    """A stretch of it: its sides are drawn but for those at which it goes on, by number."""
    outline = polyline(*corners, corners[0])
    board.add(Fill((outline,), "either-side"))
    for k in range(4):
        if k not in open_at:
            side = polyline(corners[k], corners[(k + 1) % 4])
            board.add(Stroke((side,), "solid-outline"))


def lapped(board: Board, view: CloseUp, thing: Thing) -> None:
    """Its two ends, one upon the other or beside it; what holds them; how much they lap. Or both
    hanging out."""
    if thing.tails:
        _tails(board, view, thing)
        return
    half, lap = view.half, thing.lap / 2
    slim = thing.width <= THIN
    # What is broad lies on itself: a little of the lower end is seen.
    aside = (
        (max(thing.width, SLIM / view.scale) if slim else 0.8 / view.scale) if thing.lap else 0.0
    )
    upper = _strip(view, thing, -half, lap)
    lower = _strip(view, thing, -lap, half, aside)
    _put(board, lower, (1,))
    _put(board, upper, (3,))
    deep = thing.far + aside
    ends = view.page(-lap, deep), view.page(lap, deep)
    if thing.under:
        fold = [view.page(lap - thing.under, v) for v in (thing.inside, thing.far)]
        board.add(Stroke((polyline(*fold),), "helping"))
    elif thing.lap and not slim:
        hidden = [view.page(-lap, v) for v in (thing.inside, thing.far)]
        board.add(Stroke((polyline(*hidden),), "helping"))
    if thing.sleeve:
        more = 0.8 / view.scale
        top, foot = _depth(upper, view) - more, _depth(lower, view) + aside + more
        tube = [view.page(u, v) for u, v in ((-lap, top), (lap, top), (lap, foot), (-lap, foot))]
        board.add(Stroke((polyline(*tube, tube[0]),), "layer"))
        for share in (-0.6, 0.0, 0.6):
            crimp = polyline(view.page(share * lap, top), view.page(share * lap, foot))
            board.add(Stroke((crimp,), "solid-outline"))
    if thing.lap:
        _measure(board, view, ends, thing.lap)


def _tails(board: Board, view: CloseUp, thing: Thing) -> None:
    """Two ends that come out of a gap and hang down side by side, through what holds them."""
    wide = max(thing.width, SLIM / view.scale) * view.scale
    level = view.page(0, thing.inside).imag + wide / 2 * view.flip
    foot = max(p.imag for p in (view.page(0, view.deep), view.page(0, -view.plan.outside))) + 9
    slit = slit_of(view.plan)
    if slit:
        _slit(board, view, slit, wide)
    for sign in (-1, 1):
        x = sign * wide / 2
        if slit:  # Up to there it lies out of sight.
            sides = tuple(
                polyline(complex(sign * HALF, y), complex(sign * (wide + 2.2), y))
                for y in (level - wide / 2, level + wide / 2)
            )
            board.add(Stroke(sides, "helping"))
            aside = sign * (wide / 2 + 1.4)
            way = [
                complex(aside, level - wide / 2),
                complex(aside, foot - 9),
                complex(x, foot - 6),
                complex(x, foot),
            ]
        else:
            way = [complex(sign * HALF, level), complex(sign * 5, level), complex(x, level + 5),
                   complex(x, foot)]  # fmt: skip
        board.add(*cord(way, wide))
    for mm in slit or ():  # A row goes on below what hangs over it.
        y = view.page(0, mm).imag
        if y > level:
            reach = wide + 1.4
            board.add(Stroke((polyline(complex(-reach, y), complex(reach, y)),), "helping"))
    if thing.sleeve:
        bead = circle(complex(0, foot - 5.0), wide + 1.6)
        board.add(Fill((bead,), "paper"), Stroke((bead,), "solid-outline"))
    knot = circle(complex(0, foot + 0.6), wide * 0.8)
    board.add(Fill((knot,), "ink"))


def _slit(board: Board, view: CloseUp, slit: tuple[float, float], wide: float) -> None:
    """An opening in the seam, held open by what comes out of it, with a point at either end."""
    a, b = (view.page(0, mm) for mm in slit)
    bow = wide + 2.2
    lips = [
        [a + (b - a) * k / 12 + sign * bow * math.sin(math.pi * k / 12) for k in range(13)]
        for sign in (-1, 1)
    ]
    board.add(Fill((polyline(*lips[0], *lips[1][::-1], a),), "paper"))
    board.add(Stroke(tuple(polyline(*lip) for lip in lips), "solid-edge"))
    board.add(*(Fill((circle(end, 0.9),), "ink") for end in (a, b)))


def cord(way: Sequence[Point], wide: float) -> list[Fill | Stroke]:
    """Something round that follows a line on the page."""
    sides: list[list[Point]] = [[], []]
    for k, at in enumerate(way):
        along = unit(way[min(k + 1, len(way) - 1)] - way[max(k - 1, 0)])
        for side, sign in zip(sides, (-1j, 1j), strict=True):
            side.append(at + along * sign * wide / 2)
    outline = polyline(*sides[0], *sides[1][::-1], sides[0][0])
    lines = tuple(polyline(*side) for side in sides)
    return [Fill((outline,), "either-side"), Stroke(lines, "solid-edge")]


def ended(board: Board, view: CloseUp, thing: Thing) -> None:
    """Its first end, and how far that is from the nearest mark or the edge's own end."""
    at = thing.start - view.middle
    _put(board, _strip(view, thing, at, view.half), (1,))
    place, number, own = reference(view.plan)
    if not own:
        add_mark(board, view, place, number)
    if abs(place - thing.start) > 0.5:
        deep = max(thing.far, 0.0) if own else max(thing.far, 8 / view.scale)
        ends = view.page(view.off(place), deep), view.page(at, deep)
        _measure(board, view, ends, abs(place - thing.start))


def parted(board: Board, view: CloseUp, thing: Thing) -> None:
    """The end of the first piece and the start of the next, and how far they are apart."""
    gap = thing.apart / 2
    _put(board, _strip(view, thing, -view.half, -gap), (3,))
    _put(board, _strip(view, thing, gap, view.half), (1,))
    ends = view.page(-gap, thing.far), view.page(gap, thing.far)
    _measure(board, view, ends, thing.apart)


def across(board: Board, view: CloseUp, thing: Thing) -> None:
    """What lies square to the edge: from its raw end, level with the cut edge, inwards; fastened in
    the allowance. How far it is from a mark or the edge's own end."""
    at, half = thing.start - view.middle, thing.width / 2
    top, deep = -view.plan.outside, min(thing.long, view.deep)
    corners = [view.page(u, v) for u, v in (
        (at - half, top), (at + half, top), (at + half, deep), (at - half, deep))]  # fmt: skip
    cut_off = (2,) if thing.long > deep else ()
    if thing.folded:  # The layer beneath, whose end is there too.
        _put(board, [corner + 1.5 for corner in corners], cut_off)
    _put(board, corners, cut_off)
    for share in (0.35, 0.5, 0.65) if view.plan.outside and not thing.folded else ():
        row = [view.page(at + side * half, top * share) for side in (-1, 1)]
        board.add(Stroke((polyline(*row),), "seam"))
    place, number, own = reference(view.plan)
    off = abs(place - thing.start)
    if abs(view.off(place)) > view.half:
        return
    if not own:
        add_mark(board, view, place, number)
    if off > 0.5:
        _measure(board, view, (view.page(view.off(place), deep), view.page(at, deep)), off)


def _measure(board: Board, view: CloseUp, ends: tuple[Point, Point], mm: float) -> None:
    """A length along the edge, below everything, or above it where the cloth is there."""
    a, b = sorted(ends, key=lambda end: end.real)
    box = board.box()
    y = box.high.imag + 6 if view.flip > 0 else box.low.imag - 6
    level = complex(a.real, y), complex(b.real, y)
    words = numbers.length(mm)
    if not dimension(board, *level, words, 1j * view.flip, extend=(a, b)):
        _short(board, [p - 3.5j * view.flip for p in level], (a, b), both(words, board.setting))


def _short(board: Board, level: Sequence[Point], feet: Sequence[Point], words: str) -> None:
    """A dimension too short for its number, which is centred beyond it."""
    away = unit(level[0] - feet[0])
    lines = [polyline(*level)]
    lines += [
        polyline(foot + away * 0.8, p + away * 1.2) for foot, p in zip(feet, level, strict=True)
    ]
    heads = [arrowhead(p, way, HEAD) for p, way in zip(level, (-1, 1), strict=True)]
    board.add(Stroke(tuple(lines), "dimension"), Fill(tuple(heads), "ink"))
    at = sum(level) / 2 + away * (2.0 + SIZE * 0.5) + SIZE * 0.35j
    board.add(Text(at, words, "label", SIZE, "middle"))


def add_mark(board: Board, view: CloseUp, at: float, number: int | None) -> None:
    """A notch at a place, with its number outside the cloth, or inside it where something lies
    outside."""
    thing = view.plan.thing
    inwards = thing is not None and thing.inside < 0 and view.plan.turned
    out = max(view.plan.outside, 0.0)
    way = (1j if inwards else -1j) * view.flip
    middle = view.page(view.off(at), 0.0 if inwards else -out)
    feet = (-0.7, 0.7) if number == 0 else (0.0,)
    back = 0j if inwards else -1j * out * view.scale * view.flip
    ticks = tuple(polyline(middle + f - back, middle + f + way * 1.8) for f in feet)
    board.add(Stroke(ticks, "notch"))
    if number is not None:
        place = middle + way * (2.4 + SIZE * 0.5) + SIZE * 0.3j
        board.add(Text(place, str(number), "number", SIZE, "middle"))
