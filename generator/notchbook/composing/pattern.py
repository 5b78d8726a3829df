"""Every piece of a draft at true scale on one drawing, ready to be plotted, projected or opened
in a drawing program: rows of pieces, and two lines to check the scale by."""

from __future__ import annotations

from collections.abc import Sequence

from notchbook.composing.called import size_title
from notchbook.composing.drawing import Drawing, Group, Item, Text, moved
from notchbook.composing.lettering.placing import extent
from notchbook.composing.pieces.drawn import draw_piece
from notchbook.composing.pieces.inner import inner_key
from notchbook.composing.rulers import rulers
from notchbook.composing.setting import Setting
from notchbook.drafting.draft import Draft
from notchbook.drafting.geometry.box import Box
from notchbook.drafting.geometry.vector import Point

GAP = 20.0
"""Between pieces, and round the whole, mm."""

ROW = 1500.0
"""A row is no wider than this, unless one piece is, mm."""


def pattern(draft: Draft, setting: Setting) -> Drawing:
    """All pieces side by side, nothing over anything else, with heading and check rulers."""
    heading = _heading(draft, setting)
    seen = extent(heading, setting)
    items: list[Item] = [moved(item, shift=-seen.low) for item in heading]
    groups = [draw_piece(piece, draft, setting) for piece in draft.pieces.values()]
    boxes = [extent((group,), setting) for group in groups]
    shifts, corner = in_rows(boxes, ROW, seen.height + GAP)
    items += [moved(group, shift=shift) for group, shift in zip(groups, shifts, strict=True)]
    margin = complex(GAP, GAP)
    recipe, size = draft.recipe, size_title(draft, setting)
    return Drawing(
        Box(-margin, complex(max(seen.width, corner.real), corner.imag) + margin),
        tuple(items),
        setting.say("pattern.title", title=recipe.title, size=size),
        setting.say(
            "pattern.description", pieces=", ".join(p.title for p in draft.pieces.values())
        ),
    )


def in_rows(boxes: Sequence[Box], row: float, top: float = 0.0) -> tuple[list[Point], Point]:
    """How far each of some boxes is moved so that they stand in rows no wider than ``row`` mm (or
    than one box), ``GAP`` apart, the first row ``top`` mm down; and the bottom right corner of
    them all."""
    shifts: list[Point] = []
    left, right, bottom = 0.0, 0.0, top
    for box in boxes:
        if left and left + box.width > row:
            left, top = 0.0, bottom + GAP
        shifts.append(complex(left, top) - box.low)
        right, bottom = max(right, left + box.width), max(bottom, top + box.height)
        left += box.width + GAP
    return shifts, complex(right, bottom)


def _heading(draft: Draft, setting: Setting) -> tuple[Item, ...]:
    recipe = draft.recipe
    title = setting.say(
        "pattern.heading",
        title=recipe.title,
        size=size_title(draft, setting),
        edition=recipe.edition.number,
    )
    inside = inner_key(draft, setting)
    down = 7j * len(inside)
    return (
        Text(0, title, "name", 12.0),
        Text(9j, setting.say("pattern.lines"), "label", 4.5),
        Text(16j, setting.say("pattern.notches"), "label", 4.5),
        *(Text(23j, words, "label", 4.5) for words in inside),
        Text(26j + down, setting.say("pattern.ruler"), "strong", 4.5),
        Group(tuple(rulers(39j + down, 1, setting)), id="rulers"),
    )
