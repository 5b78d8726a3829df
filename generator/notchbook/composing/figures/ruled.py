"""Dimension lines and radii on a drawing board, with their numbers."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import product

from notchbook.composing.drawing import Fill, Stroke, Text
from notchbook.composing.figures.board import HEAD, Board
from notchbook.composing.figures.size import SIZE
from notchbook.composing.lettering.placing import Lines, clear, text_tile, touches, walls
from notchbook.composing.numbers import Pair
from notchbook.composing.pairs import both, ordered
from notchbook.composing.pieces.arrows import arrowhead
from notchbook.composing.pieces.words import reads, upright
from notchbook.composing.setting import Setting
from notchbook.drafting.geometry.path import polyline
from notchbook.drafting.geometry.vector import Point, unit

_SHORT = 3.6 * HEAD
"""The arrowheads of a dimension shorter than this point at it from outside, mm."""

_TAIL = 5.0
"""How far its line goes on there, mm."""

_BREAK = 5.0
"""What a break takes of a line, mm."""


def dimension(
    board: Board,
    a: Point,
    b: Point,
    words: Pair,
    away: complex,
    *,
    extend: Sequence[Point] = (),
    free: bool = False,
) -> bool:
    """A dimension line from ``a`` to ``b`` with its number on the side of ``away``, and extension
    lines to the points it measures; whether there was room for all of it. A ``free`` one crosses
    nothing that is drawn."""
    along = unit(b - a)
    strokes = [polyline(a, b)]
    for end, foot in zip((a, b), extend, strict=False):
        if abs(end - foot) < 1e-6:
            continue  # The line ends on the point it measures.
        out = unit(end - foot)
        strokes.append(polyline(foot + out * 0.8, end + out * 1.2))
    if any(touches(tile, wall) for wall in walls(strokes) for tile in board.tiles):
        return False
    if free and board.lines.cross((a, b)):
        return False
    heads = [arrowhead(a, -along, HEAD), arrowhead(b, along, HEAD)]
    if abs(b - a) < _SHORT:
        heads = [arrowhead(a, along, HEAD), arrowhead(b, -along, HEAD)]
        strokes += [polyline(a - along * _TAIL, a), polyline(b, b + along * _TAIL)]
    own = Lines.of(walls(strokes[1:]))
    for choice in _on_line(a, b, words, away, board.setting):
        tiles = [text_tile(text, board.setting).grown(0.3) for text in choice]
        if all(clear(tile, board.lines, board.tiles) and clear(tile, own, ()) for tile in tiles):
            board.add(*(Stroke((stroke,), "dimension") for stroke in strokes), rule=True)
            board.add(Fill(tuple(heads), "ink"), rule=True)
            board.add(*choice)
            return True
    return False


def radial(board: Board, centre: Point, tip: Point, words: str) -> bool:
    """A radius with its number along it and an arrowhead at ``tip``; whether there was room. It
    starts at the centre where that lies within what is drawn, and otherwise at a break in the line,
    nearer: a centre far off takes no room."""
    along = unit(tip - centre)
    need = board.setting.width(words, SIZE) + HEAD + 3
    broken = not board.box().holds(centre)
    reach = min(abs(tip - centre), need + _BREAK + 1) if broken else abs(tip - centre)
    start = tip - along * reach
    if reach < need + _BREAK * broken or not board.box().holds(start):
        return False
    rule = (start, tip - along * 0.3)
    if any(touches(tile, rule) for tile in board.tiles):
        return False
    if board.rules.cross((start + along * 0.5, rule[1])):
        return False
    for distance in (need / 2 + HEAD - 1, need / 2 + 8, reach - need / 2):
        if distance > reach - need / 2 + 1 - _BREAK * broken:
            continue
        for side in (-1j * along, 1j * along):
            text = upright(tip - along * distance + side * 0.5, along, side, words, "label", SIZE)
            if clear(text_tile(text, board.setting).grown(0.3), board.lines, board.tiles):
                mark = _break(start, along) if broken else [start]
                shaft = polyline(*mark, tip - along * HEAD * 0.8)
                head = arrowhead(tip, along, HEAD)
                board.add(Stroke((shaft,), "dimension"), Fill((head,), "ink"), rule=True)
                board.add(text)
                return True
    return False


def _break(start: Point, along: complex) -> list[Point]:
    """The zigzag that says a line goes on further than it is drawn."""
    side = along * 1j * 1.3
    return [
        start, start + along * 1.6, start + along * 2.2 + side, start + along * 3.4 - side,
        start + along * 4,
    ]  # fmt: skip


def _on_line(
    a: Point, b: Point, words: Pair, away: complex, setting: Setting
) -> Iterator[tuple[Text, ...]]:
    """Places for a dimension's number: on one side of its line, on both sides of a short one, or
    beyond the arrowheads of one that is shorter than they are."""
    along, side = unit(b - a), unit(away)
    length = abs(b - a)
    whole = both(words, setting)
    wide = setting.width(whole, SIZE)

    def at(foot: Point, side: complex, text: str) -> Text:
        return upright(foot + side * 0.6, along, side, text, "label", SIZE)

    shares = (0.5, 0.35, 0.65, 0.25, 0.75)
    for share, s in product(shares, (side, -side)):
        if min(share, 1 - share) * length > wide / 2 + 0.5:
            yield (at(a + (b - a) * share, s, whole),)
    first, second = ordered(words, setting)
    # The workshop's own unit goes above, as the words are read.
    upper = -1j * (along if reads(along) else -along)
    broad = max(setting.width(row, SIZE) for row in (first, second))
    for share in shares:
        foot = a + (b - a) * share
        if broad < length + 1:
            yield at(foot, upper, first), at(foot, -upper, second)
    if length < _SHORT:
        for end, way in ((b, along), (a, -along)):
            yield (
                at(end + way * (_TAIL + 1 + wide / 2) - upper * (SIZE * 0.5 + 0.6), upper, whole),
            )
