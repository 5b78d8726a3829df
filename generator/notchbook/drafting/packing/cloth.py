"""Pieces on a cloth: every cut of it, on grain, in as little length as a short search finds.

In a lay x runs across the width and y along the length, from the cut end. What goes where on a
strip is found in ``strip.py``; here is what cloth asks: what it shrinks, its nap, and whether it
lies single or folded. Folded cloth never takes less than single cloth, but is cut in half the time.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping

from notchbook.drafting.draft import Draft, Lay, Piece, Placed
from notchbook.drafting.engine import evaluate_in
from notchbook.drafting.geometry.box import Box, bounds
from notchbook.drafting.geometry.path import Path
from notchbook.drafting.packing.cuts import Cut, below, cuts, downwards, folded, half
from notchbook.drafting.packing.strip import EDGE, Spot, pack
from notchbook.problems import Problem
from notchbook.reading.recipe import Cloth, Recipe

_STEP = 50.0


class TooWide(Exception):
    """A piece that no allowed turn gets onto the width of a cloth: it is ``by`` mm too wide."""

    def __init__(self, piece: str, cloth: str, width: float, by: float, across: bool) -> None:
        self.piece = piece
        self.cloth = cloth
        self.width = width
        self.by = by
        self.across = across
        super().__init__(f"{piece} is {by:.0f} mm too wide for {cloth}, {width:.0f} mm")

    def problem(self, recipe: Recipe) -> Problem:
        """It as a problem of the recipe, at the cloth."""
        cloth = recipe.cloths[self.cloth]
        what = (
            f"Piece “{self.piece}” does not fit on {self.cloth} {self.width:.0f} mm wide: it is "
            f"{self.by:.0f} mm too wide with its grain along the cloth."
        )
        if self.across:
            nap = "the nap would run across it" if cloth.nap else "its grain would run across"
            what += f" Turned a quarter it would fit, but {nap}."
        least = math.ceil((self.width + self.by) / 10)
        remedy = f"Name a cloth {least} cm wide or wider, or make the piece smaller."
        return Problem(cloth.place, what, remedy)


def lay(draft: Draft, cloth: str, width: float) -> Lay:
    """Lay out everything cut from one cloth on a width, in mm, selvages counted in.

    Pieces keep their grain; where the cloth has no nap they may lie head to foot. Raises TooWide.
    """
    rule = draft.recipe.cloths[cloth]
    room = room_of(draft, rule, width)
    pieces = [piece for piece in draft.pieces.values() if piece.counts.get(cloth)]
    for wide in _lacking(draft, rule, width, _laid_down(draft, rule)):
        raise wide
    placed: tuple[Placed, ...] = ()
    twice = 0.0
    if rule.folded:
        placed, singly = _doubled(pieces, rule, room)
        if placed:
            twice = _end(placed, draft.pieces, cloth) + EDGE
    else:
        singly = tuple(cuts(pieces, cloth, rule.nap))
    parts = [cut.part(count) for cut, count in singly]
    found = _put(pack(parts, room), [cut for cut, _ in singly], 1j * twice) if parts else ()
    placed += found
    length = _end(placed, draft.pieces, cloth) + EDGE
    need = length / (1 - evaluate_in(draft, rule.shrinkage).value)
    return Lay(
        cloth, width, placed, length, need, math.ceil(need / _STEP - 1e-9) * _STEP, room, twice
    )


def lays_of(draft: Draft) -> tuple[Lay, ...]:
    """The lay of every cloth on each of its widths that has room. Raises TooWide where none has."""
    for wide in too_wide(draft):
        raise wide
    return tuple(
        lay(draft, cloth.name, width)
        for cloth in draft.recipe.cloths.values()
        if any(cloth.name in piece.counts for piece in draft.pieces.values())
        for width, wide in widths_of(draft, cloth)
        if wide is None
    )


def laid(path: Path, spot: Placed) -> Path:
    """A line of a piece where the piece lies."""
    return (path.mirrored().reversed() if spot.mirrored else path).moved(spot.turn, spot.shift)


def outline(spot: Placed, lay: Lay, pieces: Mapping[str, Piece]) -> tuple[Path, ...]:
    """Where a piece is cut on a lay, outline first, then holes."""
    return tuple(laid(path, spot) for path in pieces[spot.piece].cut_line(lay.cloth).loops)


def room_of(draft: Draft, cloth: Cloth, width: float) -> float:
    """How wide a cloth sold ``width`` mm wide still is once it has shrunk."""
    lost = evaluate_in(draft, cloth.narrows).value if cloth.narrows else 0.0
    return width * (1 - lost)


def widths_sold(draft: Draft, cloth: Cloth) -> tuple[float, ...]:
    """Every width a cloth is sold in, mm."""
    return tuple(evaluate_in(draft, formula).value for formula in cloth.widths)


def widths_of(draft: Draft, cloth: Cloth) -> tuple[tuple[float, TooWide | None], ...]:
    """Every width a cloth is sold in, mm, each with the piece that most lacks room on it, if any
    does."""
    laid = _laid_down(draft, cloth)
    return tuple(
        (width, max(_lacking(draft, cloth, width, laid), key=lambda wide: wide.by, default=None))
        for width in widths_sold(draft, cloth)
    )


def too_wide(draft: Draft) -> Iterator[TooWide]:
    """Every piece that keeps a cloth from being used at all: those that do not fit on its widest
    width, where something does not fit on any."""
    for cloth in draft.recipe.cloths.values():
        widths, laid = widths_sold(draft, cloth), _laid_down(draft, cloth)
        if all(any(_lacking(draft, cloth, width, laid)) for width in widths):
            yield from _lacking(draft, cloth, max(widths), laid)


def _laid_down(draft: Draft, cloth: Cloth) -> dict[str, Box]:
    """The box round every piece that is cut from a cloth, by its name, its grain along that."""
    return {
        piece.name: bounds(
            [piece.cut_line(cloth.name).loops[0].moved(downwards(*piece.flat.grain))]
        )
        for piece in draft.pieces.values()
        if cloth.name in piece.counts
    }


def _lacking(
    draft: Draft, cloth: Cloth, width: float, laid: Mapping[str, Box]
) -> Iterator[TooWide]:
    """What is wrong where pieces, laid down, are wider than a cloth has room for."""
    room = room_of(draft, cloth, width)
    for piece, box in laid.items():
        by = (box.width - (room - 2 * EDGE) - 1e-6) * width / room
        if by > 0:
            yield TooWide(piece, cloth.name, width, by, box.height <= room - 2 * EDGE)


def _doubled(
    pieces: Iterable[Piece], cloth: Cloth, room: float
) -> tuple[tuple[Placed, ...], tuple[tuple[Cut, int], ...]]:
    """What is cut from folded cloth, where it lies when that is opened out, and what is left to
    be cut singly."""
    fold = folded(pieces, cloth.name, cloth.nap, room)
    parts = [
        *(half(cut, axis) for cut, axis in fold.halves),
        *(
            cut.part(count, cut.turns[:2] if axis is not None else cut.turns)
            for cut, count, axis in fold.doubled
        ),
    ]
    if not parts:
        return (), fold.single
    placed: list[Placed] = []
    for spot in pack(parts, room / 2):
        number = spot.part - len(fold.halves)
        if number < 0:
            cut, axis = fold.halves[spot.part]
            sign = (1, -1)[spot.way]
            at = complex(room / 2 - axis * sign, spot.shift.imag)
            placed.append(cut.placed(cut.turns[0] * sign, at))
        else:
            cut, _, middle = fold.doubled[number]
            upper = cut.placed(cut.turns[spot.way], spot.shift + room / 2)
            placed += [upper, below(cut, upper, middle, room)]
    return tuple(placed), fold.single


def _put(spots: Iterable[Spot], cuts: list[Cut], shift: complex) -> tuple[Placed, ...]:
    return tuple(
        cuts[spot.part].placed(cuts[spot.part].turns[spot.way], spot.shift + shift)
        for spot in spots
    )


def _end(placed: Iterable[Placed], pieces: Mapping[str, Piece], cloth: str) -> float:
    """Where the last piece ends, mm from the cut end."""
    return max(
        bounds([laid(path, spot) for path in pieces[spot.piece].cut_line(cloth).loops]).high.imag
        for spot in placed
    )
