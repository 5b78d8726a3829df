"""What is cut from a cloth, as shapes to be laid on it: which way up, how often, which way round.

A piece lies with its grain along the cloth, and head to foot where there is no nap. One whose sides
all run at 45° to the grain may lie on either bias, so a quarter turn does it no harm. Through
folded cloth pairs are cut at once, a piece with two like halves on the fold, and what is left over
singly, from cloth that is opened out again.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from notchbook.drafting.draft import Piece, Placed
from notchbook.drafting.geometry.box import bounds
from notchbook.drafting.geometry.path import Path
from notchbook.drafting.geometry.segments import Line
from notchbook.drafting.geometry.vector import Point, flip, unit
from notchbook.drafting.packing.strip import EDGE, Part, Way
from notchbook.drafting.packing.symmetry import axis_down


@dataclass(frozen=True, slots=True)
class Cut:
    """A piece and which way up it is cut. ``turns`` are those that keep it on grain."""

    piece: Piece
    mirrored: bool
    loops: tuple[Path, ...]
    turns: tuple[complex, ...]

    def part(self, count: int, turns: tuple[complex, ...] | None = None) -> Part:
        """It so many times, as a shape to lay."""
        return Part(
            tuple(
                Way([path.moved(turn).points() for path in self.loops])
                for turn in turns or self.turns
            ),
            count,
        )

    def placed(self, turn: complex, shift: complex) -> Placed:
        """It where it lies."""
        return Placed(self.piece.name, turn, shift, self.mirrored)


def cut_of(piece: Piece, cloth: str, mirrored: bool, nap: bool) -> Cut:
    """A piece as it is cut from a cloth."""
    start, end = piece.flat.grain
    loops = piece.cut_line(cloth).loops
    if mirrored:
        start, end = flip(start), flip(end)
        loops = tuple(path.mirrored().reversed() for path in loops)
    down = downwards(start, end)
    turns: tuple[complex, ...] = (down,) if nap else (down, -down)
    if not nap and on_bias(piece):
        turns += (down * 1j, down * -1j)
    return Cut(piece, mirrored, loops, turns)


def downwards(start: Point, end: Point) -> complex:
    """The turn that lays a grain line along the cloth."""
    return 1j / unit(end - start)


def cuts(pieces: Iterable[Piece], cloth: str, nap: bool) -> Iterator[tuple[Cut, int]]:
    """Everything that is cut from single cloth, and how often."""
    for piece in pieces:
        turned = piece.pairs.get(cloth, 0)
        for mirrored, count in ((False, piece.counts[cloth] - turned), (True, turned)):
            if count:
                yield cut_of(piece, cloth, mirrored, nap), count


def on_bias(piece: Piece) -> bool:
    """Whether all sides of a piece run at multiples of 45° to its grain, the longest at 45°."""
    start, end = piece.flat.grain
    grain = unit(end - start)
    sides = [s for path in piece.flat.outline() for s in path.segments]
    if not all(isinstance(side, Line) for side in sides):
        return False
    eighths = [cmath.phase((s.end - s.start) / grain) / (math.pi / 4) for s in sides]
    if any(abs(eighth - round(eighth)) > 0.02 for eighth in eighths):
        return False
    longest = max(range(len(sides)), key=lambda k: sides[k].length())
    return round(eighths[longest]) % 2 == 1


@dataclass(frozen=True, slots=True)
class Fold:
    """What folded cloth is cut into. ``doubled`` are cut through both plies, so many times;
    ``halves`` on the fold, once; ``single`` from cloth that is opened out again. Where the upright
    middle line of a symmetric piece is, turned by the first of its turns, is said with it."""

    doubled: tuple[tuple[Cut, int, float | None], ...]
    halves: tuple[tuple[Cut, float], ...]
    single: tuple[tuple[Cut, int], ...]


def folded(pieces: Iterable[Piece], cloth: str, nap: bool, room: float) -> Fold:
    """What is cut how from cloth folded to half of ``room`` mm."""
    doubled: list[tuple[Cut, int, float | None]] = []
    halves: list[tuple[Cut, float]] = []
    single: list[tuple[Cut, int]] = []
    for piece in pieces:
        count, turned = piece.counts[cloth], piece.pairs.get(cloth, 0)
        cut = cut_of(piece, cloth, False, nap)
        turn = cut.turns[0]
        lying = [path.moved(turn) for path in cut.loops]
        axis = axis_down(lying)
        wide = bounds(lying).width
        # What is its own mirror image makes a pair with itself.
        pairs = count // 2 if axis is not None else min(turned, count - turned)
        if wide > room / 2 - 2 * EDGE:
            pairs = 0
        if pairs:
            doubled.append((cut, pairs, axis))
        left = {False: count - turned - pairs, True: turned - pairs}
        if axis is not None:
            left = {False: count - 2 * pairs, True: 0}
            if left[False] % 2 and EDGE < wide / 2 <= room / 2 - EDGE:
                halves.append((cut, axis))
                left[False] -= 1
        for mirrored, rest in left.items():
            if rest > 0:
                single.append((cut_of(piece, cloth, mirrored, nap), rest))
    return Fold(tuple(doubled), tuple(halves), tuple(single))


def half(cut: Cut, axis: float) -> Part:
    """A piece that lies on the fold, as a shape on the strip beside it. What reaches less than
    ``EDGE`` from the fold counts as being there, which brings it no further from anything."""
    ways = []
    for sign in (1, -1)[: len(cut.turns)]:
        found = [path.moved(cut.turns[0] * sign, -axis * sign).points() for path in cut.loops]
        beside = [[complex(max(p.real, EDGE), p.imag) for p in loop] for loop in found]
        ways.append(Way(beside, anchored=True))
    return Part(tuple(ways), 1)


def below(cut: Cut, placed: Placed, axis: float | None, room: float) -> Placed:
    """What is cut from the ply below: the mirror image about the middle of cloth ``room`` mm wide.
    A piece with a middle line at ``axis`` is its own mirror image, and is not turned over for it.
    """
    if axis is None:
        return Placed(
            placed.piece,
            placed.turn.conjugate(),
            room + flip(placed.shift),
            not placed.mirrored,
        )
    middle = axis * (placed.turn / cut.turns[0]).real + placed.shift.real
    return Placed(placed.piece, placed.turn, placed.shift + room - 2 * middle, placed.mirrored)
