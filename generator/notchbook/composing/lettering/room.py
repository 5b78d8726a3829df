"""Free room for words: which cells of a grid nothing touches, and where a box fits among them.

Every cell that some line touches is taken, so a box laid into free cells touches nothing: what is
found here needs no second check.
"""

from __future__ import annotations

import math
from bisect import insort
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import chain

from notchbook.composing.lettering.placing import Tile, Wall
from notchbook.drafting.geometry.cells import Side, all_of, inside, runs_of, touched
from notchbook.drafting.geometry.polygon import box_round
from notchbook.drafting.geometry.vector import Point


@dataclass(frozen=True, slots=True)
class Room:
    """Free cells in rows of bits. The grid is level along the unit direction ``turn``; its corner
    and its square cells are in mm, the corner as it lies once it is turned back."""

    turn: complex
    corner: Point
    cell: float
    rows: tuple[int, ...]

    def spots(self, width: float, height: float, gap: float = 0.0) -> Spots:
        """Everywhere a tile of that size may lie with ``gap`` mm of air round it."""
        across, down = (math.ceil((size + 2 * gap) / self.cell) for size in (width, height))
        rows = [runs_of(row, across) for row in all_of(list(self.rows), down)]
        middle = self.corner + complex(across, down) * self.cell / 2
        return Spots(width, height, self.turn, middle, self.cell, tuple(rows))

    def without(self, lines: Iterable[Wall], tiles: Iterable[Tile] = ()) -> Room:
        """The room that some lines and tiles leave of this."""
        hatched = (line for tile in tiles for line in _hatched(tile, self.cell))
        walled = touched(self.sides(chain(lines, hatched)), len(self.rows))
        rows = tuple(free & ~taken for free, taken in zip(self.rows, walled, strict=True))
        return replace(self, rows=rows)

    def sides(self, walls: Iterable[Wall]) -> list[Side]:
        """Lines as they lie in the grid."""
        scale, shift = self.turn.conjugate() / self.cell, self.corner / self.cell
        found = []
        for wall in walls:
            a, b = wall[0] * scale - shift, wall[1] * scale - shift
            found.append((a.real, a.imag, b.real, b.imag))
        return found


@dataclass(frozen=True, slots=True)
class Spots:
    """Where the middle of a tile may lie: at every set bit, ``cell`` mm from each other."""

    width: float
    height: float
    turn: complex
    corner: Point
    cell: float
    rows: tuple[int, ...]

    def nearest(self, target: Point) -> Tile | None:
        """The tile nearest to ``target``, if there is any."""
        return next(iter(self.nearby(target, 1)), None)

    def nearby(self, target: Point, most: int) -> list[Tile]:
        """The ``most`` tiles nearest to ``target``, of each row the nearest to either side."""
        return [
            Tile(centre, self.width, self.height, self.turn)
            for centre in self.centres(target, most)
        ]

    def centres(self, target: Point, most: int) -> list[Point]:
        """The middles of these tiles."""
        aim = (target * self.turn.conjugate() - self.corner) / self.cell
        near = self._nearest(aim.real, aim.imag, most)
        corner, cell, turn = self.corner, self.cell, self.turn
        return [(corner + complex(column, row) * cell) * turn for _, row, column in near]

    def _nearest(self, x: float, y: float, most: int) -> list[tuple[float, int, int]]:
        """The ``most`` bits nearest to a point, of each row the nearest to either side, as (squared
        distance, row, column). Rows are looked at from the nearest on, as long as one may matter.
        """
        middle = max(math.floor(x + 0.5), 0)
        until = (2 << middle) - 1
        found: list[tuple[float, int, int]] = []
        worst = math.inf
        for number in _outwards(y, len(self.rows)):
            far = (number - y) ** 2
            if far > worst:
                break
            row = self.rows[number]
            columns = []
            if before := row & until:
                columns.append(before.bit_length() - 1)
            if after := row >> (middle + 1):
                columns.append(middle + (after & -after).bit_length())
            for column in columns:
                away = (column - x) ** 2 + far
                if away <= worst:
                    insort(found, (away, number, column))
            if len(found) >= most:
                del found[most:]
                worst = found[-1][0]
        return found


def _outwards(start: float, count: int) -> Iterator[int]:
    """The numbers below ``count`` from the nearest to ``start`` to the furthest."""
    below = min(max(math.floor(start), -1), count - 1)
    above = below + 1
    while below >= 0 or above < count:
        if above >= count or (below >= 0 and start - below <= above - start):
            yield below
            below -= 1
        else:
            yield above
            above += 1


def room(
    outlines: Sequence[Wall],
    lines: Iterable[Wall] = (),
    tiles: Iterable[Tile] = (),
    *,
    cell: float,
    turn: complex = 1,
) -> Room:
    """The room inside closed ``outlines`` (even-odd) that neither they nor ``lines`` nor ``tiles``
    touch, to ``cell`` mm."""
    back = turn.conjugate()
    ends = [point * back for wall in outlines for point in wall]
    box = box_round(ends)
    count = max(math.ceil(box.height / cell), 1)
    bare = Room(turn, box.low, cell, ())
    within = inside(bare.sides(outlines), count)
    return replace(bare, rows=tuple(within)).without([*outlines, *lines], tiles)


def _hatched(tile: Tile, step: float) -> Iterator[Wall]:
    """Lines across a tile, no more than a step apart: no square of that size escapes them."""
    count = max(math.ceil(tile.height / step), 1)
    half, across = tile.along * tile.width / 2, tile.along * 1j * tile.height
    for k in range(count + 1):
        middle = tile.centre + across * (k / count - 0.5)
        yield middle - half, middle + half
    for end in (-half, half):
        yield tile.centre + end - across / 2, tile.centre + end + across / 2
