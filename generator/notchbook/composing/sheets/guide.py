"""Where the sheets go: a map of them, and a list of the sheets of each piece and the diagonals."""

from __future__ import annotations

from notchbook.composing import numbers
from notchbook.composing.drawing import Fill, Group, Item, Stroke, Text
from notchbook.composing.pairs import both
from notchbook.composing.rulers import centred
from notchbook.composing.setting import Setting
from notchbook.composing.sheets.taping import Plan
from notchbook.composing.symbols import SMALLEST
from notchbook.drafting.draft import Draft
from notchbook.drafting.geometry.path import Box, Path, Point, polyline

_LARGEST = 0.2
"""Of its true size, a map shows no more than this."""


def guide_rows(draft: Draft, made: Plan, setting: Setting) -> list[str]:
    """The sheets of each piece, then the diagonals, in words."""
    pieces = [_sheets_of(made, name, piece.title, setting) for name, piece in draft.pieces.items()]
    return [*pieces, *_diagonals(made, setting)]


def guide_map(made: Plan, room: Box, setting: Setting) -> list[Item]:
    """A small plan of the sheets with the pieces on them, its title's baseline at the room's top.
    Nothing where the room is too small for its numbers to be read."""
    corner = room.low + 4j
    scale = min(
        room.width / (made.columns * made.width),
        (room.high - corner).imag / (made.rows * made.height),
        _LARGEST,
    )
    size = min(3.4, made.height * scale * 0.7)
    if size < SMALLEST:
        return []

    def small(path: Path) -> Path:
        return polyline(*(corner + point * scale for point in path.points(1.0)))

    outlines = tuple(
        small(loop.moved(placed.turn, placed.shift))
        for placed in made.placed
        for region in made.regions[placed.piece]
        for loop in region
    )
    frames = tuple(_frame(made.box(cell), corner, scale) for cell in made.numbers)
    items: list[Item] = [
        Text(room.low, setting.say("cover.map"), "name", 4.4),
        Group((Stroke(frames, "leader"), Stroke(outlines, "layer")), id="map"),
    ]
    for cell, number in made.numbers.items():
        centre = corner + made.box(cell).centre * scale
        half = complex(setting.width(str(number), size, 700) / 2 + 0.5, size / 2)
        items.append(Fill((_rectangle(Box(centre - half, centre + half)),), "paper"))
        items.append(centred(centre, str(number), "name", size))
    return items


def _sheets_of(made: Plan, name: str, title: str, setting: Setting) -> str:
    found = made.sheets_of(name)
    listed = ", ".join(str(number) for number in found)
    return setting.say_count("cover.list", len(found), piece=title, sheets=listed)


def _diagonals(made: Plan, setting: Setting) -> list[str]:
    if not made.diagonals:
        return []
    each = [
        setting.say(
            "cover.tape.diagonal",
            number=diagonal.number,
            first=made.numbers[diagonal.ends[0][0]],
            last=made.numbers[diagonal.ends[1][0]],
            length=both(numbers.radius(diagonal.length), setting),
        )
        for diagonal in made.diagonals
    ]
    return [setting.say("cover.tape.diagonals"), *each]


def _frame(box: Box, corner: Point, scale: float) -> Path:
    return _rectangle(Box(corner + box.low * scale, corner + box.high * scale))


def _rectangle(box: Box) -> Path:
    low, high = box.low, box.high
    right, left = complex(high.real, low.imag), complex(low.real, high.imag)
    return polyline(low, right, high, left, low)
