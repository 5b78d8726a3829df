"""One thing about to be put into another: both as they are before, apart, and the way it goes."""

from __future__ import annotations

from notchbook.composing.drawing import Drawing, Item, Stroke, Text, moved
from notchbook.composing.figures.board import MARGIN, bordered
from notchbook.composing.figures.legend import arrow
from notchbook.composing.figures.size import SIZE
from notchbook.composing.lettering.paragraph import wrapped
from notchbook.composing.lettering.placing import extent
from notchbook.composing.pieces.text import cloth_word
from notchbook.composing.setting import Setting
from notchbook.composing.solids.assembly import Solid
from notchbook.composing.solids.ink import inked
from notchbook.composing.solids.view import View
from notchbook.drafting.draft import Draft
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
    draft: Draft, one: Solid, rest: Solid, up: bool, view: View, setting: Setting
) -> Drawing:
    """``one``, to be slipped ``up`` or down, below or above what it goes to."""
    boxes = [box_round([view.seen(p)[0] for p in solid.points]) for solid in (one, rest)]
    wide = max(box.high.real for box in boxes) - min(box.low.real for box in boxes)
    high = sum(box.height for box in boxes)
    scale = min(_ROOM.real / wide, (_ROOM.imag - _GAP) / high, 1.0)
    stacked = [(rest, boxes[1]), (one, boxes[0])] if up else [(one, boxes[0]), (rest, boxes[1])]
    items: list[Item] = []
    side = max(box.high.real for box in boxes) * scale + 4.0
    y = 0.0
    for solid, box in stacked:
        strokes: list[Stroke] = inked(solid, view, scale)
        shift = complex(0, y - box.low.imag * scale)
        items += [moved(stroke, shift=shift) for stroke in strokes]
        middle = y + box.height * scale / 2
        rows = [
            row for name in _names(draft, solid) for row in wrapped(name, _WORDS, SIZE, setting)
        ]
        for k, row in enumerate(rows):
            at = complex(side, middle + SIZE * (0.35 + 1.4 * (k - (len(rows) - 1) / 2)))
            items.append(Text(at, row, "label", SIZE))
        y += box.height * scale + _GAP
    tail = stacked[0][1].height * scale + 2.0
    ends = complex(0, tail), complex(0, tail + _GAP - 4.0)
    items += arrow(*(ends[::-1] if up else ends), 3.4)
    margins = complex(max(MARGIN, (_WIDE - extent(items, setting).width) / 2), MARGIN)
    words = ["; ".join(_said(draft, solid, setting)) for solid in (one, rest)]
    way = "up" if up else "down"
    title = setting.say(f"solid.alt.slipped.{way}", one=words[0], rest=words[1])
    return bordered(items, title, setting, margins)


def _names(draft: Draft, solid: Solid) -> list[str]:
    """Its pieces, each with its cloth."""
    plies = [part.ply for part in solid.parts]
    return [f"{draft.pieces[name].title}, {cloth_word(cloth)}" for name, cloth in plies]


def _said(draft: Draft, solid: Solid, setting: Setting) -> list[str]:
    return [
        setting.say("layers.layer", piece=draft.pieces[name].title, cloth=cloth_word(cloth))
        for name, cloth in (part.ply for part in solid.parts)
    ]
