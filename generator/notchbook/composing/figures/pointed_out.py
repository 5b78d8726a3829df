"""Pieces of a solid pointed out by their names, each where most of it is seen."""

from __future__ import annotations

from collections.abc import Collection

from notchbook.composing.drawing import Text
from notchbook.composing.figures.board import Board, callout_aside, label
from notchbook.composing.figures.size import SIZE
from notchbook.composing.solids.assembly import Solid
from notchbook.composing.solids.ink import scene_of
from notchbook.composing.solids.view import View
from notchbook.drafting.draft import Draft
from notchbook.drafting.geometry.path import Point
from notchbook.drafting.geometry.polygon import box_round

_STEP = 2.5
"""How finely it is searched, mm on the page."""

_LEAST, _TRIED = 8, 12
"""How many places a side is seen at if it is named, and how many its name is tried at."""


def point_out(
    board: Board,
    draft: Draft,
    solid: Solid,
    named: Collection[str],
    view: View,
    scale: float,
    shift: complex,
) -> None:
    """The names of some pieces, on each side of them that is seen, where most of it is; to the
    right of the solid, with a leader, where there is no room. What is not seen is left out."""
    seen = _seen(solid, view, scale) if named else {}
    for name, facing in ((name, facing) for name in named for facing in (True, False)):
        own = [p for p, found in seen.items() if found == (name, facing)]
        others = [p for p, found in seen.items() if found != (name, facing)]
        if len(own) < _LEAST:
            continue
        room = {p: min(abs(p - q) for q in others) for p in own}
        best = sorted(own, key=lambda p: -room[p])[:_TRIED]
        words = draft.pieces[name].title
        middles = (p + shift + SIZE * 0.35j for p in best)
        if not board.write(Text(at, words, "label", SIZE, "middle") for at in middles):
            block = label(board.setting, (words, "label"), longest=30.0)
            callout_aside(board, block, [(best[0] + shift, 1 + 0j)])


def _seen(solid: Solid, view: View, scale: float) -> dict[Point, tuple[str, bool] | None]:
    """Which side of which piece is seen at places all over a solid, and round it."""
    scene = scene_of(solid, view)
    box = box_round([view.seen(p)[0] * scale for p in solid.points])
    found: dict[Point, tuple[str, bool] | None] = {}
    for row in range(-1, int(box.height / _STEP) + 2):
        for column in range(-1, int(box.width / _STEP) + 2):
            at = box.low + complex(column, row) * _STEP
            part = scene.uppermost(at / scale)
            found[at] = (solid.parts[part[0]].ply[0], part[1]) if part else None
    return found
