"""One thing about to be put into another: both as they are before, apart, and the way it goes."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from notchbook.composing.drawing import Drawing, Item, Stroke, Text, moved
from notchbook.composing.figures.board import MARGIN, Board, bordered
from notchbook.composing.figures.legend import arrow, legend
from notchbook.composing.figures.size import SIZE
from notchbook.composing.lettering.paragraph import wrapped
from notchbook.composing.lettering.placing import Lines, clear, extent, text_tile, walls
from notchbook.composing.names import plain
from notchbook.composing.setting import Setting
from notchbook.composing.solids.assembly import Ply, Solid, joint_of
from notchbook.composing.solids.ink import inked, scene_of
from notchbook.composing.solids.sides import hanging, hatched, is_flat, middle_of
from notchbook.composing.solids.view import SLACK, Scene, View
from notchbook.drafting.draft import Draft, Seam
from notchbook.drafting.geometry.develop import Point3
from notchbook.drafting.geometry.path import polyline
from notchbook.drafting.geometry.polygon import box_round

_ROOM = complex(58, 58)
"""What is drawn takes no more, mm: its words stand beside it."""
_GAP = 10.0
"""Between the two, mm, with the arrow in it."""
_WIDE = 96.0
"""What is narrower has a margin: a page as wide as a phone would enlarge it."""
_WORDS = 34.0
"""Rows of words are no longer, mm."""


def draw_slipped(
    draft: Draft,
    pair: tuple[Solid, Solid],
    up: bool,
    joined: Iterable[Seam],
    wrong: frozenset[Ply] | None,
    view: View,
    setting: Setting,
) -> Drawing:
    """The first of a pair, to be slipped ``up`` or down, below or above what it goes to; marks 0 at
    the edges that are ``joined``. What is ``wrong`` side out is hatched, if that is known."""
    one, rest = pair
    boxes = [box_round([p for p, _ in view.all_seen(solid.points)]) for solid in (one, rest)]
    wide = max(box.high.real for box in boxes) - min(box.low.real for box in boxes)
    high = sum(box.height for box in boxes)
    scale = min(_ROOM.real / wide, (_ROOM.imag - _GAP) / high, 1.0)
    stacked = [(rest, boxes[1]), (one, boxes[0])] if up else [(one, boxes[0]), (rest, boxes[1])]
    items: list[Item] = []
    side = max(box.high.real for box in boxes) * scale + 4.0
    whole = middle_of(pair)
    sides = {id(solid): _side(solid, wrong, whole, setting) for solid in pair}
    y = 0.0
    for solid, box in stacked:
        scene = scene_of(solid, view)
        strokes: list[Stroke] = inked(solid, scene, scale)
        own: list[Item] = [*strokes]
        if wrong is not None:
            zero = _zero(draft, solid, joined, scene, scale, strokes, setting)
            words = [item.at - SIZE * 0.3j for item in zero if isinstance(item, Text)]
            turned = hanging(solid, wrong)
            own = [*hatched(solid, scene, scale, turned, whole, words), *strokes, *zero]
        shift = complex(0, y - box.low.imag * scale)
        items += [moved(item, shift=shift) for item in own]
        middle = y + box.height * scale / 2
        names = [*_names(draft, solid), *sides[id(solid)]]
        rows = [row for name in names for row in wrapped(name, _WORDS, SIZE, setting)]
        for k, row in enumerate(rows):
            at = complex(side, middle + SIZE * (0.35 + 1.4 * (k - (len(rows) - 1) / 2)))
            items.append(Text(at, row, "label", SIZE))
        y += box.height * scale + _GAP
    tail = stacked[0][1].height * scale + 2.0
    ends = complex(0, tail), complex(0, tail + _GAP - 4.0)
    items += arrow(*(ends[::-1] if up else ends), 3.4)
    if wrong is not None:
        items = with_key(items, setting)
    margins = complex(max(MARGIN, (_WIDE - extent(items, setting).width) / 2), MARGIN)
    told = ["; ".join([*_said(draft, solid, setting), *sides[id(solid)]]) for solid in (one, rest)]
    way = "up" if up else "down"
    title = setting.say(f"solid.alt.slipped.{way}", one=told[0], rest=told[1])
    return bordered(items, title, setting, margins)


def with_key(items: Sequence[Item], setting: Setting) -> list[Item]:
    """Items with the key of the two sides of cloth below them."""
    board = Board(setting)
    board.add(*items)
    legend(
        board,
        [(f"{side}-side", setting.say(f"layers.key.{side}")) for side in ("wrong", "right")],
    )
    return board.items


def _side(
    solid: Solid, wrong: frozenset[Ply] | None, middle: Point3, setting: Setting
) -> list[str]:
    """Which side is out; of what lies flat, which is up."""
    if wrong is None:
        return []
    turned = bool(hanging(solid, wrong))
    if not is_flat(solid):
        return [setting.say(f"solid.out.{'wrong' if turned else 'right'}")]
    over = next(solid.points)[2] > middle[2]
    return [setting.say(f"solid.up.{'wrong' if turned == over else 'right'}")]


def _zero(
    draft: Draft,
    solid: Solid,
    joined: Iterable[Seam],
    scene: Scene,
    scale: float,
    strokes: Iterable[Stroke],
    setting: Setting,
) -> list[Item]:
    """The double notch at the start of a round edge that is about to be joined, where it is seen
    and there is room: it stands off the cloth, or else on it."""
    view = scene.view
    lines = Lines.of(walls([path for stroke in strokes for path in stroke.paths]))
    middle = box_round([p for p, _ in view.all_seen(solid.points)]).centre
    there = {part.ply: part.surfaces[0] for part in solid.parts if not part.inner}
    for seam in joined:
        for ply, edge in (joint_of(name, draft) for side in seam.sides for name in side):
            line = there[ply].edges.get(edge) if ply in there else None
            if line is None or len(line) < 4 or math.dist(line[0], line[-1]) > 1e-6:
                continue
            at, near = view.seen(line[0])
            if scene.nearest(at, frozenset(range(len(solid.parts))), SLACK, near):
                continue
            out = -1 if at.imag < middle.imag else 1
            for away in (out, -out):
                word = at * scale + away * (2.4 + SIZE * 0.5) * 1j + SIZE * 0.3j
                text = Text(word, "0", "number", SIZE, "middle")
                if clear(text_tile(text, setting).grown(0.4), lines, ()):
                    feet = [at * scale + shift for shift in (-0.7, 0.7)]
                    ticks = tuple(polyline(foot, foot + away * 1.8j) for foot in feet)
                    return [Stroke(ticks, "notch"), text]
    return []


def _names(draft: Draft, solid: Solid) -> list[str]:
    """Its pieces, each with its cloth."""
    plies = [part.ply for part in solid.parts]
    return [f"{draft.pieces[name].title}, {plain(cloth)}" for name, cloth in plies]


def _said(draft: Draft, solid: Solid, setting: Setting) -> list[str]:
    return [
        setting.say("layers.layer", piece=draft.pieces[name].title, cloth=plain(cloth))
        for name, cloth in (part.ply for part in solid.parts)
    ]
