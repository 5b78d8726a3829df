"""The flat view: a piece with its dimensions, as a draughtsman puts them.

Keys: ``piece`` or ``pieces``. Every number is measured on the stitching line as it is drawn:
straight edges and the whole get dimension lines, arcs their radius, every edge its length; what is
cut outside it stands below, and so does a number for which there is no room. The figure takes
120 × 100 mm at most.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from notchbook.composing import figure_keys as keys
from notchbook.composing import numbers
from notchbook.composing.board import (
    SIZE,
    Board,
    callout,
    callout_aside,
    dimension,
    label,
    radial,
)
from notchbook.composing.drawing import Drawing, Item, Stroke, Text, moved
from notchbook.composing.numbers import Pair
from notchbook.composing.pairs import slashed
from notchbook.composing.piece_drawing import grain_line, notch_mark
from notchbook.composing.piece_text import cloth_word, wrapped
from notchbook.composing.piece_words import grain_words
from notchbook.composing.placing import Wall, extent, walls
from notchbook.composing.scaled import scaled_piece
from notchbook.composing.setting import Setting
from notchbook.composing.symbols import cutting_line
from notchbook.drafting.draft import CutLine, Draft, Piece
from notchbook.drafting.geometry.path import Arc, Box, Line, Path, Point, bounds, unit
from notchbook.drafting.shape import Edge
from notchbook.problems import ContentError, Problem
from notchbook.reading.recipe import FigureRule

WIDEST = 120.0
HIGHEST = 100.0
_MARGIN = 2.0
_GAP = 8.0
"""Between two pieces, mm."""


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
    limit = complex(
        WIDEST - 2 * _MARGIN, (HIGHEST - 2 * _MARGIN - _GAP * (len(pieces) - 1)) / len(pieces)
    )
    items: list[Item] = []
    top = 0.0
    for piece in pieces:
        drawn = _fitted(piece, setting, limit)
        box = extent(drawn, setting)
        items += [moved(item, shift=1j * top - box.low) for item in drawn]
        top += box.height + _GAP
    box = extent(items, setting)
    margin = complex(_MARGIN, _MARGIN)
    title = " ".join(_described(piece, setting) for piece in pieces)
    return Drawing(Box(box.low - margin, box.high + margin), tuple(items), title)


def _described(piece: Piece, setting: Setting) -> str:
    box = bounds(piece.flat.outline())
    edges = ", ".join(
        f"{name} {slashed(numbers.length(edge.path.length()), setting)}"
        for name, edge in piece.flat.edges.items()
    )
    return setting.say(
        "flat.alt",
        piece=piece.title,
        width=slashed(numbers.length(box.width), setting),
        height=slashed(numbers.length(box.height), setting),
        edges=edges,
    )


def _fitted(piece: Piece, setting: Setting, limit: complex) -> tuple[Item, ...]:
    """The piece as large as its words and the room allow."""
    box = bounds(piece.cut_lines[0].loops)
    factor = min(limit.real * 0.85 / box.width, limit.imag * 0.8 / box.height, 1.0)
    for _ in range(12):
        board, complete = _composed(piece, factor, setting)
        seen = board.box()
        if complete and seen.width <= limit.real and seen.height <= limit.imag:
            break
        factor *= 0.86
    return tuple(board.items)


def _composed(piece: Piece, factor: float, setting: Setting) -> tuple[Board, bool]:
    """The piece drawn at a scale with all its dimensions, and whether every edge's words found
    room beside it."""
    small = scaled_piece(piece, factor)
    board = Board(setting)
    for line in _shown(piece, factor):
        index = piece.cut_lines.index(line)
        loops = small.cut_lines[index].loops
        board.add(Stroke(loops, cutting_line(index), {"cloth": " ".join(line.cloths)}))
    for name, edge in small.flat.edges.items():
        board.add(Stroke((edge.path,), "stitch", {"edge": name}))
    for notch in small.notches:
        board.add(notch_mark(notch, 1.2, 1.6))
    board.add(*grain_line(small.flat.grain, 2.6), rule=True)
    lead = 1 if setting.workshop.units == "inch" else 0
    curved: list[tuple[Edge, list[str]]] = []
    for name, edge in small.flat.edges.items():
        words = numbers.length(piece.flat.edges[name].path.length())
        allowance = piece.cut_lines[0].allowance[name] * factor
        named = Pair(
            *(f"{name} {number}" if k == lead else number for k, number in enumerate(words))
        )
        if not _straight(board, edge, allowance, named):
            curved.append((edge, [slashed(words, setting)]))
    left_over = [*_overall(board, piece, small), *_holes(board, small, factor)]
    for edge, rows in curved:
        if radius := _radius(board, edge, factor):
            rows.append(radius)
    board.write(grain_words(small.flat.grain, setting, SIZE))
    outer = bounds(small.cut_lines[0].loops)
    region = Box(outer.low - complex(44, 18), outer.high + complex(44, 18))
    complete = True
    for edge, rows in curved:
        block = label((edge.name, "strong"), *((row, "label") for row in rows))
        if not callout(board, block, _anchors(edge.path), region):
            callout_aside(board, block, _anchors(edge.path))
            complete = False
    _notes(board, piece, left_over, setting)
    return board, complete


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


def _straight(board: Board, edge: Edge, allowance: float, words: Pair) -> bool:
    """A straight edge's dimension line outside the cutting line; whether it is one and has room.
    ``allowance`` is as drawn."""
    start, end = edge.path.start, edge.path.end
    if not _is_straight(edge.path) or abs(end - start) < 12:
        return False
    out = unit(end - start) * -1j
    return any(
        dimension(board, start + shift, end + shift, words, out, extend=(start, end), free=True)
        for shift in (out * (max(allowance, 0.0) + distance) for distance in (4.0, 8.0))
    )


def _is_circle(path: Path) -> bool:
    box = bounds([path])
    return all(isinstance(segment, Arc) for segment in path.segments) and (
        abs(box.width - box.height) < 1e-3
    )


def _is_straight(path: Path) -> bool:
    return all(isinstance(segment, Line) for segment in path.segments) and (
        abs(abs(path.end - path.start) - path.length()) < 1e-6
    )


def _overall(board: Board, piece: Piece, small: Piece) -> Iterator[str]:
    """Width below and height to the left, where no straight edge has said as much; of a circle
    the width alone. What has no room is given back in words."""
    true = bounds(piece.flat.outline())
    outline = small.flat.outline()[0]
    drawn, outer = bounds([outline]), bounds(small.cut_lines[0].loops)
    left, right, top, foot = (_far(outline, way) for way in (-1, 1, -1j, 1j))
    spans = [
        edge.path.end - edge.path.start
        for edge in small.flat.edges.values()
        if _is_straight(edge.path)
    ]
    if not any(abs(abs(span.real) - drawn.width) < 1e-3 > abs(span.imag) for span in spans):
        for y in (outer.high.imag + 5, outer.high.imag + 9):
            ends = complex(left.real, y), complex(right.real, y)
            words = numbers.length(true.width)
            if dimension(board, *ends, words, 1j, extend=(left, right), free=True):
                break
        else:
            yield _said(board, "flat.width", true.width)
    if _is_circle(outline) or any(
        abs(abs(span.imag) - drawn.height) < 1e-3 > abs(span.real) for span in spans
    ):
        return
    for x in (outer.low.real - 5, outer.low.real - 9):
        ends = complex(x, foot.imag), complex(x, top.imag)
        words = numbers.length(true.height)
        if dimension(board, *ends, words, -1, extend=(foot, top), free=True):
            return
    yield _said(board, "flat.height", true.height)


def _said(board: Board, key: str, mm: float) -> str:
    return board.setting.say(key, length=slashed(numbers.length(mm), board.setting))


def _holes(board: Board, small: Piece, factor: float) -> Iterator[str]:
    """The breadth and length of each hole (of a circle the breadth alone), and how far it is from
    the outline. What has no room is given back in words."""
    outline, *holes = small.flat.outline()
    for hole in holes:
        box = bounds([hole])
        left, right, top, foot = (_far(hole, way) for way in (-1, 1, -1j, 1j))
        across, along = (numbers.length(size / factor) for size in (box.width, box.height))
        for y, away in ((foot.imag + 5, 1j), (top.imag - 5, -1j), (box.centre.imag, -1j)):
            ends = complex(left.real, y), complex(right.real, y)
            if dimension(board, *ends, across, away, extend=(left, right)):
                break
        else:
            yield _said(board, "flat.hole.width", box.width / factor)
        for x, away in ((left.real - 5, -1), (right.real + 5, 1), (box.centre.real, -1)):
            ends = complex(x, foot.imag), complex(x, top.imag)
            if _is_circle(hole) or dimension(board, *ends, along, away, extend=(foot, top)):
                break
        else:
            yield _said(board, "flat.hole.height", box.height / factor)
        yield from _width_beside(board, hole, outline, small, factor)


def _width_beside(
    board: Board, hole: Path, outline: Path, small: Piece, factor: float
) -> Iterator[str]:
    """From a hole straight out to the outline, somewhere between notches; else in words."""
    rim = walls([outline], 0.01)
    found = 0.0
    length = hole.length()
    for share in (0.69, 0.31, 0.81, 0.19, 0.44, 0.56):
        foot, way = hole.point_at(share * length), hole.tangent_at(share * length) * 1j
        hits = [hit for wall in rim if (hit := _hit(foot, way, wall)) is not None]
        if not hits or any(abs(notch.at - foot) < 2.5 for notch in small.notches):
            continue
        found = min(hits)
        words = numbers.length(found / factor)
        if dimension(board, foot, foot + way * found, words, way * -1j):
            return
    if found:
        yield _said(board, "flat.hole.edge", found / factor)


def _hit(start: Point, way: complex, wall: Wall) -> float | None:
    """How far along a ray a wall is met."""
    a, b = ((point - start) * way.conjugate() for point in wall)
    if (a.imag > 0) == (b.imag > 0):
        return None
    at = a.real - a.imag * (b.real - a.real) / (b.imag - a.imag)
    return at if at > 0 else None


def _far(path: Path, way: complex) -> Point:
    """The point of a path that lies furthest in a direction."""
    return max(path.points(0.01), key=lambda point: (point * way.conjugate()).real)


def _radius(board: Board, edge: Edge, factor: float) -> str:
    """The radius of an edge that is one circular arc: drawn from its centre where there is room,
    otherwise the words to set at the edge. Empty where the edge is no arc."""
    arcs = [segment for segment in edge.path.segments if isinstance(segment, Arc)]
    if len(arcs) < len(edge.path.segments):
        return ""
    centre, radius = arcs[0].centre, arcs[0].radius
    if any(abs(a.centre - centre) > 1e-6 or abs(a.radius - radius) > 1e-6 for a in arcs):
        return ""
    words = board.setting.say(
        "flat.radius", radius=slashed(numbers.radius(radius / factor), board.setting)
    )
    for share in (0.3, 0.7, 0.38, 0.62, 0.22, 0.78, 0.12, 0.88):
        tip = edge.path.point_at(share * edge.path.length())
        if radial(board, centre, tip, words):
            return ""
    return words


def _anchors(path: Path) -> list[tuple[Point, complex]]:
    length = path.length()
    return [
        (path.point_at(share * length), path.tangent_at(share * length) * -1j)
        for share in (0.44, 0.56, 0.31, 0.69, 0.19, 0.81, 0.06, 0.94)
    ]


def _notes(board: Board, piece: Piece, left_over: Sequence[str], setting: Setting) -> None:
    """What the numbers mean, those that found no place and what is cut outside them, below
    everything."""
    also = [setting.say("flat.also", lengths=", ".join(left_over))] if left_over else []
    notes = [
        " ".join([setting.say("flat.measured"), *also]),
        *(_allowance(line, piece, setting) for line in piece.cut_lines),
    ]
    box = board.box()
    left, y = box.low.real, box.high.imag + 3.0
    wide = max(box.width, 110.0)
    for note in notes:
        for row in wrapped(note, wide, SIZE, setting):
            y += SIZE * 1.35
            board.add(Text(complex(left, y), row, "note", SIZE))
        y += 0.8


def _allowance(line: CutLine, piece: Piece, setting: Setting) -> str:
    groups: dict[str, list[str]] = {}
    for edge, mm in line.allowance.items():
        groups.setdefault(_amount(mm, setting), []).append(edge)
    if len(groups) == 1:
        parts = next(iter(groups))
    else:
        parts = ", ".join(f"{', '.join(edges)} {amount}" for amount, edges in groups.items())
    if len(piece.cut_lines) == 1:
        return setting.say("flat.allowance", parts=parts)
    cloths = ", ".join(cloth_word(cloth) for cloth in line.cloths)
    return setting.say("flat.allowance.cloth", parts=parts, cloths=cloths)


def _amount(mm: float, setting: Setting) -> str:
    if abs(mm) < 0.05:
        return setting.say("flat.none")
    words = slashed(numbers.length(abs(mm)), setting)
    return setting.say("flat.inside", amount=words) if mm < 0 else words
