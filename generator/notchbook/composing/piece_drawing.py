"""One pattern piece as it is printed: its lines, its marks and its words."""

from __future__ import annotations

import cmath
import math
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import cache
from itertools import product

from notchbook.composing.drawing import Fill, Group, Item, Stroke, Text
from notchbook.composing.piece_text import blocks, cloth_word, seam_letters
from notchbook.composing.placing import (
    ABOVE,
    Lines,
    Tile,
    Wall,
    box_round,
    clear,
    text_tile,
    walls,
)
from notchbook.composing.room import Room, room
from notchbook.composing.setting import Setting
from notchbook.composing.symbols import SMALLEST, cutting_line
from notchbook.drafting.allowance import TOGETHER
from notchbook.drafting.draft import CutLine, Draft, Notch, Piece
from notchbook.drafting.geometry.path import Line, Path, Point, polyline, unit
from notchbook.drafting.shape import Edge, Flat

_AIR = 1.5
"""Kept free round every block of words, mm."""


def draw_piece(
    piece: Piece,
    draft: Draft,
    setting: Setting,
    *,
    turn: complex = 1,
    shift: Point = 0,
    avoid: Sequence[Wall] = (),
) -> Group:
    """The piece with every point p at ``p * turn + shift``, its words upright.

    A ``path.cut`` for each cutting line (with its holes), a ``path.stitch`` for each edge, its
    notches, its grain line, and what it says about itself: inside the stitching line where there
    is room, otherwise beside the piece. Words keep off the lines to ``avoid``. Where a further
    cloth is cut on the stitching line itself, only that line is seen, and words say so.
    """
    laid = _laid(piece, turn, shift)
    cuts = [
        Stroke(line.loops, cutting_line(k), {"cloth": " ".join(line.cloths)})
        for k, line in enumerate(laid.cut_lines)
    ]
    edges = laid.flat.edges
    bared = [Stroke((edges[name].path,), "bare") for name in edges if _on_stitches(laid, name)]
    stitches = [Stroke((edge.path,), "stitch", {"edge": name}) for name, edge in edges.items()]
    notches = [notch_mark(notch) for notch in laid.notches]
    marks = (*cuts, *bared, *stitches, *notches, *grain_line(laid.flat.grain))
    return Group(
        (*marks, *_words(laid, draft, setting, avoid)),
        id=f"piece-{piece.name}",
        title=piece.title,
        data={"piece": piece.name},
    )


def _on_stitches(piece: Piece, edge: str) -> bool:
    """Whether a broken cutting line lies on an edge's dashes, where two patterns of strokes would
    make a third that means nothing."""
    first, *others = (abs(line.allowance[edge]) for line in piece.cut_lines)
    return first > TOGETHER and any(gap <= TOGETHER for gap in others)


def grain_line(ends: tuple[Point, Point], head: float = 5.0) -> tuple[Item, ...]:
    """A line with an arrowhead, ``head`` mm long, at both ends."""
    start, end = ends
    along = unit(end - start)
    head = min(head, abs(end - start) / 4)
    # The shaft stops inside the heads, so that their points stay sharp.
    inset = along * head * 0.8
    shaft = polyline(start + inset, end - inset)
    heads = (arrowhead(start, -along, head), arrowhead(end, along, head))
    return Stroke((shaft,), "grain"), Fill(heads, "ink")


def arrowhead(tip: Point, towards: complex, length: float) -> Path:
    """A slim arrowhead, three times as long as it is wide."""
    back, side = tip - towards * length, towards * 1j * length / 6
    return polyline(tip, back + side, back - side, tip)


def _laid(piece: Piece, turn: complex, shift: Point) -> Piece:
    """The piece moved to where it is drawn."""

    def edge(old: Edge) -> Edge:
        return replace(old, path=old.path.moved(turn, shift))

    def line(old: CutLine) -> CutLine:
        return replace(old, loops=tuple(loop.moved(turn, shift) for loop in old.loops))

    def notch(old: Notch) -> Notch:
        return replace(old, at=old.at * turn + shift, out=old.out * turn)

    start, end = piece.flat.grain
    return replace(
        piece,
        flat=Flat(
            tuple(tuple(edge(old) for old in loop) for loop in piece.flat.loops),
            (start * turn + shift, end * turn + shift),
        ),
        cut_lines=tuple(line(old) for old in piece.cut_lines),
        notches=tuple(notch(old) for old in piece.notches),
    )


def notch_mark(notch: Notch, roof: float = 4.0, apart: float = 5.0) -> Stroke:
    """A stroke from the stitching line to the cutting line and a roof beyond it, ``roof`` mm high:
    marks snipped inwards vanish when an allowance is clipped. A double notch has two, ``apart`` mm
    from each other."""
    along = notch.out * 1j
    reach = max(notch.reach, 0.0)
    paths: list[Path] = []
    for k in range(notch.strokes):
        foot = notch.at + along * (k - (notch.strokes - 1) / 2) * apart
        edge = foot + notch.out * reach
        half, tip = along * roof / 2, edge + notch.out * roof
        paths.append(polyline(edge - half, tip, edge + half))
        if reach:
            paths.append(polyline(foot, edge))
    return Stroke(tuple(paths), "notch", {"edge": notch.edge, "seam": notch.seam})


