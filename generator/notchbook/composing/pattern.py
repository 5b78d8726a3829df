"""Every piece of a draft at true scale on one drawing, ready to be plotted, projected or opened
in a drawing program: rows of pieces, and two lines to check the scale by."""

from __future__ import annotations

from notchbook.composing.drawing import Drawing, Group, Item, Stroke, Text, moved
from notchbook.composing.piece_drawing import draw_piece
from notchbook.composing.placing import extent
from notchbook.composing.setting import Setting
from notchbook.drafting.draft import Draft
from notchbook.drafting.geometry.path import Box, Path, Point, polyline

GAP = 20.0
"""Between pieces, and round the whole, mm."""

ROW = 1500.0
"""A row is no wider than this, unless one piece is, mm."""

INCH = 25.4


def pattern(draft: Draft, setting: Setting) -> Drawing:
    """All pieces side by side, nothing over anything else, with heading and check rulers."""
    heading = _heading(draft, setting)
    seen = extent(heading, setting)
    items: list[Item] = [moved(item, shift=-seen.low) for item in heading]
    right, top = seen.width, seen.height + GAP
    left, bottom = 0.0, top
    for piece in draft.pieces.values():
        group = draw_piece(piece, draft, setting)
        box = extent((group,), setting)
        if left and left + box.width > ROW:
            left, top = 0.0, bottom + GAP
        items.append(moved(group, shift=complex(left, top) - box.low))
        right, bottom = max(right, left + box.width), max(bottom, top + box.height)
        left += box.width + GAP
    margin = complex(GAP, GAP)
    recipe, size = draft.recipe, draft.size.title
    return Drawing(
        Box(-margin, complex(right, bottom) + margin),
        tuple(items),
        setting.say("pattern.title", title=recipe.title, size=size),
        setting.say(
            "pattern.description", pieces=", ".join(p.title for p in draft.pieces.values())
        ),
    )


def _heading(draft: Draft, setting: Setting) -> tuple[Item, ...]:
    recipe = draft.recipe
    title = setting.say(
        "pattern.heading",
        title=recipe.title,
        size=draft.size.title,
        edition=recipe.edition.number,
    )
    return (
        Text(0, title, "name", 12.0),
        Text(9j, setting.say("pattern.lines"), "label", 4.5),
        Text(19j, setting.say("pattern.ruler"), "strong", 4.5),
        *rulers(25j, setting),
    )


def rulers(at: Point, setting: Setting) -> tuple[Item, ...]:
    """Two check rulers, 150 mm and 5 in: unlike 100 mm and 4 in, nobody takes one for the other."""
    metric = _ruler(at, [10.0 * k for k in range(16)], 5)
    inch = _ruler(at + 16j, [INCH / 4 * k for k in range(21)], 4)
    return (
        Group(
            (
                metric,
                Text(at + 154 + 4.5j, setting.say("pattern.ruler.metric"), "strong", 4.5),
                inch,
                Text(at + 5 * INCH + 4 + 20.5j, setting.say("pattern.ruler.inch"), "strong", 4.5),
            ),
            id="rulers",
        ),
    )


def _ruler(at: Point, marks: list[float], every: int) -> Stroke:
    """A baseline with marks hanging from it, every ``every``-th one long."""
    paths: list[Path] = [polyline(at, at + marks[-1])]
    paths += [
        polyline(at + mark, at + mark + (6j if k % every == 0 else 3j))
        for k, mark in enumerate(marks)
    ]
    return Stroke(tuple(paths), "ruler")
