"""A lay as it is drawn: the cloth from above with every piece where it is cut.

The width runs across the page and the cut end is at the top. Folded cloth shows its upper ply, the
fold on the left; where it is opened out again further down, the whole width. A piece is named in
itself where there is room, otherwise by a number in it, or by one beside it with a leader.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from notchbook.composing import numbers
from notchbook.composing.drawing import Drawing, Stroke, Text
from notchbook.composing.figures.board import Board, callout, framed, label
from notchbook.composing.figures.ruled import dimension
from notchbook.composing.figures.size import SIZE, TALLEST, WIDEST
from notchbook.composing.lettering.paragraph import packed, wrapped
from notchbook.composing.lettering.placing import Lines, stroke_walls, walls
from notchbook.composing.lettering.room import room
from notchbook.composing.pairs import both
from notchbook.composing.pieces.arrows import grain_line
from notchbook.composing.pieces.text import Label
from notchbook.composing.pieces.words import upright
from notchbook.composing.setting import Setting
from notchbook.drafting.draft import Draft, Lay, Placed
from notchbook.drafting.geometry.box import Box, bounds
from notchbook.drafting.geometry.path import Path, polyline
from notchbook.drafting.geometry.scale import scaled
from notchbook.drafting.geometry.vector import Point, flip
from notchbook.drafting.packing.cloth import outline
from notchbook.drafting.packing.folding import Fold, closed_part, part

_HIGHEST = 84.0
"""What the cloth may take in height, mm; words stand above and below it."""
_ACROSS = 92.0
"""What it may take in width, mm; words stand beside it."""
_LARGEST = 0.2


@dataclass(frozen=True, slots=True)
class _Shown:
    """A piece as it lies, at the scale of the drawing: its name, the lines that are drawn, the
    closed outlines that words may stand in, and its grain line where that is seen."""

    name: str
    lines: tuple[Path, ...]
    outlines: tuple[Path, ...]
    grain: tuple[Point, Point] | None


def draw_lay(draft: Draft, lay: Lay, setting: Setting) -> Drawing:
    """One cloth on one width, with what is cut from it."""
    left = lay.room / 2 if lay.folded == lay.length else 0.0
    wide = lay.room - left
    factor = min(_ACROSS / wide, _HIGHEST / lay.length, _LARGEST)
    for smaller in range(12):
        board = _composed(draft, lay, setting, factor * 0.94**smaller, left)
        box = board.box()
        if box.height <= TALLEST - 4 and box.width <= WIDEST - 4:
            break
    return framed(board, _described(draft, lay, setting))


def _composed(draft: Draft, lay: Lay, setting: Setting, factor: float, left: float) -> Board:
    board = Board(setting)
    corner = complex(lay.room - left, lay.length) * factor
    shown = list(_shown(draft, lay, setting, factor, left))
    _cloth(board, lay, factor, left)
    for piece in shown:
        board.add(Stroke(piece.lines, "layer"))
    key, arrows = _names(board, shown)
    top, right = -6.0j, 6.5
    wide, long = numbers.tape(lay.room - left), numbers.tape(lay.length)
    far = complex(corner.real)
    dimension(board, top, far + top, wide, -1j, extend=(0j, far))
    drawn = dimension(board, far + right, corner + right, long, 1, extend=(far, corner))
    notes = [] if drawn else [setting.say("plan.length", length=both(long, setting))]
    notes += _notes(draft, lay, setting, arrows)
    _write(board, key, " ".join(notes), max(corner.real, 80.0))
    return board


def _cloth(board: Board, lay: Lay, factor: float, left: float) -> None:
    """The cloth's edges and what they are, and which way grain and nap run."""
    wide, long = (lay.room - left) * factor, lay.length * factor
    fold, folded = (lay.room / 2 - left) * factor, lay.folded * factor
    ends = [polyline(complex(fold if folded else 0), complex(wide))]
    ends.append(polyline(complex(0 if folded < long - 1e-6 else fold, long), complex(wide, long)))
    selvages = [polyline(complex(wide), complex(wide, long))]
    if folded < long - 1e-6:
        selvages.append(polyline(complex(0, folded), complex(0, long)))
    if 0 < folded < long - 1e-6:
        ends.append(polyline(complex(0, folded), complex(wide, folded)))
    board.add(Stroke(tuple(ends), "frame"))
    board.add(Stroke(tuple(selvages), "layer"))
    board.add(Stroke(tuple(each.moved(1, 0.8) if each.start.real else each.moved(1, -0.8)
                           for each in selvages), "frame"))  # fmt: skip
    if folded:
        line = polyline(complex(fold), complex(fold, folded))
        board.add(Stroke((line,), "fold"))
        _along(board, "plan.fold", complex(fold - 1.0, folded / 2), folded)
    for line in selvages:
        out = 1.8 if line.start.real else -1.8
        middle = (line.start + line.end) / 2
        _along(board, "plan.selvage", middle + out, line.length())


def _along(board: Board, key: str, foot: Point, length: float) -> None:
    """A word along an upright line, on its outer side, where the line is long enough for it."""
    words = board.setting.say(key)
    if board.setting.width(words, SIZE) > length:
        return
    away = 1 if foot.real > 10 and key == "plan.selvage" else -1
    board.add(upright(foot, 1j, away, words, "note", SIZE))