def _words(piece: Piece, draft: Draft, setting: Setting, avoid: Sequence[Wall]) -> tuple[Item, ...]:
    stitch = walls(edge.path for edge in piece.flat.edges.values())
    cuts = walls(loop for line in piece.cut_lines for loop in line.loops)
    marks = [piece.flat.grain, *walls(p for n in piece.notches for p in notch_mark(n).paths)]
    lines = Lines.of([*stitch, *cuts, *marks, *avoid])
    placed: list[Text] = []
    tiles: list[Tile] = []
    for choices in (
        *_numbers(piece, draft),
        *_centres(piece, setting),
        *_line_names(piece, setting),
        grain_words(piece.flat.grain, setting, 4.0, 3.0),
    ):
        for text in choices:
            tile = text_tile(text, setting)
            if clear(tile.grown(0.5), lines, tiles):
                placed.append(text)
                tiles.append(tile.grown(1.0))
                break
    # Most often inside the stitching line; a piece too slight for that has the whole cloth.
    for outline in (stitch, walls(piece.cut_lines[0].loops)):
        block = _block(piece, draft, setting, outline, [*cuts, *marks, *avoid], tiles)
        if block:
            return (*placed, *block)
    return (*placed, *_beside(piece, draft, setting, cuts, [*stitch, *marks], tiles))


def _block(
    piece: Piece,
    draft: Draft,
    setting: Setting,
    outline: Sequence[Wall],
    lines: Sequence[Wall],
    tiles: Sequence[Tile],
) -> tuple[Item, ...]:
    """The piece's words as large as they fit inside an outline, or nothing."""
    box = box_round([point for wall in outline for point in wall])
    cell = max(min(box.width, box.height) / 100, 0.5)

    @cache
    def level(turn: complex) -> Room:
        return room(outline, lines, tiles, cell=cell, turn=turn)

    for airy, forms, turn in product(
        (True, False), tuple(blocks(piece, draft, setting)), _readings(piece)
    ):
        for block in forms:
            gap = max(block.size / 2, _AIR) if airy else _AIR
            spots = level(turn).spots(block.width(setting), block.height, gap)
            tile = spots.nearest(box.centre)
            if tile:
                return block.items(tile, setting)
    return ()


def _readings(piece: Piece) -> list[complex]:
    """Directions to read along: level, up the page, and along the longest straight line where
    that lies otherwise."""
    straight = [
        segment.end - segment.start
        for edge in piece.flat.edges.values()
        for segment in edge.path.segments
        if isinstance(segment, Line)
    ]
    along = unit(max(straight, key=abs)) if straight else 1
    if along.real < 0:
        along = -along
    oblique = min(abs(along.real), abs(along.imag)) > 1e-3
    return [1, -1j, along] if oblique else [1, -1j]


def _beside(
    piece: Piece,
    draft: Draft,
    setting: Setting,
    cuts: Sequence[Wall],
    lines: Sequence[Wall],
    tiles: Sequence[Tile],
) -> tuple[Item, ...]:
    """The words to the right of a piece that has no room for any, and a line that leads to it."""
    block = list(blocks(piece, draft, setting))[4][0]
    width, height = block.width(setting), block.height
    corners = [p for wall in (*cuts, *lines) for p in wall] + [c for t in tiles for c in t.corners]
    right = max(p.real for p in corners)
    edge = max((p for wall in cuts for p in wall), key=lambda p: (p.real, p.imag))
    tile = Tile(complex(right + 8 + width / 2, edge.imag), width, height)
    leader = polyline(complex(right + 6.5, edge.imag), edge)
    return Stroke((leader,), "leader"), *block.items(tile, setting)


def _line_names(piece: Piece, setting: Setting) -> Iterator[Iterator[Text]]:
    """Where one piece has several cutting lines, each names its cloths along it, on every loop."""
    if len(piece.cut_lines) < 2:
        return
    for line in piece.cut_lines[1:]:
        words = ", ".join(cloth_word(cloth) for cloth in line.cloths)
        for loop, edges in zip(line.loops, piece.flat.loops, strict=True):
            stitched = all(abs(line.allowance[edge.name]) <= TOGETHER for edge in edges)
            key = "mark.line.stitch" if stitched else "mark.line"
            yield _along(loop, setting.say(key, cloths=words), 3.0, setting)


