"""Pieces on the sheets of a full-size pattern: turned and moved so that few sheets carry any.

Paper has no grain, so pieces turn freely; the grain line is drawn on them. The sheets are tiles of
an endless grid and meet edge to edge. Pieces go down one after the other, each where it needs the
fewest further sheets, then the fewest sheets of its own, then the smallest grid; later pieces fill
corners and holes. A few orders are tried and the best is kept.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import reduce
from operator import or_

from notchbook.drafting.draft import Placed
from notchbook.drafting.packing.raster import Raster, Region, free, polygons, put, raster

GAP = 10.0
"""Paper left between two pieces, mm: room for notches, which stand out by 4 mm. Half of it stays
free along the edge of the grid."""

_CELL = 7.0
_TURNS = 8
_STRIDE = 64
"""Sheets are bits too: the one in column c of row r is bit 64 r + c."""


@dataclass(frozen=True, slots=True)
class Arrangement:
    """Pieces on a grid of ``columns`` × ``rows`` sheets, its corner the origin, in mm. ``used``
    holds the (column, row) of every sheet that carries paper of a piece."""

    placed: tuple[Placed, ...]
    columns: int
    rows: int
    used: frozenset[tuple[int, int]]


@dataclass(frozen=True, slots=True)
class _Way:
    """A turned piece and the sheets it touches: for each pattern of sheets, counted from the one
    its first cell is on, the pushes within that sheet which lead to it, by rows pushed down, as
    one bit for every column pushed right."""

    raster: Raster
    patterns: Mapping[int, Mapping[int, int]]


@dataclass(frozen=True, slots=True)
class _Spot:
    """Where a piece goes: so many cells from the corner of the grid, on these sheets."""

    raster: Raster
    right: int
    down: int
    sheets: int


def arrange(pieces: Mapping[str, tuple[Region, ...]], width: float, height: float) -> Arrangement:
    """Arrange each piece once on sheets of ``width`` × ``height`` mm.

    A piece is one or more regions that are laid together: what its outermost cutting lines hold.
    """
    columns, rows = max(round(width / _CELL), 1), max(round(height / _CELL), 1)
    cell = (width / columns, height / rows)
    ways = {name: _ways(regions, cell, columns, rows) for name, regions in pieces.items()}
    trials = [_lay(order, ways, columns, rows) for order in _orders(pieces)]
    best = min(trials, key=_cost)
    used = frozenset(_places(reduce(or_, (spot.sheets for spot in best.values()))))
    return Arrangement(
        tuple(
            Placed(
                name,
                best[name].raster.turn,
                best[name].raster.shift
                + complex(best[name].right * cell[0], best[name].down * cell[1]),
            )
            for name in pieces
        ),
        max(column for column, _ in used) + 1,
        max(row for _, row in used) + 1,
        used,
    )


def _ways(
    regions: tuple[Region, ...], cell: tuple[float, float], columns: int, rows: int
) -> tuple[_Way, ...]:
    """Every turn of a piece that looks different."""
    outlines = [polygons(region) for region in regions]
    found: dict[tuple[int, ...], _Way] = {}
    for number in range(_TURNS):
        made = raster(outlines, cmath.rect(1, math.tau * number / _TURNS), cell, GAP / 2)
        if made.rows not in found:
            found[made.rows] = _Way(made, _patterns(made, columns, rows))
    return tuple(found.values())


def _patterns(made: Raster, columns: int, rows: int) -> dict[int, dict[int, int]]:
    found: dict[int, dict[int, int]] = {}
    for down in range(rows):
        groups = {0: (1 << columns) - 1}
        for row in range((down + len(made.rows) - 1) // rows + 1):
            band = reduce(or_, made.rows[max(row * rows - down, 0) : (row + 1) * rows - down], 0)
            for column, pushes in enumerate(_pushes(band, columns)):
                bit = 1 << (row * _STRIDE + column)
                split: dict[int, int] = {}
                for pattern, those in groups.items():
                    for known, part in (
                        (pattern | bit, those & pushes),
                        (pattern, those & ~pushes),
                    ):
                        if part:
                            split[known] = split.get(known, 0) | part
                groups = split
        for pattern, those in groups.items():
            found.setdefault(pattern, {})[down] = those
    return found


def _pushes(band: int, columns: int) -> list[int]:
    """For each column of sheets, the pushes (0 to ``columns`` − 1, as bits) that bring some cell
    of ``band`` onto it. A run from a to b meets the column from p to q when p − b ≤ push ≤ q − a.
    """
    found = [0] * ((band.bit_length() + columns - 2) // columns + 1)
    start = 0
    while band:
        gap = (band & -band).bit_length() - 1
        run = (~(band >> gap) & ((band >> gap) + 1)).bit_length() - 1
        first, last = start + gap, start + gap + run - 1
        for column in range(first // columns, (last + columns - 1) // columns + 1):
            low = max(column * columns - last, 0)
            high = min((column + 1) * columns - 1 - first, columns - 1)
            found[column] |= ((1 << (high - low + 1)) - 1) << low
        start = last + 1
        band >>= gap + run
    return found


def _orders(pieces: Mapping[str, tuple[Region, ...]]) -> Iterator[list[str]]:
    """The pieces by size, and again with each of the next few largest put first."""
    by_size = sorted(
        pieces, key=lambda name: (-max(_area(region) for region in pieces[name]), name)
    )
    for first in range(min(len(by_size), 3)):
        yield [by_size[first], *by_size[:first], *by_size[first + 1 :]]


def _area(region: Region) -> float:
    return math.fsum(path.area() for path in region)


def _lay(
    order: Iterable[str], ways: Mapping[str, tuple[_Way, ...]], columns: int, rows: int
) -> dict[str, _Spot]:
    table: list[int] = []
    sheets = 0
    spots: dict[str, _Spot] = {}
    for name in order:
        spot = _best_spot(ways[name], table, sheets, columns, rows)
        put(table, spot.raster.rows, spot.right, spot.down)
        sheets |= spot.sheets
        spots[name] = spot
    return spots


def _best_spot(
    ways: tuple[_Way, ...], table: list[int], sheets: int, columns: int, rows: int
) -> _Spot:
    """The cheapest place where a piece overlaps nothing. There is always one to the right."""
    wide, high = _extent(sheets)
    patterns = {pattern for way in ways for pattern in way.patterns}
    # A piece spread over many more sheets than it needs is no bargain, whatever is free there.
    most = min(pattern.bit_count() for pattern in patterns) + 2
    choices = sorted(
        (_price(sheets, pattern << (row * _STRIDE + column)), row, column, pattern)
        for pattern in patterns
        if pattern.bit_count() <= most
        for row in range(high + 1)
        for column in range(wide + 1)
    )
    for _, row, column, pattern in choices:
        for way in ways:
            for push, those in way.patterns.get(pattern, {}).items():
                down = row * rows + push
                found = free(way.raster, table, down, those << (column * columns))
                if found:
                    right = (found & -found).bit_length() - 1
                    moved = pattern << (row * _STRIDE + column)
                    return _Spot(way.raster, right, down, moved)
    raise AssertionError("an endless grid has room")


def _price(sheets: int, pattern: int) -> tuple[int, int, int]:
    """What laying a piece on ``pattern`` costs where ``sheets`` are in use already."""
    wide, high = _extent(sheets | pattern)
    return (pattern & ~sheets).bit_count(), pattern.bit_count(), wide * high


def _cost(spots: Mapping[str, _Spot]) -> tuple[int, int, int]:
    sheets = reduce(or_, (spot.sheets for spot in spots.values()))
    wide, high = _extent(sheets)
    return (
        sheets.bit_count(),
        sum(spot.sheets.bit_count() for spot in spots.values()),
        wide * high,
    )


def _extent(sheets: int) -> tuple[int, int]:
    """Columns and rows of the grid that holds some sheets."""
    together, high = 0, 0
    while sheets:
        together |= sheets & ((1 << _STRIDE) - 1)
        sheets >>= _STRIDE
        high += 1
    return together.bit_length(), high


def _places(sheets: int) -> Iterator[tuple[int, int]]:
    """The (column, row) of each sheet."""
    while sheets:
        bit = (sheets & -sheets).bit_length() - 1
        yield bit % _STRIDE, bit // _STRIDE
        sheets &= sheets - 1
