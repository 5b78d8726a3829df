"""Where the sheets go: a map of them, and a list of the sheets of each piece and the diagonals."""

from __future__ import annotations

from collections.abc import Iterator

from notchbook.composing import numbers
from notchbook.composing.drawing import Fill, Group, Item, Stroke, Text
from notchbook.composing.lettering.placing import Lines, Tile, walls
from notchbook.composing.lettering.room import room
from notchbook.composing.pairs import both
from notchbook.composing.rulers import centred
from notchbook.composing.setting import Setting
from notchbook.composing.sheets.taping import Plan
from notchbook.composing.symbols import SMALLEST
from notchbook.drafting.draft import Draft
from notchbook.drafting.geometry.box import Box, bounds
from notchbook.drafting.geometry.path import Path, polyline
from notchbook.drafting.geometry.polygon import box_round

_LARGEST = 0.2
"""Of its true size, a map shows no more than this."""

_FINE = 0.01
"""How far chords may stray from a curve as it is drawn, mm."""


def guide_rows(draft: Draft, made: Plan, setting: Setting) -> list[str]:
    """The sheets of each piece, then the diagonals, in words."""
    pieces = [sheets_of(made, name, piece.title, setting) for name, piece in draft.pieces.items()]
    return [*pieces, *_diagonals(made, setting)]


def guide_map(made: Plan, within: Box, setting: Setting) -> list[Item]:
    """The map of the sheets as sheet 1 has it, its title's baseline at the box's top. Nothing
    where that is too small for its numbers to be read."""
    mapped = sheet_map(made, Box(within.low + 4j, within.high), 3.4, SMALLEST, setting)
    if not mapped:
        return []
    title = Text(within.low, setting.say("cover.map"), "name", 4.4)
    return [title, Group(tuple(mapped), id="map")]


def sheet_map(
    made: Plan, within: Box, largest: float, least: float, setting: Setting, only: str = ""
) -> list[Item]:
    """A small plan of the sheets with the pieces on them, in the upper left corner of a box, or
    of the sheets that carry ``only`` one piece, with that. Its numbers are ``largest`` mm high, or
    lower down to ``least`` where sheets are so small; below that there is nothing."""
    cells = [cell for cell in made.numbers if not only or only in made.carries[cell]]
    shown = Box(0, complex(made.columns * made.width, made.rows * made.height))
    if only:
        shown = box_round([corner for cell in cells for corner in made.box(cell).corners])
    scale = min(within.width / shown.width, within.height / shown.height, _LARGEST)
    size = min(largest, made.height * scale * 0.7)
    if size < least:
        return []

    def small(path: Path) -> Path:
        points = path.points(_FINE / scale)
        return polyline(*(within.low + (point - shown.low) * scale for point in points))

    outlines = tuple(
        small(loop.moved(placed.turn, placed.shift))
        for placed in made.placed
        for region in made.regions[placed.piece]
        for loop in region
        if only in ("", placed.piece)
    )
    frames = tuple(small(_rectangle(made.box(cell))) for cell in cells)
    items: list[Item] = [Stroke(frames, "leader"), Stroke(outlines, "layer")]
    lines = Lines.of(walls(outlines, 0.1))
    for cell, frame in zip(cells, frames, strict=True):
        items += _number(str(made.numbers[cell]), bounds([frame]), (size, least), lines, setting)
    return items


def _number(
    number: str, frame: Box, sizes: tuple[float, float], lines: Lines, setting: Setting
) -> Iterator[Item]:
    """A sheet's number as near to its middle as no outline comes, as large as it can be there, or
    else on white."""
    free = room(Tile(frame.centre, frame.width, frame.height).sides, lines.near(frame), cell=0.3)
    for size in sizes:
        wide = setting.width(number, size, 700)
        spot = free.spots(wide, size * 1.1, 0.3).nearest(frame.centre)
        if spot:
            yield centred(spot.centre, number, "name", size)
            return
    half = complex(wide / 2 + 0.5, size / 2)
    yield Fill((_rectangle(Box(frame.centre - half, frame.centre + half)),), "paper")
    yield centred(frame.centre, number, "name", size)


def sheets_of(made: Plan, name: str, title: str, setting: Setting) -> str:
    """The sheets of one piece, in words."""
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


def _rectangle(box: Box) -> Path:
    return polyline(*box.corners, box.low)
