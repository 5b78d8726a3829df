"""Words as boxes, lines as walls, and whether the two meet."""

from __future__ import annotations

import cmath
import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from notchbook.composing.drawing import Group, Item, Stroke, Text
from notchbook.composing.setting import Setting
from notchbook.composing.symbols import TYPES
from notchbook.drafting.geometry.box import Box, bounds
from notchbook.drafting.geometry.path import Path
from notchbook.drafting.geometry.polygon import box_round, inside
from notchbook.drafting.geometry.vector import Point, cross

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

    @property
    def sides(self) -> list[Wall]:
        """Its sides in order."""
        corners = self.corners
        return [(corners[k - 1], corners[k]) for k in range(4)]

    def grown(self, by: float) -> Tile:
        """The tile with ``by`` mm more on every side."""
        return Tile(self.centre, self.width + 2 * by, self.height + 2 * by, self.along)


@dataclass(frozen=True, slots=True)
class Lines:
    """Straight lines, each kept at every level it passes (``_LEVEL`` mm high), so that those in one
    place are found without a look at all the others."""

    walls: list[Wall] = field(default_factory=list)
    levels: dict[int, list[Wall]] = field(default_factory=dict)

    @staticmethod
    def of(walls: Iterable[Wall]) -> Lines:
        """Some lines, ready to be looked up."""
        lines = Lines()
        lines.add(walls)
        return lines

    def add(self, walls: Iterable[Wall]) -> None:
        """More lines."""
        for wall in walls:
            self.walls.append(wall)
            low, high = wall[0].imag, wall[1].imag
            for level in _passed(low, high) if low <= high else _passed(high, low):
                self.levels.setdefault(level, []).append(wall)

    def near(self, box: Box) -> Iterator[Wall]:
        """The lines that may come into a box."""
        left, right = box.low.real, box.high.real
        top, foot = box.low.imag, box.high.imag
        begun = -math.inf
        for level in _passed(top, foot):
            for wall in self.levels.get(level, ()):
                a, b = wall
                if (
                    (a.real <= right or b.real <= right)
                    and (a.real >= left or b.real >= left)
                    and (a.imag <= foot or b.imag <= foot)
                    and (a.imag >= top or b.imag >= top)
                    # Otherwise it was seen on the level above.
                    and (a.imag >= begun and b.imag >= begun)
                ):
                    yield wall
            begun = (level + 1) * _LEVEL

    def touch(self, tile: Tile) -> bool:
        """Whether any line touches a tile."""
        return any(touches(tile, wall) for wall in self.near(box_round(tile.corners)))

    def cross(self, line: Wall) -> bool:
        """Whether any line crosses another one."""
        return any(True for _ in self.crossed(line))

    def crossed(self, line: Wall) -> Iterator[Wall]:
        """The lines that another one crosses."""
        return (wall for wall in self.near(box_round(line)) if cross_over(line, wall))

    def hold(self, point: Point) -> bool:
        """Whether a point lies inside closed outlines (even-odd: holes are outside)."""
        return inside(self.levels.get(math.floor(point.imag / _LEVEL), ()), point)


_LEVEL = 2.0


def _passed(low: float, high: float) -> range:
    return range(math.floor(low / _LEVEL), math.floor(high / _LEVEL) + 1)


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
        first, last = (-half - at) / run, (half - at) / run
        if run < 0:
            first, last = last, first
        if first > low:
            low = first
        if last < high:
            high = last
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


def clear(tile: Tile, lines: Lines, tiles: Sequence[Tile]) -> bool:
    """Whether a tile touches no line and no other tile."""
    return not any(overlap(tile, other) for other in tiles) and not lines.touch(tile)


def cross_over(one: Wall, other: Wall) -> bool:
    """Whether two lines cross."""
    (a, b), (c, d) = one, other
    return cross(b - a, c - a) * cross(b - a, d - a) <= 0 and (
        cross(d - c, a - c) * cross(d - c, b - c) <= 0
    )


def text_items(items: Iterable[Item]) -> Iterator[Text]:
    """Every text in some items, groups opened."""
    for item in items:
        if isinstance(item, Group):
            yield from text_items(item.items)
        elif isinstance(item, Text):
            yield item


def stroke_walls(items: Iterable[Item]) -> list[Wall]:
    """Every line drawn in some items, groups opened."""
    found: list[Wall] = []
    for item in items:
        if isinstance(item, Group):
            found.extend(stroke_walls(item.items))
        elif isinstance(item, Stroke):
            found.extend(walls(item.paths))
    return found


def nearest_on(tile: Tile, point: Point) -> Point:
    """The point of a level tile's border that is nearest to an outside point."""
    local = point - tile.centre
    x = min(max(local.real, -tile.width / 2), tile.width / 2)
    y = min(max(local.imag, -tile.height / 2), tile.height / 2)
    return tile.centre + complex(x, y)


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
