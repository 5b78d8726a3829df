"""Flat shapes on a strip of endless length, at least ``GAP`` apart, in as little length as a short
search finds.

Everything is rasters (see ``raster.py``), and the places where one shape hits another are a raster
too: those pushes of B at which its cells come too near to A's are A ⊕ D ⊕ −B, where D is what is
nearer than ``GAP`` (Minkowski sums). Such a map is worked out once for a pair of shapes, row by row
of B. Then where a shape may lie among others is a matter of a few shifts and ors of one long
integer, and thousands of arrangements can be tried.

The shapes of one arrangement go down in some order, each as far into some corner of the strip as
it can. A first few orders give a length. Then orders, turns and corners are changed, one at a time
and in a fixed sequence, until all shapes go into less length than that, and so on while work is
left. It is counted in bits, not in seconds, so the same shapes always lie in the same way.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace

from notchbook.drafting.packing.raster import CHORD, Polygons, Raster, raster, runs

GAP = 10.0
"""Cloth left between two pieces, mm."""
EDGE = 5.0
"""Cloth left along the edges of the strip and at its ends, mm."""

_FINEST = 2.5
"""No cell is smaller, mm."""
_MAPS = 3e9
"""What working out all maps may cost, in bits touched: larger cells where it would be more."""
_WORK = 1.8e9
"""What the search may cost, in bits touched."""
_CORNERS = 8
_ANY = -1
"""Whichever way ends first."""
_STALE = 60
"""After so many changes that were no better, the search begins somewhere else."""


@dataclass(frozen=True, slots=True)
class Way:
    """A shape turned as it may lie, as polygons within 0.05 mm of its curves. An ``anchored`` one
    only moves along the strip's left edge, with its own left edge, at ``EDGE``, on that."""

    polygons: Polygons
    anchored: bool = False


@dataclass(frozen=True, slots=True)
class Part:
    """A shape that is laid ``count`` times, each in any one of its ways."""

    ways: tuple[Way, ...]
    count: int


@dataclass(frozen=True, slots=True)
class Spot:
    """Where a part lies: the points of that way of it go to themselves plus ``shift``."""

    part: int
    way: int
    shift: complex


@dataclass(frozen=True, slots=True)
class _Plan:
    """In what order parts go down, and of each in which way and into which corner."""

    order: tuple[int, ...]
    ways: tuple[int, ...]
    corners: tuple[int, ...]


_Pushes = dict[int, tuple[int, int, int]]
"""By number of the item: its way, and how many cells right and down it lies."""


def pack(parts: Sequence[Part], width: float) -> tuple[Spot, ...]:
    """Lay all parts on a strip ``width`` mm wide, from its corner to the right and down.

    Every part has a way that fits across.
    """
    room = width - 2 * EDGE + 2 * CHORD + 1e-6
    columns = max(int(room / _cell(parts, width)), 1)
    table = _table(parts, columns, room / columns)
    found = _searched(table)
    corner = complex(EDGE - CHORD, EDGE - CHORD)
    spots = []
    for number in sorted(found):
        part = table.items[number]
        way, right, down = found[number]
        pushed = complex(right * table.cell, down * table.cell)
        spots.append(Spot(part, way, table.rasters[part][way].shift + pushed + corner))
    return tuple(spots)


def _cell(parts: Sequence[Part], width: float) -> float:
    """The finest cells (mm) for which the maps of all pairs are not too much work. That grows with
    the rows of one shape times the cells of a table as long as both."""
    ways = [way for part in parts for way in part.ways]
    high = [max(p.imag for loop in w.polygons for p in loop)
            - min(p.imag for loop in w.polygons for p in loop) for w in ways]  # fmt: skip
    work = sum(one * (one + other) * width for one in high for other in high) * 4
    return float(max(_FINEST, (work / _MAPS) ** (1 / 3)))


