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
from notchbook.drafting.geometry.path import Path, bounds, flip, unit
from notchbook.drafting.packing.raster import CHORD, Raster, free, polygons, put, raster
from notchbook.problems import Problem
from notchbook.reading.recipe import Recipe

GAP = 10.0
"""Cloth left between two pieces, mm."""
EDGE = 5.0
"""Cloth left along each selvage and at the cut ends, mm."""

_CELL = 5.0
_STEP = 50.0

_Cut = tuple[str, bool]
"""A piece, and whether it is turned over."""


class TooWide(Exception):
    """A piece that no allowed turn gets onto the width of a cloth: it is ``by`` mm too wide."""

    def __init__(self, piece: str, cloth: str, width: float, by: float) -> None:
        self.piece = piece
        self.cloth = cloth
        self.width = width
        self.by = by
        super().__init__(f"{piece} is {by:.0f} mm too wide for {cloth}, {width:.0f} mm")

    def problem(self, recipe: Recipe) -> Problem:
        """It as a problem of the recipe, at the cloth."""
        what = (
            f"Piece “{self.piece}” does not fit on {self.cloth} {self.width:.0f} mm wide: it is "
            f"{self.by:.0f} mm too wide with its grain along the cloth."
        )
        remedy = "Name a wider cloth, or make the piece smaller."
        return Problem(recipe.cloths[self.cloth].place, what, remedy)


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
    counts: dict[_Cut, int] = {}
    for name, piece in pieces.items():
        mirrored = piece.pairs.get(cloth, 0)
        counts[name, False] = piece.counts[cloth] - mirrored
        if mirrored:
            counts[name, True] = mirrored
    ways = {cut: _ways(pieces[cut[0]], cut[1], cloth, width, rule.nap, cell) for cut in counts}
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


def laid(path: Path, spot: Placed) -> Path:
    """A line of a piece where the piece lies."""
    return (path.mirrored().reversed() if spot.mirrored else path).moved(spot.turn, spot.shift)


def too_wide(draft: Draft) -> Iterator[TooWide]:
    """Every piece that does not fit on some width of a cloth it is cut from."""
    for cloth in draft.recipe.cloths.values():
        for formula in cloth.widths:
            width = evaluate_in(draft, formula).value
            for piece in draft.pieces.values():
                if cloth.name in piece.counts and (by := _excess(piece, cloth.name, width)) > 0:
                    yield TooWide(piece.name, cloth.name, width, by)


def _ways(
    piece: Piece, mirrored: bool, cloth: str, width: float, nap: bool, cell: tuple[float, float]
) -> tuple[Raster, ...]:
    """A piece with its grain down the length, and head to foot where nothing forbids it."""
    start, end = piece.flat.grain
    loops = piece.cut_line(cloth).loops
    if mirrored:
        start, end = flip(start), flip(end)
        loops = tuple(path.mirrored() for path in loops)
    down = 1j / unit(end - start)
    by = _excess(piece, cloth, width)
    if by > 0:
        raise TooWide(piece.name, cloth, width, by)
    region = polygons(loops)
    return tuple(raster([region], turn, cell, GAP / 2) for turn in (down, -down)[: 1 if nap else 2])


def _excess(piece: Piece, cloth: str, width: float) -> float:
    """By how much a piece with its grain along a cloth is wider than that has room for, mm; less
    than nothing where it fits."""
    start, end = piece.flat.grain
    outline = piece.cut_line(cloth).loops[0].moved(1j / unit(end - start))
    return bounds([outline]).width - (width - 2 * EDGE) - 1e-6


def _orders(ways: Mapping[_Cut, tuple[Raster, ...]]) -> Iterator[list[_Cut]]:
    """The pieces by height, by area and by width, the largest first."""

    def area(cut: _Cut) -> int:
        return sum(row.bit_count() for row in ways[cut][0].rows)

    yield sorted(ways, key=lambda cut: (-len(ways[cut][0].rows), -area(cut)))
    yield sorted(ways, key=lambda cut: -area(cut))
    yield sorted(ways, key=lambda cut: (-ways[cut][0].columns, -area(cut)))


def _place(
    order: Iterable[_Cut],
    counts: Mapping[_Cut, int],
    ways: Mapping[_Cut, tuple[Raster, ...]],
    columns: int,
    cell: tuple[float, float],
) -> tuple[Placed, ...]:
    table: list[int] = []
    placed: list[Placed] = []
    corner = complex(EDGE, EDGE) - (GAP / 2 + CHORD) * (1 + 1j)
    for cut in order:
        # The next copy of a piece can't lie nearer to the cut end than the one before.
        tried = [0] * len(ways[cut])
        for _ in range(counts[cut]):
            spots = []
            for number, way in enumerate(ways[cut]):
                right, tried[number] = _lowest(way, table, tried[number], columns)
                spots.append((tried[number] + len(way.rows), right, number))
            end, right, number = min(spots)
            way = ways[cut][number]
            down = end - len(way.rows)
            put(table, way.rows, right, down)
            pushed = complex(right * cell[0], down * cell[1])
            placed.append(Placed(cut[0], way.turn, way.shift + pushed + corner, mirrored=cut[1]))
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
        bounds([laid(path, spot) for path in pieces[spot.piece].cut_line(cloth).loops]).high.imag
        for spot in placed
    )