def _along(path: Path, words: str, size: float, setting: Setting) -> Iterator[Text]:
    """Places for words close to a line, rather on the side where the cloth is."""
    length = path.length()
    half = setting.width(words, size) / 2
    shares = (0.69, 0.31, 0.81, 0.19, 0.56, 0.44, 0.94, 0.06, 0.75, 0.25, 0.87, 0.13, 0.62, 0.38)
    for side, share in product((1j, -1j), shares):
        at, along = path.at(share * length)
        away = along * side
        # On a curve, the line bends away from the words' middle or towards their ends.
        ends = [path.point_at((share * length + d) % length) for d in (-half, half)]
        bend = max(((end - at) * away.conjugate()).real for end in ends)
        for distance in (1.8, 3.0, 4.5, 6.0, 9.0):
            foot = at + away * (max(bend, 0.0) + distance)
            yield upright(foot, along, away, words, "label", size)


def reads(along: complex) -> bool:
    """Whether words along a direction are upright; straight up the page counts, down does not."""
    return along.real > 1e-9 or (abs(along.real) <= 1e-9 and along.imag < 0)


def upright(foot: Point, along: complex, away: complex, words: str, role: str, size: float) -> Text:
    """Words along a direction, on the ``away`` side of ``foot``, never upside down."""
    if not reads(along):
        along = -along
    # Letters stand on the baseline: below the line they hang by their full height.
    below = (away * along.conjugate()).imag > 0
    at = foot + away * size * (ABOVE if below else 0.22)
    return Text(at, words, role, size, "middle", math.degrees(cmath.phase(along)))


def _numbers(piece: Piece, draft: Draft) -> Iterator[Iterator[Text]]:
    """A small number at every notch of a seam that has several; notches of two seams at one place
    share their words."""
    letters = seam_letters(draft)
    counts = Counter((notch.edge, notch.seam) for notch in piece.notches)
    several = [notch for notch in piece.notches if counts[notch.edge, notch.seam] > 1]
    spots: dict[tuple[str, int, int], list[Notch]] = {}
    for notch in several:
        key = (notch.edge, round(notch.at.real * 2), round(notch.at.imag * 2))
        spots.setdefault(key, []).append(notch)
    for notches in spots.values():
        words = " ".join(f"{letters.get(n.seam, '')}{n.number}" for n in notches)
        yield _beside_notch(notches[0], words)


def _beside_notch(notch: Notch, words: str) -> Iterator[Text]:
    """Places for a notch's number: inside the stitching line, at the notch or a little along from
    it; in the allowance; beside the roof; beyond it."""
    along = notch.out * 1j
    edge = max(notch.reach, 0.0)
    inside = product((-3.6, -4.8, -6.0, -8.0), (0.0, 3.5, -3.5, 6.0, -6.0))
    outside = product((edge / 2, edge + 2.0, edge + 6.5, edge + 10.0), (3.5, -3.5, 5.5, -5.5, 0.0))
    for places in (list(inside), list(outside)):
        for size, (out, aside) in product((3.2, SMALLEST), places):
            middle = notch.at + notch.out * out + along * aside
            yield Text(middle + 1j * size * 0.27, words, "number", size, "middle")


def _centres(piece: Piece, setting: Setting) -> Iterator[Iterator[Text]]:
    """The words centre back and centre front at the round edge with most notches: round edges
    start at centre back."""
    rounds = [edge for edge in piece.flat.edges.values() if edge.round]
    if not rounds:
        return
    main = max(rounds, key=lambda edge: sum(n.edge == edge.name for n in piece.notches))
    yield _at_edge(main.path, 0.5, "mark.front", setting)
    yield _at_edge(main.path, 0.0, "mark.back", setting)
    if not main.path.closed:
        yield _at_edge(main.path, 1.0, "mark.back", setting)


def _at_edge(path: Path, share: float, key: str, setting: Setting) -> Iterator[Text]:
    """Places for words at a point of an edge, and for their initials where there is no room."""
    length = path.length()
    long, short = setting.say(key), setting.say(f"{key}.short")
    for (words, size), aside, distance in product(
        ((long, 4.0), (long, 3.0), (short, 3.0), (short, SMALLEST)),
        (0.0, 6.0, -6.0, 14.0, -14.0),
        (6.5, 9.0, 12.0, 16.0, 3.0, 20.0),
    ):
        half = setting.width(words, size) / 2
        along = share * length + aside
        if not path.closed:
            along = min(max(along, half + 4), length - half - 4)
        foot, way = path.at(along % length)
        yield upright(foot + way * 1j * distance, way, way * 1j, words, "label", size)


def grain_words(grain: tuple[Point, Point], setting: Setting, *sizes: float) -> Iterator[Text]:
    """Places for the word at a grain line."""
    start, end = grain
    along = unit(end - start)
    words = setting.say("mark.grain")
    for size, share, away in product(sizes, (0.3, 0.7, 0.5, 0.2, 0.8), (-1j, 1j)):
        foot = start + (end - start) * share + away * along * 0.8
        yield upright(foot, along, away * along, words, "label", size)
