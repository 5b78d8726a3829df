"""Finding room for words: boxes of type, what they may not touch, and free places for them.

Free room is found in *bands*, horizontal strips of equal height. In each band every stretch that
some line touches is taken, so a box laid into free stretches of neighbouring bands touches
nothing: what is found here needs no second check.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from heapq import nsmallest
from itertools import pairwise

from notchbook.composing.drawing import Group, Item, Stroke, Text
from notchbook.composing.setting import Setting
from notchbook.composing.symbols import TYPES
from notchbook.drafting.geometry.path import Box, Path, Point, bounds, cross

Wall = tuple[Point, Point]
"""A straight line that words may not touch."""

ABOVE = 0.78
"""How far letters reach above the baseline, ems."""

BELOW = 0.24
"""How far letters reach below the baseline, ems."""


@dataclass(frozen=True, slots=True)
class Tile:
    """A rectangle, ``width`` mm along the unit direction ``along`` and ``height`` across it."""

    centre: Point
    width: float
    height: float
    along: complex = 1

    @property
    def corners(self) -> tuple[Point, Point, Point, Point]:
        """Its corners in order."""
        across = self.along * 1j * self.height / 2
        half = self.along * self.width / 2
        middle = self.centre
        return middle - half - across, middle + half - across, middle + half + across, (
            middle - half + across
        )  # fmt: skip

    def grown(self, by: float) -> Tile:
        """The tile with ``by`` mm more on every side."""
        return Tile(self.centre, self.width + 2 * by, self.height + 2 * by, self.along)


def text_tile(text: Text, setting: Setting) -> Tile:
    """The box of one line of type."""
    width = setting.width(text.text, text.size, TYPES[text.role].weight)
    along = cmath.rect(1, math.radians(text.angle))
    shift = {"start": width / 2, "middle": 0.0, "end": -width / 2}[text.anchor]
    lift = (BELOW - ABOVE) / 2 * text.size
    return Tile(text.at + along * complex(shift, lift), width, (ABOVE + BELOW) * text.size, along)


def walls(paths: Iterable[Path], tolerance: float = 0.3) -> list[Wall]:
    """Paths as straight lines."""
    return [pair for path in paths for pair in pairwise(path.points(tolerance))]


def touches(tile: Tile, wall: Wall) -> bool:
    """Whether a line meets a tile, ends and inside included (Liang and Barsky's clipping)."""
    back = tile.along.conjugate()
    start = (wall[0] - tile.centre) * back
    step = (wall[1] - tile.centre) * back - start
    low, high = 0.0, 1.0
    for at, run, half in (
        (start.real, step.real, tile.width / 2),
        (start.imag, step.imag, tile.height / 2),
    ):
        if abs(run) < 1e-12:
            if abs(at) > half:
                return False
            continue
        first, last = sorted(((-half - at) / run, (half - at) / run))
        low, high = max(low, first), min(high, last)
        if low > high:
            return False
    return True


def overlap(one: Tile, other: Tile) -> bool:
    """Whether two tiles share any area: no side of either has the other wholly beyond it."""
    reach = math.hypot(one.width, one.height) + math.hypot(other.width, other.height)
    if abs(one.centre - other.centre) * 2 >= reach:
        return False
    for first, second in ((one, other), (other, one)):
        back = first.along.conjugate()
        points = [(corner - first.centre) * back for corner in second.corners]
        xs, ys = [p.real for p in points], [p.imag for p in points]
        if min(xs) >= first.width / 2 or max(xs) <= -first.width / 2:
            return False
        if min(ys) >= first.height / 2 or max(ys) <= -first.height / 2:
            return False
    return True


def clear(tile: Tile, lines: Sequence[Wall], tiles: Sequence[Tile]) -> bool:
    """Whether a tile touches no line and no other tile."""
    return not any(overlap(tile, other) for other in tiles) and not any(
        touches(tile, wall) for wall in lines
    )


def cross_over(one: Wall, other: Wall) -> bool:
    """Whether two lines cross."""
    (a, b), (c, d) = one, other
    return cross(b - a, c - a) * cross(b - a, d - a) <= 0 and (
        cross(d - c, a - c) * cross(d - c, b - c) <= 0
    )


def inside(point: Point, lines: Sequence[Wall]) -> bool:
    """Whether a point lies inside closed outlines given as lines (even-odd: holes are outside)."""
    found = False
    for a, b in lines:
        if (a.imag > point.imag) != (b.imag > point.imag):
            x = a.real + (point.imag - a.imag) * (b.real - a.real) / (b.imag - a.imag)
            if x > point.real:
                found = not found
    return found


def text_items(items: Iterable[Item]) -> Iterator[Text]:
    """Every text in some items, groups opened."""
    for item in items:
        if isinstance(item, Group):
            yield from text_items(item.items)
        elif isinstance(item, Text):
            yield item


def extent(items: Iterable[Item], setting: Setting) -> Box:
    """The box round everything drawn, type included; pens' widths are left out."""
    boxes: list[Box] = []
    for item in items:
        match item:
            case Group(items=children):
                boxes.extend([extent(children, setting)] if children else [])
            case Text():
                corners = text_tile(item, setting).corners
                boxes.append(box_round(corners))
            case _:
                boxes.append(bounds(item.paths))
    return box_round([corner for box in boxes for corner in (box.low, box.high)])


def box_round(points: Sequence[Point]) -> Box:
    """The upright box round some points."""
    xs, ys = [p.real for p in points], [p.imag for p in points]
    return Box(complex(min(xs), min(ys)), complex(max(xs), max(ys)))


@dataclass(frozen=True, slots=True)
class Bands:
    """Free room: for each band, from ``top`` downwards and ``step`` mm high, the stretches
    (from x, to x) that nothing touches. ``turn`` is the direction that counts as level."""

    turn: complex
    top: float
    step: float
    rows: tuple[tuple[tuple[float, float], ...], ...]

    def nearest(self, width: float, height: float, target: Point, gap: float = 0.0) -> Tile | None:
        """The free tile of that size, with ``gap`` mm of air round it, nearest to ``target``."""
        return next(iter(self.room(width, height, gap).nearby(target, 1)), None)

    def room(self, width: float, height: float, gap: float = 0.0) -> Room:
        """Everywhere a tile of that size may lie with ``gap`` mm of air round it."""
        wide = width + 2 * gap
        count = math.ceil((height + 2 * gap) / self.step)
        stretches = tuple(
            (self.top + (first + count / 2) * self.step, low + wide / 2, high - wide / 2)
            for first in range(len(self.rows) - count + 1)
            for low, high in _common(self.rows[first : first + count], wide)
        )
        return Room(width, height, self.turn, stretches)


@dataclass(frozen=True, slots=True)
class Room:
    """Where the centre of a tile may lie: at each y from one x to another, ``turn`` being level."""

    width: float
    height: float
    turn: complex
    stretches: tuple[tuple[float, float, float], ...]

    def nearby(self, target: Point, most: int) -> list[Tile]:
        """The tiles nearest to ``target``, one in each stretch, ``most`` of them."""
        aim = target * self.turn.conjugate()
        centres = [complex(min(max(aim.real, low), high), y) for y, low, high in self.stretches]
        near = nsmallest(most, centres, key=lambda centre: abs(centre - aim))
        return [Tile(centre * self.turn, self.width, self.height, self.turn) for centre in near]


def bands(
    outline: Sequence[Wall],
    lines: Sequence[Wall] = (),
    tiles: Sequence[Tile] = (),
    *,
    step: float = 2.0,
    turn: complex = 1,
) -> Bands:
    """The room inside closed ``outline``s (even-odd) that neither ``lines`` nor ``tiles`` touch."""
    back = turn.conjugate()
    edges = [(a * back, b * back) for a, b in outline]
    ys = [p.imag for edge in edges for p in edge]
    top = min(ys)
    count = max(math.ceil((max(ys) - top) / step), 1)
    taken: list[list[tuple[float, float]]] = [[] for _ in range(count)]
    crossings: list[list[float]] = [[] for _ in range(count)]
    for a, b in edges:
        _take(a, b, top, step, taken)
        low, high = sorted((a.imag, b.imag))
        # Even-odd parity is read on each band's middle line.
        first = max(math.ceil((low - top) / step - 0.5), 0)
        last = min(math.ceil((high - top) / step - 0.5), count)
        for row in range(first, last):
            y = top + (row + 0.5) * step
            crossings[row].append(a.real + (y - a.imag) * (b.real - a.real) / (b.imag - a.imag))
    for a, b in lines:
        _take(a * back, b * back, top, step, taken)
    for tile in tiles:
        _take_tile([corner * back for corner in tile.corners], top, step, taken)
    rows = tuple(
        _free(sorted(xs), sorted(ranges)) for xs, ranges in zip(crossings, taken, strict=True)
    )
    return Bands(turn, top, step, rows)


def _take(
    a: Point, b: Point, top: float, step: float, taken: list[list[tuple[float, float]]]
) -> None:
    if a.imag > b.imag:
        a, b = b, a
    first = max(math.floor((a.imag - top) / step), 0)
    last = min(math.floor((b.imag - top) / step), len(taken) - 1)
    slope = (b.real - a.real) / (b.imag - a.imag) if b.imag - a.imag > 1e-12 else None
    for row in range(first, last + 1):
        if slope is None:
            x0, x1 = a.real, b.real
        else:
            x0 = a.real + slope * (max(top + row * step, a.imag) - a.imag)
            x1 = a.real + slope * (min(top + (row + 1) * step, b.imag) - a.imag)
        taken[row].append((x0, x1) if x0 <= x1 else (x1, x0))


def _take_tile(
    corners: list[Point], top: float, step: float, taken: list[list[tuple[float, float]]]
) -> None:
    own: list[list[tuple[float, float]]] = [[] for _ in taken]
    for a, b in pairwise([*corners, corners[0]]):
        _take(a, b, top, step, own)
    for row, ranges in enumerate(own):
        if ranges:
            taken[row].append((min(r[0] for r in ranges), max(r[1] for r in ranges)))


def _free(
    crossings: list[float], taken: list[tuple[float, float]]
) -> tuple[tuple[float, float], ...]:
    free: list[tuple[float, float]] = []
    for low, high in zip(crossings[::2], crossings[1::2], strict=False):
        at = low
        for start, end in taken:
            if end <= at:
                continue
            if start >= high:
                break
            if start > at:
                free.append((at, start))
            at = max(at, end)
        if at < high:
            free.append((at, high))
    return tuple(free)


def _common(
    rows: Sequence[tuple[tuple[float, float], ...]], width: float
) -> list[tuple[float, float]]:
    """The stretches free in all rows and at least ``width`` long."""
    found = [(low, high) for low, high in rows[0] if high - low >= width]
    for row in rows[1:]:
        if not found:
            break
        found = [
            (max(a, c), min(b, d))
            for a, b in found
            for c, d in row
            if min(b, d) - max(a, c) >= width
        ]
    return found


def stroke_walls(items: Iterable[Item]) -> list[Wall]:
    """Every line drawn in some items, groups opened."""
    found: list[Wall] = []
    for item in items:
        if isinstance(item, Group):
            found.extend(stroke_walls(item.items))
        elif isinstance(item, Stroke):
            found.extend(walls(item.paths))
    return found
