"""A drawing board: what is drawn so far, and the places left for words and callouts."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from itertools import chain
from operator import itemgetter

from notchbook.composing.drawing import Drawing, Fill, Item, Stroke, Text
from notchbook.composing.figures.size import HIGHEST, SIZE, WIDEST
from notchbook.composing.lettering.paragraph import wrapped
from notchbook.composing.lettering.placing import (
    Lines,
    Tile,
    Wall,
    clear,
    extent,
    nearest_on,
    text_tile,
    touches,
    walls,
)
from notchbook.composing.lettering.room import Room, room
from notchbook.composing.pieces.arrows import arrowhead
from notchbook.composing.pieces.text import Label, Run
from notchbook.composing.setting import Setting
from notchbook.composing.symbols import TYPES
from notchbook.drafting.geometry.box import Box
from notchbook.drafting.geometry.path import polyline
from notchbook.drafting.geometry.polygon import box_round
from notchbook.drafting.geometry.vector import Point, dot, unit

LONGEST = 46.0
"""No row of a callout is longer, mm, unless a single word is."""

MARGIN = 2.0
"""Round a figure, mm."""

MARGINS = complex(MARGIN, MARGIN)
"""The same across and down."""

HEAD = 2.2
"""Length of a dimension's arrowhead, mm."""


@dataclass(slots=True)
class Board:
    """Items in the order they are drawn; ``lines`` are all their strokes, ``rules`` those that a
    leader may not cross either, ``fences`` those it may end at but not pass, ``tiles`` the boxes
    of all type."""

    setting: Setting
    items: list[Item] = field(default_factory=list)
    lines: Lines = field(default_factory=Lines)
    rules: Lines = field(default_factory=Lines)
    fences: Lines = field(default_factory=Lines)
    tiles: list[Tile] = field(default_factory=list)
    _boxed: tuple[tuple[Point, ...], int, int] = ((), 0, 0)
    """The corners of the box round so many of the tiles and lines."""
    _rooms: dict[Box, tuple[Room, int, int]] = field(default_factory=dict)
    """What so many of the tiles and lines leave of a region."""

    def add(self, *items: Item, rule: bool = False) -> None:
        """Draw items."""
        for item in items:
            self.items.append(item)
            if isinstance(item, Text):
                self.tiles.append(text_tile(item, self.setting).grown(0.7))
            elif isinstance(item, Stroke | Fill):
                found = walls(item.paths, 0.1)
                self.lines.add(found)
                if rule:
                    self.rules.add(found)

    def write(self, choices: Iterable[Text]) -> bool:
        """Write the first of some texts that touches nothing; whether there is one."""
        for text in choices:
            if clear(text_tile(text, self.setting).grown(0.4), self.lines, self.tiles):
                self.add(text)
                return True
        return False

    def box(self) -> Box:
        """The box round everything."""
        known, tiles, lines = self._boxed
        corners = [corner for tile in self.tiles[tiles:] for corner in tile.grown(-0.7).corners]
        walls = self.lines.walls[lines:]
        box = box_round([*known, *corners, *(point for wall in walls for point in wall)])
        self._boxed = (box.low, box.high), len(self.tiles), len(self.lines.walls)
        return box

    def room(self, region: Box) -> Room:
        """The room in a region that nothing drawn touches."""
        if region in self._rooms:
            free, tiles, lines = self._rooms[region]
            free = free.without(self.lines.walls[lines:], self.tiles[tiles:])
        else:
            frame = Tile(region.centre, region.width, region.height).sides
            free = room(frame, self.lines.near(region), self.tiles, cell=1.5)
        self._rooms[region] = free, len(self.tiles), len(self.lines.walls)
        return free


def fitting(boards: Iterable[Board]) -> Board:
    """The first of some boards that is no larger than a figure may be, or else the last."""
    for board in boards:
        box = board.box()
        if box.width + 2 * MARGIN <= WIDEST and box.height + 2 * MARGIN <= HIGHEST:
            break
    return board


def framed(board: Board, title: str) -> Drawing:
    """What is on a board as a figure."""
    return _within(board.box(), board.items, title, MARGINS)


def bordered(
    items: Sequence[Item], title: str, setting: Setting, margins: complex = MARGINS
) -> Drawing:
    """Items as a figure, with so much to both sides of them, and above and below."""
    return _within(extent(items, setting), items, title, margins)