@dataclass(frozen=True, slots=True)
class _Table:
    """A strip in cells of ``cell`` mm, rows ``stride`` bits apart, and what lies on it. ``items``
    are the numbers of parts, each as often as it is laid. Bit ``i`` of row ``j`` of a room stands
    for the push by ``i`` cells to the right and ``j`` down."""

    columns: int
    cell: float
    stride: int
    rasters: tuple[tuple[Raster, ...], ...]
    anchored: tuple[tuple[bool, ...], ...]
    items: tuple[int, ...]
    areas: tuple[int, ...]
    grown: dict[tuple[int, int], tuple[int, int]] = field(default_factory=dict)
    maps: dict[tuple[int, int, int, int], tuple[int, int]] = field(default_factory=dict)
    rooms: dict[tuple[int, int, int], int] = field(default_factory=dict)

    def hits(self, one: tuple[int, int], other: tuple[int, int]) -> tuple[int, int]:
        """The pushes of ``other`` that bring it too near to ``one`` at no push: a map, and how
        many bits before its start the push of nothing is."""
        key = (*one, *other)
        if key not in self.maps:
            grown, lead = self._grown(one)
            way = self.rasters[other[0]][other[1]]
            rows = way.rows[::-1]
            # Row j of the other at push d is over row j + d: so its rows count backwards.
            spread = _smeared(grown, [_turned(row, way.columns) for row in rows], self.stride)
            back = (len(rows) - 1) * self.stride + way.columns - 1
            self.maps[key] = spread, lead + back
        return self.maps[key]

    def _grown(self, one: tuple[int, int]) -> tuple[int, int]:
        """A shape with all that is nearer to it than ``GAP``, as one integer, and how many bits
        after that one's start the shape's own corner is."""
        if one not in self.grown:
            way = self.rasters[one[0]][one[1]]
            whole = sum(row << (k * self.stride) for k, row in enumerate(way.rows))
            reach = math.ceil(GAP / self.cell)
            near = []
            for down in range(-reach, reach + 1):
                left = GAP**2 - (max(abs(down) - 1, 0) * self.cell) ** 2
                half = math.ceil(math.sqrt(left) / self.cell - 1e-9) if left > 1e-9 else -1
                near.append(((2 << (2 * half)) - 1) << (reach - half) if half >= 0 else 0)
            self.grown[one] = _smeared(whole, near, self.stride), reach * (self.stride + 1)
        return self.grown[one]

    def room(self, part: int, way: int, rows: int) -> int:
        """The pushes that keep a shape on the strip and within so many rows."""
        key = part, way, rows
        if key not in self.rooms:
            made = self.rasters[part][way]
            count = rows - len(made.rows) + 1
            across = self.columns - made.columns + 1
            if count <= 0 or across <= 0:
                self.rooms[key] = 0
            else:
                row = 1 if self.anchored[part][way] else (1 << across) - 1
                self.rooms[key] = row * (
                    ((1 << count * self.stride) - 1) // ((1 << self.stride) - 1)
                )
        return self.rooms[key]


def _table(parts: Sequence[Part], columns: int, cell: float) -> _Table:
    rasters = tuple(
        tuple(raster([way.polygons], 1, (cell, cell), 0.0) for way in part.ways) for part in parts
    )
    widest = max(made.columns for ways in rasters for made in ways)
    return _Table(
        columns,
        cell,
        columns + widest + 2 * math.ceil(GAP / cell) + 2,
        rasters,
        tuple(tuple(way.anchored for way in part.ways) for part in parts),
        tuple(number for number, part in enumerate(parts) for _ in range(part.count)),
        tuple(sum(row.bit_count() for row in ways[0].rows) for ways in rasters),
    )


def _turned(row: int, columns: int) -> int:
    """A row back to front."""
    return int(f"{row:0{columns}b}"[::-1], 2)


def _smeared(whole: int, rows: Sequence[int], stride: int) -> int:
    """``whole`` laid down at every set bit of ``rows``: a Minkowski sum. Runs of bits are done by
    doubling, and what is doubled once serves all rows."""
    doubled = [whole]
    found = 0
    for number, row in enumerate(rows):
        for begin, run in runs(row):
            start, power = number * stride + begin, run.bit_length() - 1
            while len(doubled) <= power:
                doubled.append(doubled[-1] | doubled[-1] << (1 << len(doubled) - 1))
            found |= doubled[power] << start | doubled[power] << (start + run - (1 << power))
    return found


def _searched(table: _Table) -> _Pushes:
    """Where everything lies in the best plan found."""
    apart = math.ceil(GAP / table.cell) + 1
    long = sum(max(len(way.rows) for way in table.rasters[part]) + apart for part in table.items)
    plans = list(_first(table))
    tried = [_laid(plan, table, long)[0] for plan in plans]
    found = min(tried, key=lambda pushes: _end(pushes, table))
    kept = plans[tried.index(found)]
    end, least = _end(found, table), _least(table)
    # A try asks every item against those before it, and once more for its corner.
    weight = (len(table.items) ** 2 / 2 + 8 * len(table.items)) * end * table.stride
    changes = _changes()
    everything = sum(table.areas[part] for part in table.items)
    kept_cost, stale = everything, 0
    for _ in range(int(_WORK / weight)):
        if end <= least:
            break
        plan = _changed(kept, table, changes)
        if stale > _STALE:
            plan, stale = _changed(_changed(plan, table, changes), table, changes), 0
            kept_cost = everything
        pushes, cost = _laid(plan, table, end - 1)
        if not cost:
            found, end = pushes, _end(pushes, table)
        stale = 0 if cost and cost < kept_cost else stale + 1
        if cost <= kept_cost or not cost:
            kept = plan
            kept_cost = cost or everything
    return found


