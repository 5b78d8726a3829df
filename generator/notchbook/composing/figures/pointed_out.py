"""Pieces of a solid pointed out by their names, each where most of it is seen."""

from __future__ import annotations

from collections.abc import Collection

from notchbook.composing.drawing import Text
from notchbook.composing.figures.board import Board, callout_aside, label
from notchbook.composing.figures.size import SIZE
from notchbook.composing.solids.assembly import Solid
from notchbook.composing.solids.view import Scene
from notchbook.drafting.draft import Draft
from notchbook.drafting.geometry.polygon import box_round
from notchbook.drafting.geometry.vector import Point

_STEP = 2.5
"""How finely it is searched, mm on the page."""

_BESIDE = (1, 1 + 1j, 1j, -1 + 1j, -1, -1 - 1j, -1j, 1 - 1j)

_LEAST, _TRIED = 8, 12
"""How many places a side is seen at if it is named, and how many its name is tried at."""


def point_out(
    board: Board,
    draft: Draft,
    solid: Solid,
    named: Collection[str],
    scene: Scene,
    scale: float,
    shift: complex,
) -> None:
    """The names of some pieces, on each side of them that is seen, where most of it is; to the
    right of the solid, with a leader, where there is no room. What is not seen is left out."""
    low, seen = _seen(solid, scene, scale) if named else (0j, {})
    for name, facing in ((name, facing) for name in named for facing in (True, False)):
        within = dict.fromkeys(step for step, found in seen.items() if found == (name, facing))
        if len(within) < _LEAST:
            continue
        # Of all others, one of these is nearest.
        round_it = {step + by for step in within for by in _BESIDE} - within.keys()
        own, others = ([low + step * _STEP for step in steps] for steps in (within, round_it))
        room = {p: min(abs(p - q) for q in others) for p in own}
        best = sorted(own, key=lambda p: -room[p])[:_TRIED]
        words = draft.pieces[name].title
        middles = (p + shift + SIZE * 0.35j for p in best)
        if not board.write(Text(at, words, "label", SIZE, "middle") for at in middles):
            block = label(board.setting, (words, "label"), longest=30.0)
            callout_aside(board, block, [(best[0] + shift, 1 + 0j)])


def _seen(
    solid: Solid, scene: Scene, scale: float
) -> tuple[Point, dict[complex, tuple[str, bool] | None]]:
    """Which side of which piece is seen at places all over a solid, and round it: by how many steps
    they are to the right of a point and below it."""
    box = box_round([p * scale for p, _ in scene.view.all_seen(solid.points)])
    found: dict[complex, tuple[str, bool] | None] = {}
    for row in range(-1, int(box.height / _STEP) + 2):
        for column in range(-1, int(box.width / _STEP) + 2):
            step = complex(column, row)
            part = scene.uppermost((box.low + step * _STEP) / scale)
            found[step] = (solid.parts[part[0]].ply[0], part[1]) if part else None
    return box.low, found
