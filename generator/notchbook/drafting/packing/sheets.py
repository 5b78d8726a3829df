"""Pieces on the sheets of a full-size pattern: turned and moved so that few sheets carry any.

Paper has no grain, so pieces turn freely; the grain line is drawn on them. The sheets are tiles of
an endless grid and meet edge to edge. Pieces go down one after the other, each where it needs the
fewest further sheets, then the fewest sheets of its own, then the smallest grid; later pieces fill
corners and holes. A few orders are tried; of the best, sheets that carry little are cleared and
what was on them is laid anew, as long as that helps.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import reduce
from operator import or_

from notchbook.drafting.draft import Placed
from notchbook.drafting.geometry.segments import Line
from notchbook.drafting.geometry.vector import unit
from notchbook.drafting.packing.raster import Raster, Region, free, polygons, put, raster

GAP = 8.5
"""Paper left between two pieces, mm: room for notches, which stand out by 4 mm. Half of it stays
free along the edge of the grid."""

_CELL = 7.0
_EIGHTHS = 8
_STRAIGHT, _LINES = 40.0, 3
"""A piece is also turned by its longest straight lines: those that long (mm), so many of them."""

_CLEARED = 6
"""So many of the emptiest sheets are cleared in each round."""

_STRIDE = 64
"""Sheets are bits too: the one in column c of row r is bit 64 r + c."""


class TooLarge(Exception):
    """A piece that no turn gets onto paper of a given width: it needs ``width`` mm."""

    def __init__(self, piece: str, width: float) -> None:
        self.piece = piece
        self.width = width
        super().__init__(f"{piece} needs {width:.0f} mm")


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


@dataclass(frozen=True, slots=True)
class _Grid:
    """Sheets as cells: so many columns and rows of them a sheet, each ``cell`` mm wide and high,
    and no more than ``wide`` sheets side by side."""

    columns: int
    rows: int
    cell: tuple[float, float]
    wide: int

    @staticmethod
    def of(width: float, height: float, wide: int | None) -> _Grid:
        """The grid of sheets as large as that, mm."""
        columns, rows = max(round(width / _CELL), 1), max(round(height / _CELL), 1)
        return _Grid(columns, rows, (width / columns, height / rows), wide or _STRIDE)


@dataclass(frozen=True, slots=True)
class _Laid:
    """Some pieces laid: the cells they take, row by row, the sheets, and where each one is."""

    table: tuple[int, ...]
    sheets: int
    spots: Mapping[str, _Spot]

    @staticmethod
    def empty(grid: _Grid, kept: complex) -> _Laid:
        """Nothing but a corner that is kept free."""
        across, down = math.ceil(kept.real / grid.cell[0]), math.ceil(kept.imag / grid.cell[1])
        wide, high = -(-across // grid.columns), -(-down // grid.rows)
        sheets = sum(((1 << wide) - 1) << (row * _STRIDE) for row in range(high))
        return _Laid(((1 << across) - 1,) * down, sheets, {})

    def with_(self, name: str, spot: _Spot) -> _Laid:
        """One more piece, at a place that is free."""
        table = list(self.table)
        put(table, spot.raster.rows, spot.right, spot.down)
        return _Laid(tuple(table), self.sheets | spot.sheets, {**self.spots, name: spot})

    def cost(self) -> tuple[int, int, int]:
        """What it takes: sheets, then the sheets of each piece, then the size of the grid."""
        wide, high = _extent(self.sheets)
        shares = sum(spot.sheets.bit_count() for spot in self.spots.values())
        return self.sheets.bit_count(), shares, wide * high

    def cells(self, sheet: int, grid: _Grid) -> int:
        """How many cells of a sheet are taken."""
        row, column = divmod(sheet.bit_length() - 1, _STRIDE)
        mask = ((1 << grid.columns) - 1) << (column * grid.columns)
        those = self.table[row * grid.rows : (row + 1) * grid.rows]
        return sum((cells & mask).bit_count() for cells in those)


def arrange(
    pieces: Mapping[str, tuple[Region, ...]],
    width: float,
    height: float,
    *,
    columns: int | None = None,
    kept: complex = 0,
    turns: Mapping[str, Sequence[complex]] | None = None,
    gap: float = GAP,
) -> Arrangement:
    """Arrange each piece once on sheets of ``width`` × ``height`` mm.

    A piece is one or more regions that are laid together: what its outermost cutting lines hold.
    The grid is no wider than ``columns`` sheets, where that is given; TooLarge where a piece is. A
    corner of the first sheet, as wide and high as the two parts of ``kept`` say, stays free. Pieces
    are turned as ``turns`` allow; where nothing is said of one, as suits it best. ``gap`` mm of
    paper are left between two.
    """
    grid = _Grid.of(width, height, columns)
    ways = {
        name: _ways(regions, grid, (turns or {}).get(name) or _turns(regions), gap)
        for name, regions in pieces.items()
    }
    for name, those in ways.items():
        if not any(way.patterns for way in those):
            raise TooLarge(name, min(way.raster.columns for way in those) * grid.cell[0])
    begun = _Laid.empty(grid, kept)
    trials = [_lay(order, ways, grid, begun) for order in _orders(pieces)]
    best = _thinned(min(trials, key=_Laid.cost), ways, grid, begun)
    used = frozenset(_places(best.sheets))
    return Arrangement(
        tuple(
            Placed(
                name,
                spot.raster.turn,
                spot.raster.shift + complex(spot.right * grid.cell[0], spot.down * grid.cell[1]),
            )
            for name, spot in ((name, best.spots[name]) for name in pieces)
        ),
        max(column for column, _ in used) + 1,
        max(row for _, row in used) + 1,
        used,
    )


def _turns(regions: tuple[Region, ...]) -> list[complex]:
    """Turns worth trying: eighths, and each that lays one of the longest straight lines level or
    upright."""
    straight = sorted(
        (
            segment.end - segment.start
            for region in regions
            for path in region
            for segment in path.segments
            if isinstance(segment, Line) and abs(segment.end - segment.start) > _STRAIGHT
        ),
        key=lambda run: (-abs(run), run.real, run.imag),
    )
    found = [cmath.rect(1, math.tau * number / _EIGHTHS) for number in range(_EIGHTHS)]
    for run in straight[:_LINES]:
        for quarter in (1, 1j, -1, -1j):
            turn = quarter * unit(run).conjugate()
            if all(abs(turn - other) > 0.02 for other in found):
                found.append(turn)
    return found


def _ways(
    regions: tuple[Region, ...], grid: _Grid, turns: Iterable[complex], gap: float
) -> tuple[_Way, ...]:
    """Every turn of a piece that looks different, with the patterns that the grid is wide enough
    for."""
    outlines = [polygons(region) for region in regions]
    found: dict[tuple[int, ...], _Way] = {}
    for turn in turns:
        made = raster(outlines, turn, grid.cell, gap / 2)
        if made.rows not in found:
            patterns = _patterns(made, grid.columns, grid.rows)
            fit = {
                each: pushes for each, pushes in patterns.items() if _extent(each)[0] <= grid.wide
            }
            found[made.rows] = _Way(made, fit)
    return tuple(found.values())


def _patterns(made: Raster, columns: int, rows: int) -> dict[int, dict[int, int]]:
    found: dict[int, dict[int, int]] = {}
    # Pushed down by one more row, most bands stay the same.
    pushed: dict[int, list[int]] = {}
    for down in range(rows):
        groups = {0: (1 << columns) - 1}
        for row in range((down + len(made.rows) - 1) // rows + 1):
            band = reduce(or_, made.rows[max(row * rows - down, 0) : (row + 1) * rows - down], 0)
            if band not in pushed:
                pushed[band] = _pushes(band, columns)
            for column, pushes in enumerate(pushed[band]):
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
    order: Iterable[str],
    ways: Mapping[str, tuple[_Way, ...]],
    grid: _Grid,
    begun: _Laid,
    banned: int = 0,
) -> _Laid:
    """Pieces laid one after the other on what is ``begun``, none of them on a ``banned`` sheet."""
    table = list(begun.table)
    sheets, spots = begun.sheets, dict(begun.spots)
    for name in order:
        spot = _best_spot(ways[name], table, sheets, grid, banned)
        put(table, spot.raster.rows, spot.right, spot.down)
        sheets |= spot.sheets
        spots[name] = spot
    return _Laid(tuple(table), sheets, spots)


def _thinned(best: _Laid, ways: Mapping[str, tuple[_Way, ...]], grid: _Grid, begun: _Laid) -> _Laid:
    """Sheets that carry least are cleared, one after the other, and what was on them is laid
    anew beside the rest; as long as that takes less paper."""
    by_size = sorted(ways, key=lambda name: -sum(r.bit_count() for r in ways[name][0].raster.rows))
    better: _Laid | None = best
    while better:
        best, better = better, None
        sheets = sorted(_bits(best.sheets & ~begun.sheets), key=lambda bit: best.cells(bit, grid))
        for bit in sheets[:_CLEARED]:
            off = [name for name in by_size if best.spots[name].sheets & bit]
            rest = begun
            for name, spot in best.spots.items():
                if name not in off:
                    rest = rest.with_(name, spot)
            trial = _lay(off, ways, grid, rest, bit)
            if trial.cost() < best.cost():
                better = trial
                break
    return best


def _best_spot(
    ways: tuple[_Way, ...], table: list[int], sheets: int, grid: _Grid, banned: int
) -> _Spot:
    """The cheapest place where a piece overlaps nothing. There is always one below the others."""
    wide, high = _extent(sheets | banned)
    patterns = {pattern for way in ways for pattern in way.patterns}
    # A piece spread over many more sheets than it needs is no bargain, whatever is free there.
    most = min(pattern.bit_count() for pattern in patterns) + 2
    choices = sorted(
        (_price(sheets, pattern << (row * _STRIDE + column)), row, column, pattern)
        for pattern in patterns
        if pattern.bit_count() <= most
        for row in range(high + 1)
        for column in range(min(wide, grid.wide - _extent(pattern)[0]) + 1)
        if not pattern << (row * _STRIDE + column) & banned
    )
    for _, row, column, pattern in choices:
        for way in ways:
            for push, those in way.patterns.get(pattern, {}).items():
                down = row * grid.rows + push
                found = free(way.raster, table, down, those << (column * grid.columns))
                if found:
                    right = (found & -found).bit_length() - 1
                    moved = pattern << (row * _STRIDE + column)
                    return _Spot(way.raster, right, down, moved)
    raise AssertionError("an endless grid has room")


def _price(sheets: int, pattern: int) -> tuple[int, int, int]:
    """What laying a piece on ``pattern`` costs where ``sheets`` are in use already."""
    wide, high = _extent(sheets | pattern)
    return (pattern & ~sheets).bit_count(), pattern.bit_count(), wide * high


def _extent(sheets: int) -> tuple[int, int]:
    """Columns and rows of the grid that holds some sheets."""
    together, high = 0, 0
    while sheets:
        together |= sheets & ((1 << _STRIDE) - 1)
        sheets >>= _STRIDE
        high += 1
    return together.bit_length(), high


def _bits(sheets: int) -> Iterator[int]:
    """Each sheet as its own bit."""
    while sheets:
        yield sheets & -sheets
        sheets &= sheets - 1


def _places(sheets: int) -> Iterator[tuple[int, int]]:
    """The (column, row) of each sheet."""
    for bit in _bits(sheets):
        yield (bit.bit_length() - 1) % _STRIDE, (bit.bit_length() - 1) // _STRIDE
