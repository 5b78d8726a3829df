"""The flat view: a piece with its dimensions, as a draughtsman puts them.

Keys: ``piece`` or ``pieces``. Every number is measured on the stitching line as it is drawn:
straight edges and the whole get dimension lines, arcs their radius and angle, other curves their
width and height, every edge its length; what is cut outside it stands below, and so does a number
for which there is no room.

Example::

    view: flat
    piece: side
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from notchbook.composing import numbers
from notchbook.composing.drawing import Drawing, Item, Stroke, Text, moved
from notchbook.composing.figures import keys
from notchbook.composing.figures.board import MARGIN, Board, bordered, callout, label
from notchbook.composing.figures.dimensions import anchors, bend, holes, overall, straight
from notchbook.composing.figures.size import HIGHEST, SIZE, TALLEST, WIDEST
from notchbook.composing.lettering.paragraph import packed, wrapped
from notchbook.composing.lettering.placing import extent, walls
from notchbook.composing.names import plain
from notchbook.composing.numbers import Pair
from notchbook.composing.pairs import both
from notchbook.composing.pieces.arrows import grain_line
from notchbook.composing.pieces.drawn import notch_mark
from notchbook.composing.pieces.folds import fold_marks
from notchbook.composing.pieces.inner import inner_marks, inner_titles
from notchbook.composing.pieces.scaled import scaled_piece
from notchbook.composing.pieces.text import cloth_title
from notchbook.composing.pieces.words import grain_words
from notchbook.composing.setting import Setting
from notchbook.composing.symbols import cutting_line, line_role
from notchbook.drafting.draft import CutLine, Draft, InnerLine, Notch, Piece
from notchbook.drafting.geometry.box import Box, bounds
from notchbook.drafting.shape import Edge
from notchbook.problems import ContentError, Problem
from notchbook.reading.recipe import FigureRule

_GAP = 8.0
"""Between two pieces, mm."""
_NOTES = 110.0
"""What notes may take in width, mm, or as much as what they stand below."""
_ABOVE, _LEADING, _BETWEEN = 3.0, 1.35, 0.8
"""Above notes, mm; from row to row, ems; and between two notes, mm."""


def draw(draft: Draft, figure: FigureRule, setting: Setting) -> Drawing:
    """Every piece named, one below the other. Raises ContentError."""
    problems: list[Problem] = []
    keys.check_keys(figure.keys, ("piece", "pieces"), "A flat figure", problems)
    words = keys.texts(figure.keys, "piece", problems) + keys.texts(figure.keys, "pieces", problems)
    found = [keys.find_piece(word, draft, problems) for word in words]
    pieces = [piece for piece in found if piece]
    if not words and not problems:
        example = next(iter(draft.pieces), "NAME")
        problems.append(keys.missing(figure, "piece", "flat", example))
    if problems:
        raise ContentError(problems)
    highest = HIGHEST if len(pieces) == 1 else TALLEST
    gaps = 2 * MARGIN + _GAP * (len(pieces) - 1)
    limit = complex(WIDEST - 2 * MARGIN, (highest - gaps) / len(pieces))
    tallest = (TALLEST - gaps) / len(pieces)
    items: list[Item] = []
    top = 0.0
    for piece in pieces:
        drawn = _fitted(piece, draft, setting, limit, tallest)
        box = extent(drawn, setting)
        items += [moved(item, shift=1j * top - box.low) for item in drawn]
        top += box.height + _GAP
    return bordered(items, " ".join(_described(piece, setting) for piece in pieces), setting)


def _described(piece: Piece, setting: Setting) -> str:
    box = bounds(piece.flat.outline())
    edges = ", ".join(
        f"{plain(name)} {both(numbers.length(edge.length()), setting)}"
        for name, edge in piece.flat.edges.items()
    )
    said = setting.say(
        "flat.alt",
        piece=piece.title,
        width=both(numbers.length(box.width), setting),
        height=both(numbers.length(box.height), setting),
        edges=edges,
    )
    return " ".join([said, *_pairs(piece, setting)])


def _fitted(
    piece: Piece, draft: Draft, setting: Setting, limit: complex, tallest: float
) -> tuple[Item, ...]:
    """The piece as large as its words and the room allow: every edge's words beside it, or else a
    number there and the words in a key below. With one it may be as high as ``tallest``, mm."""
    box = bounds(piece.cut_lines[0].loops)
    largest = min(limit.real * 0.85 / box.width, limit.imag * 0.8 / box.height, 1.0)
    told = [_allowance(line, piece, draft, setting) for line in piece.cut_lines]
    told += _pairs(piece, setting)
    tries = [(False, 0.88**step) for step in range(7)] + [(True, 0.9**step) for step in range(15)]
    for keyed, smaller in tries:
        room = complex(limit.real, tallest if keyed else limit.imag)
        if found := _composed(piece, told, largest * smaller, setting, keyed, room):
            return found
    # Without some words beside edges, then: the notes have every edge.
    return _composed(piece, told, largest * 0.9**15, setting, True, None)


def _composed(
    piece: Piece,
    told: Sequence[str],
    factor: float,
    setting: Setting,
    keyed: bool,
    room: complex | None,
) -> tuple[Item, ...]:
    """The piece drawn at a scale with all its dimensions, and below it what is told of it; nothing
    where that takes more ``room``, width and height in mm, than there is, or an edge's words, or
    the number that stands for them, found none beside it. Without a limit there is always some."""
    small = scaled_piece(piece, factor)
    board = Board(setting)
    for line in _shown(piece, factor):
        index = piece.cut_lines.index(line)
        loops = small.cut_lines[index].loops
        board.add(Stroke(loops, cutting_line(index), {"cloth": " ".join(line.cloths)}))
    for name, edge in small.flat.edges.items():
        board.add(Stroke((edge.path,), "stitch", {"edge": name}))
        board.fences.add(walls((edge.path,), 0.1))
    board.add(*inner_marks(small.lines, 0.4))
    board.add(*fold_marks(small, 0.4))
    board.add(*(notch_mark(notch, 1.2, 1.6) for notch in _apart(small.notches)))
    board.add(*grain_line(small.flat.grain, 2.6), rule=True)
    lead = 1 if setting.workshop.units == "inch" else 0
    left: list[tuple[Edge, list[str]]] = []
    for name, edge in small.flat.edges.items():
        words = numbers.length(piece.flat.edges[name].length())
        allowance = piece.cut_lines[0].allowance[name] * factor
        named = Pair(
            *(f"{plain(name)} {number}" if k == lead else number for k, number in enumerate(words))
        )
        if not straight(board, edge, allowance, named):
            left.append((edge, [both(words, setting)]))
    also = [*overall(board, piece, small), *holes(board, small, factor)]
    for edge, rows in left:
        rows += bend(board, piece, edge, factor)
    key: list[str] = []
    if keyed:
        key = [
            setting.say("flat.key", number=number, edge=plain(edge.name), lengths=", ".join(rows))
            for number, (edge, rows) in enumerate(left, start=1)
        ]
    found = [setting.say("flat.also", lengths=", ".join(also))] if also else []
    measured = " ".join([setting.say("flat.measured"), *found])
    notes = [measured, *packed(key, _NOTES, SIZE, setting)]
    if not _fits(board, _height([*notes, *told], room, setting), room):
        return ()
    board.write(grain_words(small.flat.grain, setting, SIZE))
    titles = inner_titles(small.lines, setting, (SIZE,), 0.4)
    # What is stitched could be taken for the stitching line: it is always told by its dashes.
    unnamed = [line for line, places in zip(small.lines, titles, strict=True)
               if line_role(line) == "line-stitched" or not board.write(places)]  # fmt: skip
    notes += [*_lines_told(unnamed, setting), *told]
    height = _height(notes, room, setting)
    if not _fits(board, height, room):
        return ()
    outer = bounds(small.cut_lines[0].loops)
    region = Box(outer.low - complex(44, 18), outer.high + complex(44, 18))
    for number, (edge, rows) in enumerate(left, start=1):
        whole = [(plain(edge.name), "strong"), *((row, "label") for row in rows)]
        block = label(setting, *([(str(number), "strong")] if keyed else whole))
        # A leader to a hole has to come from somewhere; one across the whole piece to its far edge
        # would seem to be about the near one.
        hole = edge not in small.flat.loops[0]
        complete = callout(board, block, anchors(edge.path), region, over=hole)
        if room and not (complete and _fits(board, height, room)):
            return ()
    _write(board, notes)
    box = board.box()
    return () if room and (box.width > room.real or box.height > room.imag) else tuple(board.items)


def _lines_told(lines: Sequence[InnerLine], setting: Setting) -> list[str]:
    """Which lines are which, of those beside which there was no room for their names."""
    titles: dict[str, list[str]] = {}
    for line in lines:
        titles.setdefault(line_role(line), []).append(line.title)
    said = [setting.say(f"flat.{role}", lines=", ".join(each)) for role, each in titles.items()]
    return [" ".join(said)] if said else []


def _apart(notches: Sequence[Notch]) -> list[Notch]:
    """The notches, but of those that would touch as they are drawn only the first."""
    kept: list[Notch] = []
    for notch in notches:
        if all(abs(notch.at - other.at) >= 2.0 for other in kept):
            kept.append(notch)
    return kept


def _shown(piece: Piece, factor: float) -> list[CutLine]:
    """The first cutting line, and those others that stay a millimetre off every line shown."""
    shown: list[CutLine] = []
    for line in piece.cut_lines:
        gaps = [
            abs(at - other)
            for edge, at in line.allowance.items()
            for other in (0.0, *(there.allowance[edge] for there in shown))
        ]
        if not shown or min(gaps) * factor >= 1.0:
            shown.append(line)
    return shown


def _height(notes: Sequence[str], room: complex | None, setting: Setting) -> float:
    """What notes take below a board in room of some width and height, mm, when they take as few
    rows as they can there."""
    wide = max(room.real, _NOTES) if room else math.inf
    count = sum(len(wrapped(note, wide, SIZE, setting)) for note in notes)
    return _ABOVE + count * SIZE * _LEADING + (len(notes) - 1) * _BETWEEN


def _fits(board: Board, notes: float, room: complex | None) -> bool:
    """Whether a board and notes of some height below it may still fit into room: what doesn't now
    never will."""
    box = board.box()
    return room is None or (box.width <= room.real and box.height + notes <= room.imag)


def _write(board: Board, notes: Sequence[str]) -> None:
    """Notes below everything."""
    box = board.box()
    left, y = box.low.real, box.high.imag + _ABOVE
    wide = max(box.width, _NOTES)
    for note in notes:
        for row in wrapped(note, wide, SIZE, board.setting):
            y += SIZE * _LEADING
            board.add(Text(complex(left, y), row, "note", SIZE))
        y += _BETWEEN


def _allowance(line: CutLine, piece: Piece, draft: Draft, setting: Setting) -> str:
    groups: dict[str, list[str]] = {}
    for edge, mm in line.allowance.items():
        groups.setdefault(_amount(mm, setting), []).append(edge)
    if len(groups) == 1:
        parts = next(iter(groups))
    else:
        parts = ", ".join(
            f"{', '.join(map(plain, edges))} {amount}" for amount, edges in groups.items()
        )
    if len(piece.cut_lines) == 1:
        return setting.say("flat.allowance", parts=parts)
    cloths = ", ".join(cloth_title(cloth, draft, setting) for cloth in line.cloths)
    return setting.say("flat.allowance.cloth", parts=parts, cloths=cloths)


def _pairs(piece: Piece, setting: Setting) -> list[str]:
    """That a piece is one of a mirrored pair, and in which cloths."""
    if not piece.pairs:
        return []
    cloths = ", ".join(plain(cloth) for cloth in piece.pairs)
    return [setting.say("flat.pairs", cloths=cloths)]


def _amount(mm: float, setting: Setting) -> str:
    if abs(mm) < 0.05:
        return setting.say("flat.none")
    words = both(numbers.length(abs(mm)), setting)
    return setting.say("flat.inside", amount=words) if mm < 0 else words
