"""One panel of a drawing by hand: what is there already in a thin line, what is drawn now in a
heavy one, points with their letters, strings from their centres, and numbers where they fit."""

from __future__ import annotations

import cmath
import math
from bisect import bisect
from collections.abc import Iterator, Sequence
from itertools import accumulate, pairwise, product

from notchbook.composing.drawing import Fill, Stroke, Text
from notchbook.composing.figures.board import HEAD, Board
from notchbook.composing.figures.by_hand import Stage
from notchbook.composing.figures.ruled import radial
from notchbook.composing.figures.size import SIZE
from notchbook.composing.lettering.placing import text_tile
from notchbook.composing.numbers import Pair
from notchbook.composing.pairs import both, ordered
from notchbook.composing.pieces.arrows import arrowhead
from notchbook.composing.pieces.words import upright
from notchbook.composing.setting import Setting
from notchbook.drafting.geometry.box import Box
from notchbook.drafting.geometry.path import Path, circle, polyline
from notchbook.drafting.geometry.scale import scaled
from notchbook.drafting.geometry.vector import Point, dot, unit

_DOT = 0.5
"""Half of how wide a marked point is, mm."""
_LETTERS = 7
"""Of more points than these only some carry their letter."""


def drawn_panel(
    stage: Stage, before: Sequence[Path], frame: Box, room: Box, setting: Setting
) -> Board:
    """A stage in its room, mm: what ``frame`` holds at full size, as large as it fits with words
    around it."""
    scale = scale_in(frame, room)
    shift = room.centre - frame.centre * scale

    def small(path: Path) -> Path:
        return scaled(path, scale).moved(1, shift)

    def seen(point: Point) -> bool:
        return _within(frame, point, 1.0)

    def near(path: Path) -> bool:
        """Not so a line to a centre far off."""
        return seen(path.start) and seen(path.end)

    board = Board(setting)
    if already := [small(path) for path in before if near(path)]:
        board.add(Stroke(tuple(already), "drawn"))
    if helps := [small(path) for path in (*stage.helps, *stage.passing) if near(path)]:
        board.add(Stroke(tuple(helps), "helping"))
    if stage.lines:
        board.add(Stroke(tuple(small(path) for path in stage.lines), "drawing"))
    marked = [at for _, at in stage.points if seen(at)]
    dots = tuple(circle(at * scale + shift, _DOT) for at in marked)
    if dots:
        board.add(Fill(dots, "ink"))
    for centre, path, number in stage.strings:
        _string(board, centre * scale + shift, small(path), number, room, seen(centre))
    for label, at in _lettered(stage):
        if seen(at):
            _write(board, _around(at * scale + shift, label), room)
    for path, number in stage.along:
        if near(path):
            _number(board, small(path), number, room)
    return board


def _number(board: Board, path: Path, number: Pair, room: Box) -> None:
    """A number along a path: in both unit systems, or else in the workshop's own, or not at all."""
    points = path.points(0.1)
    ends = list(accumulate((abs(b - a) for a, b in pairwise(points)), initial=0.0))
    for words in (both(number, board.setting), ordered(number, board.setting)[0]):
        wide = board.setting.width(words, SIZE)
        if wide < ends[-1] * 0.95 and _write(board, _beside(points, ends, wide, words), room):
            return


def _beside(
    points: Sequence[Point], ends: Sequence[float], wide: float, words: str
) -> Iterator[Text]:
    """Places for words beside a line, given by points and how far along it each is."""

    def at(distance: float) -> Point:
        k = min(max(bisect(ends, distance), 1), len(ends) - 1)
        a, b = points[k - 1], points[k]
        return a + (b - a) * (distance - ends[k - 1]) / (ends[k] - ends[k - 1])

    for share, side, more in product((0.5, 0.3, 0.7, 0.18, 0.82), (-1j, 1j), (0.0, 1.2)):
        middle = share * ends[-1]
        if not wide / 2 <= middle <= ends[-1] - wide / 2:
            continue
        first, foot, last = (at(middle + d) for d in (-wide / 2, 0.0, wide / 2))
        along = unit(last - first)
        away = along * side
        bend = max(dot(p - foot, away) for p in (first, last))
        yield upright(
            foot + away * (max(bend, 0.0) + 0.9 + more), along, away, words, "label", SIZE
        )


def scale_in(frame: Box, room: Box) -> float:
    """How large what a frame holds is drawn in a room."""
    edge = 2 * (SIZE + 1.2)
    return min(
        (room.width - edge) / max(frame.width, 1.0),
        (room.height - edge) / max(frame.height, 1.0),
        1.0,
    )


def _lettered(stage: Stage) -> Iterator[tuple[str, Point]]:
    """The points that carry their letters: all that are spoken of, and of a long row some, with its
    first and last."""
    rows, spoken = dict(stage.marks), dict(stage.named)
    step = math.ceil(len(rows) / _LETTERS) or 1
    kept = set(list(rows)[::step]) | set(list(rows)[-1:])
    for label, at in stage.points:
        if label in kept or label in spoken:
            yield label, at


def _write(board: Board, choices: Iterator[Text], room: Box) -> bool:
    """The first of some texts that is inside a room and touches nothing."""

    def inside(text: Text) -> bool:
        corners = text_tile(text, board.setting).corners
        return all(_within(room, corner, 0.0) for corner in corners)

    return board.write(filter(inside, choices))


def _around(at: Point, label: str) -> Iterator[Text]:
    """Places for a point's letter."""
    for out, turn in product((2.6, 3.4, 4.6, 6.0), (1, 3, 5, 7, 0, 2, 4, 6)):
        way = cmath.rect(out, turn * math.pi / 4)
        middle = at + complex(way.real * (1 + 0.25 * (len(label) - 1)), way.imag)
        yield Text(middle + 1j * SIZE * 0.27, label, "strong", SIZE, "middle")


def _string(
    board: Board, centre: Point, path: Path, number: Pair, room: Box, centre_seen: bool
) -> None:
    """The string from its centre to the line it draws; with its length along it where there is
    room. Where the centre is far off, what is seen of it is broken."""
    length = path.length()
    shares = (0.5, 0.62, 0.38, 0.75, 0.25, 0.88, 0.12)
    tips = [path.point_at(share * length) for share in shares]
    for words in (both(number, board.setting), ordered(number, board.setting)[0]):
        for tip in tips:
            if radial(board, centre, tip, words):
                return
    tip = tips[0]
    start = centre
    if not centre_seen:
        reach = min(abs(tip - centre), room.height / 3)
        start = tip + unit(centre - tip) * reach
    along = unit(tip - start)
    board.add(Stroke((polyline(start, tip - along * HEAD * 0.8),), "dimension"))
    board.add(Fill((arrowhead(tip, along, HEAD),), "ink"))
    _number(board, polyline(start, tip), number, room)


def _within(box: Box, point: Point, more: float) -> bool:
    return (
        box.low.real - more <= point.real <= box.high.real + more
        and box.low.imag - more <= point.imag <= box.high.imag + more
    )
