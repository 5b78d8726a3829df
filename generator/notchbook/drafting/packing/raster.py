"""Pieces as rows of bits: which cells of a grid a region touches. Python's integers are the rows.

A region is an outline and its holes, filled by the even-odd rule. Bit ``i`` of row ``j`` stands for
the cell from ``i`` to ``i + 1`` cells to the right and ``j`` to ``j + 1`` cells down. Rasters are
generous, never mean: every cell the grown region touches is set, so what does not overlap here does
not overlap on the table.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from notchbook.drafting.draft import Piece
from notchbook.drafting.geometry.cells import inside, touched
from notchbook.drafting.geometry.path import Path
from notchbook.drafting.geometry.vector import Point

Region = tuple[Path, ...]
Polygons = Sequence[Sequence[Point]]

CHORD = 0.25
"""Chords stay this close to their curves (mm); regions grow by as much to make up for it."""


@dataclass(frozen=True, slots=True)
class Raster:
    """Rows of cells. A point p of the region lies at ``p * turn + shift``, in mm, from the corner
    of the first cell. ``runs`` are those of every row, ``spread`` numbers the rows, those far
    apart first."""

    rows: tuple[int, ...]
    runs: tuple[tuple[tuple[int, int], ...], ...]
    spread: tuple[int, ...]
    columns: int
    turn: complex
    shift: complex


def outermost(piece: Piece) -> tuple[Region, ...]:
    """The cutting lines of a piece that no other of its lines goes round on every edge."""
    lines = piece.cut_lines
    return tuple(
        line.loops
        for number, line in enumerate(lines)
        if not any(
            all(other.allowance[edge] >= mm for edge, mm in line.allowance.items())
            and (other.allowance != line.allowance or place < number)
            for place, other in enumerate(lines)
            if place != number
        )
    )


def polygons(region: Region) -> Polygons:
    """A region as closed polygons, within ``CHORD`` of its curves."""
    return [path.points(CHORD) for path in region]


def raster(
    regions: Iterable[Polygons], turn: complex, cell: tuple[float, float], grow: float
) -> Raster:
    """The cells, ``cell`` mm wide and high, that some regions together touch once they are turned
    and grown by ``grow`` mm (by a square: never less than that in any direction)."""
    width, height = cell
    grow += CHORD
    turned = [[[p * turn for p in loop] for loop in region] for region in regions]
    left = min(p.real for region in turned for loop in region for p in loop) - grow
    top = min(p.imag for region in turned for loop in region for p in loop) - grow
    bottom = max(p.imag for region in turned for loop in region for p in loop) + grow
    count = max(math.ceil((bottom - top) / height), 1)
    rows = [0] * count
    for region in turned:
        sides = [
            (
                (a.real - left) / width,
                (a.imag - top) / height,
                (b.real - left) / width,
                (b.imag - top) / height,
            )
            for loop in region
            for a, b in zip(loop, (*loop[1:], loop[0]), strict=True)
        ]
        for cells in (touched(sides, count, (grow / width, grow / height)), inside(sides, count)):
            rows = [row | more for row, more in zip(rows, cells, strict=True)]
    # 0 aside, the numbers that many powers of two divide come first: the middle, the quarters …
    spread = sorted(range(count), key=lambda number: (-(number & -number), number))
    columns = max(row.bit_length() for row in rows)
    filled = tuple(tuple(runs(row)) for row in rows)
    return Raster(tuple(rows), filled, tuple(spread), columns, turn, complex(-left, -top))


def free(made: Raster, table: Sequence[int], down: int, wanted: int) -> int:
    """Those of the pushes ``wanted`` (bit i: i cells to the right) at which a piece touches no
    taken cell of the table, when it lies ``down`` rows from the top.

    Rows far apart are tried first, so that a place that is taken is mostly found out at once.
    """
    for number in made.spread:
        if down + number < len(table) and (taken := table[down + number]):
            wanted &= ~_smear(made.runs[number], taken)
            if not wanted:
                break
    return wanted


def runs(row: int) -> Iterator[tuple[int, int]]:
    """The runs of set bits of a row, the lowest first: where each begins, and how long it is."""
    start = 0
    while row:
        gap = (row & -row).bit_length() - 1
        row >>= gap
        start += gap
        run = (~row & (row + 1)).bit_length() - 1
        yield start, run
        row >>= run
        start += run


def _smear(filled: Iterable[tuple[int, int]], taken: int) -> int:
    """All pushes at which a row with these runs meets ``taken``: taken >> i, or-ed for every bit i
    of the row.

    Runs are done by doubling, so one of n bits costs log2(n) steps.
    """
    found = 0
    for start, run in filled:
        spread, done = taken >> start, 1
        while done * 2 <= run:
            spread |= spread >> done
            done *= 2
        found |= spread | (spread >> (run - done))
    return found


def put(table: list[int], rows: Sequence[int], right: int, down: int) -> None:
    """Take the cells of a piece, lengthening the table where it must."""
    table.extend([0] * (down + len(rows) - len(table)))
    for number, row in enumerate(rows):
        table[down + number] |= row << right