def _end(pushes: _Pushes, table: _Table) -> int:
    """The rows taken."""
    return max(
        down + len(table.rasters[table.items[item]][way].rows)
        for item, (way, _, down) in pushes.items()
    )


def _least(table: _Table) -> int:
    """Rows that no plan can do without: the highest shape, or the area of all."""
    high = max(min(len(way.rows) for way in table.rasters[part]) for part in table.items)
    return max(high, math.ceil(sum(table.areas[part] for part in table.items) / table.columns))


def _first(table: _Table) -> Iterator[_Plan]:
    """Plans to begin with: the items by height, by area and by width, each in its nearest way."""
    count = len(table.items)

    def size(key: int, part: int) -> tuple[int, int]:
        way, area = table.rasters[part][0], table.areas[part]
        return (-len(way.rows), -area, -way.columns)[key], -area

    for key in range(3):
        order = sorted(range(count), key=lambda item: size(key, table.items[item]))
        yield _Plan(tuple(order), (_ANY,) * count, (0,) * count)


def _changes() -> Iterator[int]:
    """A fixed sequence without an end, as even as chance would be (a linear congruence with the
    multiplier of MINSTD, S. K. Park and K. W. Miller 1988)."""
    state = 1
    while True:
        state = state * 48271 % 2147483647
        yield state >> 8


def _changed(plan: _Plan, table: _Table, chance: Iterator[int]) -> _Plan:
    """The plan with two items swapped, one put elsewhere, turned, or sent to another corner."""
    count, kind = len(plan.order), next(chance) % 4
    one, other = next(chance) % count, next(chance) % count
    if kind < 2 and count > 1:
        order = list(plan.order)
        if kind:
            order.insert(other, order.pop(one))
        else:
            order[one], order[other] = order[other], order[one]
        return replace(plan, order=tuple(order))
    if kind == 2:
        ways = len(table.rasters[table.items[one]])
        way = next(chance) % (ways + 1)
        return replace(plan, ways=_with(plan.ways, one, way if way < ways else _ANY))
    return replace(plan, corners=_with(plan.corners, one, next(chance) % _CORNERS))


def _with(values: tuple[int, ...], at: int, value: int) -> tuple[int, ...]:
    return (*values[:at], value, *values[at + 1 :])


def _laid(plan: _Plan, table: _Table, rows: int) -> tuple[_Pushes, int]:
    """Where everything lies that a plan gets onto so many rows, and the area of what is left."""
    pushes: _Pushes = {}
    left = 0
    for item in plan.order:
        part = table.items[item]
        chosen = plan.ways[item]
        spots = []
        for way in range(len(table.rasters[part])) if chosen == _ANY else (chosen,):
            free = table.room(part, way, rows)
            for laid, (its, right, down) in pushes.items():
                hits, lead = table.hits((table.items[laid], its), (part, way))
                shift = down * table.stride + right - lead
                free &= ~(hits << shift if shift >= 0 else hits >> -shift)
                if not free:
                    break
            if free:
                right, down = _into_corner(free, plan.corners[item], table.stride, rows)
                spots.append((down + len(table.rasters[part][way].rows), right, way, down))
        if spots:
            _, right, way, down = min(spots)
            pushes[item] = way, right, down
        else:
            left += table.areas[part]
    return pushes, left


def _into_corner(free: int, corner: int, stride: int, rows: int) -> tuple[int, int]:
    """Of the pushes that are free, the nearest to a corner: rows first for the corners 0 to 3,
    columns first for 4 to 7; of each four, left before right and top before bottom."""
    mask = (1 << stride) - 1
    if corner < 4:
        down = (free & -free).bit_length() - 1 if corner < 2 else free.bit_length() - 1
        down //= stride
        row = free >> down * stride & mask
        return (row.bit_length() if corner % 2 else (row & -row).bit_length()) - 1, down
    every, done = free, 1
    while done < rows:
        every |= every >> done * stride
        done *= 2
    every &= mask
    right = (every.bit_length() if corner % 2 else (every & -every).bit_length()) - 1
    column = free >> right & ((1 << rows * stride) - 1) // mask
    down = ((column & -column).bit_length() if corner < 6 else column.bit_length()) - 1
    return right, down // stride
