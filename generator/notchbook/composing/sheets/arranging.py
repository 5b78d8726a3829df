"""The pieces on pages of one paper: many sheets, or one page as long as it takes."""

from __future__ import annotations

from collections.abc import Mapping

from notchbook.composing.paper import HEADER, Paper
from notchbook.drafting.draft import Draft
from notchbook.drafting.geometry.box import bounds
from notchbook.drafting.geometry.vector import Point, unit
from notchbook.drafting.limits import mm
from notchbook.drafting.packing.raster import Region
from notchbook.drafting.packing.sheets import GAP, Arrangement, TooLarge, arrange

STEP = 25.0
"""One long page is arranged in steps of its length, mm."""

_WIDE = 22.0
"""Left between pieces that are drawn with large marks, mm."""


class NoRoom(Exception):
    """Paper that a pattern does not go onto, in words: what is wrong, and what to do."""

    def __init__(self, what: str, remedy: str) -> None:
        self.what = what
        self.remedy = remedy
        super().__init__(what)


def arranged(
    draft: Draft, paper: Paper, pieces: Mapping[str, tuple[Region, ...]]
) -> tuple[Arrangement, complex]:
    """The pieces on their sheets, and the width and height, mm, that a sheet shows. Raises
    NoRoom."""
    width = paper.width - 2 * paper.margin
    height = paper.height - 2 * paper.margin - HEADER
    if paper.kind in ("home", "shop"):
        return arrange(pieces, width, height, kept=paper.block), complex(width, height)
    turns, gap = None, GAP
    if paper.kind == "projection":
        turns = {name: _upright(piece.flat.grain) for name, piece in draft.pieces.items()}
        widest = max(
            bounds([loop.moved(turns[name][0]) for region in those for loop in region]).width
            for name, those in pieces.items()
        )
        gap = _WIDE
        width = max(width, widest + 2 * gap)
    long = _strips(pieces, width, paper.block, turns, gap)
    lowest = max(
        bounds([loop.moved(placed.turn, placed.shift)]).high.imag
        for placed in long.placed
        for region in pieces[placed.piece]
        for loop in region
    )
    length = max(lowest + gap, paper.block.imag)
    if length > height:
        what = (
            f"In size “{draft.size.id}” the pieces take {mm(length)} of “{paper.name}”, "
            f"and one page is {mm(paper.height)} long at most."
        )
        raise NoRoom(what, f"Leave “{paper.name}” out of papers: a0 makes several pages of it.")
    sheets = frozenset((column, 0) for column, _ in long.used)
    return Arrangement(long.placed, long.columns, 1, sheets), complex(width, length)


def _strips(
    pieces: Mapping[str, tuple[Region, ...]],
    width: float,
    block: complex,
    turns: Mapping[str, tuple[complex, complex]] | None,
    gap: float,
) -> Arrangement:
    """Pieces on one long page, or on as many side by side as the widest piece needs."""
    columns = 1
    while True:
        try:
            return arrange(pieces, width, STEP, columns=columns, kept=block, turns=turns, gap=gap)
        except TooLarge:
            columns += 1


def _upright(grain: tuple[Point, Point]) -> tuple[complex, complex]:
    """The two turns that lay a grain line down the page."""
    turn = 1j / unit(grain[1] - grain[0])
    return turn, -turn