def _shown(
    draft: Draft, lay: Lay, setting: Setting, factor: float, left: float
) -> Iterator[_Shown]:
    """Every piece that is seen from above, nearest to the cut end first."""
    middle = lay.room / 2
    fold = Fold(complex(middle), 1j)
    for spot in lay.placed:
        loops = outline(spot, lay, draft.pieces)
        box = bounds([loops[0]])
        doubled = box.high.imag < lay.folded
        if doubled and box.high.real < middle:
            continue
        on_fold = doubled and box.low.real < middle
        lines = tuple(kept for loop in loops for kept in part(loop, (fold,))) if on_fold else loops
        closed = (closed_part(loop, (fold,)) for loop in loops) if on_fold else iter(loops)

        def small(path: Path) -> Path:
            return scaled(path.moved(1, -left), factor)

        grain = tuple((_lies(point, spot) - left) * factor for point in
                      draft.pieces[spot.piece].flat.grain)  # fmt: skip
        seen = not on_fold and abs(grain[1] - grain[0]) > 5
        yield _Shown(
            _title(draft, spot, setting, on_fold, doubled),
            tuple(small(path) for path in lines),
            tuple(small(path) for path in closed if path),
            (grain[0], grain[1]) if seen else None,
        )


def _lies(point: Point, spot: Placed) -> Point:
    return (flip(point) if spot.mirrored else point) * spot.turn + spot.shift


def _title(draft: Draft, spot: Placed, setting: Setting, on_fold: bool, doubled: bool) -> str:
    title = draft.pieces[spot.piece].title
    if on_fold:
        return setting.say("plan.half", piece=title)
    if doubled:
        return setting.say("plan.doubled", piece=title)
    return setting.say("plan.over", piece=title) if spot.mirrored else title


def _names(board: Board, shown: Sequence[_Shown]) -> tuple[list[str], bool]:
    """Every piece named, or numbered, and its grain line; what the numbers stand for, and whether
    there is a grain line at all. In a small piece a number is worth more than that."""
    numbers_of: dict[str, int] = {}
    arrows = True
    for piece in shown:
        grain = grain_line(piece.grain, 1.8) if piece.grain else ()
        lines = Lines.of(stroke_walls(grain))
        if piece.name in numbers_of or not _inside(board, piece, piece.name, lines):
            number = str(numbers_of.setdefault(piece.name, len(numbers_of) + 1))
            if not _inside(board, piece, number, lines):
                grain = ()
                if not _inside(board, piece, number, Lines()):
                    _beside(board, piece, number)
        board.add(*grain, rule=True)
        arrows = arrows and bool(grain)
    key = [
        board.setting.say("plan.key", number=number, piece=name)
        for name, number in numbers_of.items()
    ]
    return key, arrows


def _inside(board: Board, piece: _Shown, words: str, lines: Lines) -> bool:
    """Words in a piece, level, in several rows, or upright, clear of some lines; whether there was
    room for them."""
    outlines = walls(piece.outlines, 0.1)
    box = bounds([piece.outlines[0]])
    taken = [*board.lines.near(box), *lines.walls]
    for turn in (1, -1j):
        free = room(outlines, taken, board.tiles, cell=0.7, turn=turn)
        for wide in (60.0, 30.0, 16.0):
            block = label(board.setting, (words, "label"), longest=wide)
            spots = free.spots(block.width(board.setting), block.height, 0.5)
            tile = spots.nearest(box.centre)
            if tile:
                board.add(*block.items(tile, board.setting))
                return True
    return False


def _beside(board: Board, piece: _Shown, words: str) -> None:
    """Words beside a piece with a leader to it."""
    block: Label = label(board.setting, (words, "strong"))
    path = piece.outlines[0]
    length = path.length()
    anchors = []
    for k in range(16):
        at, along = path.at(length * k / 16)
        # Cloth lies on the right of travel, so what is outside lies on the left.
        anchors.append((at, along * -1j))
    box = bounds([path])
    region = Box(box.low - 30 * (1 + 1j), box.high + 30 * (1 + 1j))
    callout(board, block, anchors, region, over=True, crossing=True)


def _notes(draft: Draft, lay: Lay, setting: Setting, arrows: bool) -> list[str]:
    cloth = draft.recipe.cloths[lay.cloth]
    notes = [setting.say("plan.note.folded" if lay.folded else "plan.note.single")]
    if lay.folded and lay.folded < lay.length:
        notes.append(setting.say("plan.note.opened"))
    grain = "plan.note.grain" if arrows else "plan.note.along"
    notes.append(setting.say("plan.note.nap" if cloth.nap else grain))
    return notes


def _write(board: Board, key: Sequence[str], notes: str, wide: float) -> None:
    """The key and what else there is to say, below everything."""
    y = board.box().high.imag + 2.0
    rows = [*packed(key, wide, SIZE, board.setting), *wrapped(notes, wide, SIZE, board.setting)]
    for row in rows:
        y += SIZE * 1.35
        board.add(Text(complex(0, y), row, "note", SIZE))


def _described(draft: Draft, lay: Lay, setting: Setting) -> str:
    counts: dict[str, int] = {}
    for spot in lay.placed:
        counts[spot.piece] = counts.get(spot.piece, 0) + 1
    pieces = ", ".join(
        setting.say("plan.alt.piece", count=count, piece=draft.pieces[name].title)
        for name, count in counts.items()
    )
    return setting.say(
        "plan.alt.folded" if lay.folded else "plan.alt",
        cloth=draft.recipe.cloths[lay.cloth].title,
        width=both(numbers.tape(lay.width), setting),
        length=both(numbers.tape(lay.length), setting),
        pieces=pieces,
    )
