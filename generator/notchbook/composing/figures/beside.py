"""Words on the right of a drawing, each with a leader to the height of what it is about."""

from __future__ import annotations

import math
from collections.abc import Sequence

from notchbook.composing.drawing import Stroke
from notchbook.composing.figures.board import Board, label
from notchbook.composing.lettering.placing import Tile
from notchbook.drafting.geometry.path import polyline
from notchbook.drafting.geometry.vector import Point

_APART = 2.6
"""Between the words of one thing and those of the next, mm: more than between two rows of one."""


def words_beside(
    board: Board, named: Sequence[tuple[Point, str]], right: float, longest: float
) -> None:
    """Words in a column from ``right`` on, mm, none on another, with a leader from each to its
    point. No row of them is longer than ``longest``."""
    rows = sorted(named, key=lambda each: each[0].imag)
    blocks = [(at, label(board.setting, (words, "label"), longest=longest)) for at, words in rows]
    levels: list[float] = []
    foot = -math.inf
    for at, block in blocks:
        levels.append(max(at.imag, foot + _APART + block.height / 2))
        foot = levels[-1] + block.height / 2
    # As much above their points as below them.
    apart = [level - at.imag for level, (at, _) in zip(levels, blocks, strict=True)]
    off = sum(apart) / len(apart) if apart else 0.0
    for level, (at, block) in zip(levels, blocks, strict=True):
        wide = block.width(board.setting)
        board.add(Stroke((polyline(at, complex(right + 4.8, level - off)),), "leader"))
        tile = Tile(complex(right + 5.5 + wide / 2, level - off), wide, block.height)
        board.add(*block.items(tile, board.setting))