def _within(box: Box, items: Sequence[Item], title: str, margins: complex) -> Drawing:
    return Drawing(Box(box.low - margins, box.high + margins), tuple(items), title)


def callout(
    board: Board,
    block: Label,
    anchors: Sequence[tuple[Point, complex]],
    region: Box,
    most: float = 60.0,
    *,
    crossing: bool = False,
    over: bool = False,
) -> bool:
    """A block of words with a leader to one of ``anchors`` (points with the direction away from
    the cloth), as near as room allows; whether there was room within ``most`` mm. The leader
    crosses no other rule and no words, or with ``crossing`` as few as it can; ``over`` fences it
    may go."""
    width, height = block.width(board.setting), block.height
    spots = board.room(region).spots(width, height, 0.8)
    half = complex(width, height) / 2
    grown = Tile(0, width, height).grown(0.6)
    seen = board.box()
    ceiling, floor = seen.low.imag, seen.high.imag
    found: list[tuple[float, int, Point, Point, Point]] = []
    for rank, (anchor, out) in enumerate(anchors):
        reach = 5.0 + abs(out.real) * half.real + abs(out.imag) * half.imag
        near = (spots.centres(anchor + way * reach, 12) for way in (out, -out))
        # What is near on both sides is the same place.
        for centre in dict.fromkeys(chain.from_iterable(near)):
            foot = centre + nearest_on(grown, anchor - centre)
            lead = anchor - foot
            far = abs(lead)
            if not 2.5 < far < most:
                continue
            # Height is what a figure has least of.
            top, low = centre.imag - half.imag, centre.imag + half.imag
            higher = max(ceiling - top, low - floor, 0.0)
            slant = 1 - abs(dot(lead / far, out))
            cost = far + rank + 2 * higher + 6 * slant
            found.append((cost, len(found), centre, foot, anchor))
    found.sort(key=itemgetter(0, 1))
    best = next((place for place in found if not _crosses(board, place[3], place[4], over)), None)
    if found and crossing and not best:
        best = min(found, key=lambda place: len(list(_crossed(board, place[3], place[4], over))))
    if best:
        _, _, centre, foot, anchor = best
        _lead(board, block, Tile(centre, width, height), foot, anchor)
    return best is not None


def callout_aside(board: Board, block: Label, anchors: Sequence[tuple[Point, complex]]) -> None:
    """A callout for which there is no room anywhere near: in a column to the right of what is
    drawn, as long as need be. Its leader may have to cross others."""
    box = board.box()
    tall = block.height + 4
    while True:
        column = Box(
            complex(box.high.real + 3, box.low.imag - tall),
            box.high + complex(block.width(board.setting) + 8, tall),
        )
        if callout(board, block, anchors, column, math.inf, crossing=True):
            return
        tall *= 2


def _lead(board: Board, block: Label, tile: Tile, foot: Point, anchor: Point) -> None:
    """Words and a line from them to what they are about."""
    along = unit(anchor - foot)
    board.add(*block.items(tile, board.setting))
    board.add(
        Stroke((polyline(foot, anchor - along * HEAD * 0.6),), "leader"),
        Fill((arrowhead(anchor, along, HEAD * 0.8),), "ink"),
        rule=True,
    )


def label(setting: Setting, *rows: tuple[str, str], longest: float = LONGEST) -> Label:
    """A block of texts below each other, as (words, role); those longer than ``longest`` mm take
    several rows."""
    return Label(
        tuple(
            (Run(part, role, SIZE),)
            for words, role in rows
            for part in wrapped(words, longest, SIZE, setting, TYPES[role].weight)
        )
    )


def _crosses(board: Board, foot: Point, anchor: Point, over: bool) -> bool:
    """Whether a leader runs into anything."""
    return any(True for _ in _crossed(board, foot, anchor, over))


def _crossed(board: Board, foot: Point, anchor: Point, over: bool) -> Iterator[Tile | Wall]:
    """The words and rules a leader runs into; rules first, of which there are most."""
    wall = (foot, anchor)
    yield from board.rules.crossed(wall)
    if not over:
        yield from board.fences.crossed((foot, anchor + unit(foot - anchor) * 0.4))
    yield from (tile for tile in board.tiles if touches(tile, wall))
