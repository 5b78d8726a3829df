"""Pieces on a cloth: every cut of it, grain along the length, as little length as is easily found.

In a lay x runs across the width and y along the length, from the cut end. Each piece goes as near
to the cut end as it can without touching another (bottom-left placing on a raster), so later ones
fill gaps and holes. A few orders are tried, and the shortest lay is kept.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping

from notchbook.drafting.draft import Draft, Lay, Piece, Placed
from notchbook.drafting.engine import evaluate_in
from notchbook.drafting.geometry.path import bounds, unit
from notchbook.drafting.packing.raster import CHORD, Raster, free, polygons, put, raster

GAP = 10.0
"""Cloth left between two pieces, mm."""
EDGE = 5.0
"""Cloth left along each selvage and at the cut ends, mm."""

_CELL = 5.0
_STEP = 50.0


class TooWide(Exception):
    """A piece that no allowed turn gets onto the width of a cloth: it is ``by`` mm too wide."""

    def __init__(self, piece: str, cloth: str, width: float, by: float) -> None:
        self.piece = piece
        self.cloth = cloth
        self.width = width
        self.by = by
        super().__init__(f"{piece} is {by:.0f} mm too wide for {cloth}, {width:.0f} mm")


def lay(draft: Draft, cloth: str, width: float) -> Lay:
    """Lay out everything cut from one cloth on a width, in mm, selvages counted in.

    Pieces keep their grain; where the cloth has no nap they may lie head to foot. Raises TooWide.
    """
    rule = draft.recipe.cloths[cloth]
    pieces = {name: piece for name, piece in draft.pieces.items() if piece.counts.get(cloth)}
    # Half a gap lies round every piece, so the table reaches that far beyond the outermost ones.
    room = width - 2 * EDGE + GAP + 2 * CHORD + 1e-6
    columns = max(int(room / _CELL), 1)
    cell = (room / columns, _CELL)
    ways = {name: _ways(piece, cloth, width, rule.nap, cell) for name, piece in pieces.items()}
    counts = {name: piece.counts[cloth] for name, piece in pieces.items()}
    trials = [_place(order, counts, ways, columns, cell) for order in _orders(ways)]
    lengths = [_length(trial, pieces, cloth) for trial in trials]
    length = min(lengths)
    buy = length / (1 - evaluate_in(draft, rule.shrinkage).value)
    return Lay(
        cloth,
        width,
        trials[lengths.index(length)],
        length,
        math.ceil(buy / _STEP - 1e-9) * _STEP,
    )


def _ways(
    piece: Piece, cloth: str, width: float, nap: bool, cell: tuple[float, float]
) -> tuple[Raster, ...]:
    """A piece with its grain down the length, and head to foot where nothing forbids it."""
    start, end = piece.flat.grain
    down = 1j / unit(end - start)
    loops = piece.cut_line(cloth).loops
    by = bounds([path.moved(down) for path in loops]).width - (width - 2 * EDGE)
    if by > 1e-6:
        raise TooWide(piece.name, cloth, width, by)
    region = polygons(loops)
    return tuple(raster([region], turn, cell, GAP / 2) for turn in (down, -down)[: 1 if nap else 2])


def _orders(ways: Mapping[str, tuple[Raster, ...]]) -> Iterator[list[str]]:
    """The pieces by height, by area and by width, the largest first."""

    def area(name: str) -> int:
        return sum(row.bit_count() for row in ways[name][0].rows)

    yield sorted(ways, key=lambda name: (-len(ways[name][0].rows), -area(name)))
    yield sorted(ways, key=lambda name: -area(name))
    yield sorted(ways, key=lambda name: (-ways[name][0].columns, -area(name)))


def _place(
    order: Iterable[str],
    counts: Mapping[str, int],
    ways: Mapping[str, tuple[Raster, ...]],
    columns: int,
    cell: tuple[float, float],
) -> tuple[Placed, ...]:
    table: list[int] = []
    placed: list[Placed] = []
    corner = complex(EDGE, EDGE) - (GAP / 2 + CHORD) * (1 + 1j)
    for name in order:
        # The next copy of a piece can't lie nearer to the cut end than the one before.
        tried = [0] * len(ways[name])
        for _ in range(counts[name]):
            spots = []
            for number, way in enumerate(ways[name]):
                right, tried[number] = _lowest(way, table, tried[number], columns)
                spots.append((tried[number] + len(way.rows), right, number))
            end, right, number = min(spots)
            way = ways[name][number]
            down = end - len(way.rows)
            put(table, way.rows, right, down)
            pushed = complex(right * cell[0], down * cell[1])
            placed.append(Placed(name, way.turn, way.shift + pushed + corner))
    return tuple(placed)


def _lowest(way: Raster, table: list[int], first: int, columns: int) -> tuple[int, int]:
    """How far right and down the place nearest to the cut end is, searched from row ``first``."""
    everywhere = (1 << (columns - way.columns + 1)) - 1
    down = first
    while not (found := free(way, table, down, everywhere)):
        down += 1
    return (found & -found).bit_length() - 1, down


def _length(placed: tuple[Placed, ...], pieces: Mapping[str, Piece], cloth: str) -> float:
    """From the cut end to 5 mm beyond the last piece, mm."""
    return EDGE + max(
        bounds([path.moved(spot.turn, spot.shift) for path in loops]).high.imag
        for spot in placed
        for loops in [pieces[spot.piece].cut_line(cloth).loops]
    )
