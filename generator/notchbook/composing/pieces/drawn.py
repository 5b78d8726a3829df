"""One pattern piece as it is printed: its lines, its marks and its words."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from functools import cache
from itertools import product

from notchbook.composing.drawing import Fill, Group, Item, Stroke, Text
from notchbook.composing.lettering.placing import Lines, Tile, Wall, clear, text_tile, walls
from notchbook.composing.lettering.room import Room, room
from notchbook.composing.pieces.arrows import grain_line
from notchbook.composing.pieces.beside import words_beside
from notchbook.composing.pieces.folds import fold_lines, fold_marks
from notchbook.composing.pieces.inner import inner_marks, inner_paths, inner_titles
from notchbook.composing.pieces.text import blocks
from notchbook.composing.pieces.words import (
    centres,
    fold_words,
    grain_words,
    line_names,
    numbers,
)
from notchbook.composing.setting import Setting
from notchbook.composing.symbols import cutting_line
from notchbook.drafting.allowance import TOGETHER
from notchbook.drafting.draft import CutLine, Draft, Notch, Piece
from notchbook.drafting.geometry.path import Path, polyline
from notchbook.drafting.geometry.polygon import box_round
from notchbook.drafting.geometry.segments import Line
from notchbook.drafting.geometry.vector import Point, unit
from notchbook.drafting.packing.folding import TRUE, Fold, closed_part, part, twin
from notchbook.drafting.packing.folding import chords as fold_chords
from notchbook.drafting.shape import Edge, Flat

APART = 5.0
"""Between the strokes of a double notch, mm."""

_AIR = 1.5
"""Kept free round every block of words, mm."""

_ASIDE = 10.0
"""A grain line keeps this far from a fold, mm."""


def draw_piece(
    piece: Piece,
    draft: Draft,
    setting: Setting,
    *,
    turn: complex = 1,
    shift: Point = 0,
    avoid: Sequence[Wall] = (),
    folds: Sequence[Fold] = (),
    around: Room | None = None,
) -> Group:
    """The piece with every point p at ``p * turn + shift``, its words upright; only what is on the
    printed side of its ``folds``.

    A ``path.cut`` for each cutting line (with its holes), a ``path.stitch`` for each edge, its
    notches, a ``path.line`` for each line inside it, its grain line, and what it says about itself:
    inside the stitching line where there is room, otherwise beside the piece, in the room
    ``around`` it where that is known. Words keep off the lines to ``avoid``. Where a further cloth
    is cut on the stitching line itself, only that line is seen, and words say so.
    """
    laid = _laid(piece, turn, shift)
    lines = tuple(fold.moved(turn, shift) for fold in folds)
    edges = laid.flat.edges
    cuts = [
        _stroke(line.loops, cutting_line(k), lines, {"cloth": " ".join(line.cloths)})
        for k, line in enumerate(laid.cut_lines)
    ]
    bared = [
        _stroke((edges[name].path,), "bare", lines) for name in edges if _on_stitches(laid, name)
    ]
    stitches = [
        _stroke((edge.path,), "stitch", lines, {"edge": name}) for name, edge in edges.items()
    ]
    seen = shown(laid, lines)
    notches = [
        _stroke(mark.paths, mark.role, lines, mark.data) for mark in map(notch_mark, seen.notches)
    ]
    drawn = [stroke for stroke in (*cuts, *bared, *stitches) if stroke.paths]
    chords = [Stroke((chord,), "fold") for chord in fold_chords(laid, lines)]
    inner = (*fold_marks(laid), *(_kept(mark, lines) for mark in inner_marks(laid.lines)))
    marks = (*drawn, *inner, *notches, *chords, *grain_line(seen.flat.grain))
    return Group(
        (*marks, *_words(laid, seen, lines, draft, setting, avoid, around)),
        id=f"piece-{piece.name}",
        title=piece.title,
        data={"piece": piece.name},
    )


def _stroke(
    paths: Iterable[Path], role: str, lines: Sequence[Fold], data: Mapping[str, str] | None = None
) -> Stroke:
    return Stroke(tuple(kept for path in paths for kept in part(path, lines)), role, data or {})


def _kept(item: Item, lines: Sequence[Fold]) -> Item:
    """As much of a mark as is on the printed side of the folds."""
    if not lines or not isinstance(item, Stroke | Fill):
        return item
    if isinstance(item, Fill):
        heads = tuple(p for p in item.paths if all(line.depth(p.start) > 0 for line in lines))
        return replace(item, paths=heads)
    return _stroke(item.paths, item.role, lines, item.data)


def shown(piece: Piece, lines: Sequence[Fold]) -> Piece:
    """The piece with only the notches on the printed side of its folds, its grain line there."""
    start, end = piece.flat.grain
    for line in lines:
        if abs(line.depth(start)) < _ASIDE and abs(line.depth(end)) < _ASIDE:
            # It runs along the fold: beside it, it can be told from it.
            start, end = (p + line.along * -1j * _ASIDE for p in (start, end))
        elif line.depth(start) * line.depth(end) < 0:
            share = line.depth(start) / (line.depth(start) - line.depth(end))
            fold, air = start + (end - start) * share, unit(end - start) * _ASIDE
            start, end = (fold + air, end) if line.depth(end) > 0 else (start, fold - air)
    kept = tuple(n for n in piece.notches if all(line.depth(n.at) > -TRUE for line in lines))
    return replace(piece, notches=kept, flat=replace(piece.flat, grain=(start, end)))


def _on_stitches(piece: Piece, edge: str) -> bool:
    """Whether a broken cutting line lies on an edge's dashes, where two patterns of strokes would
    make a third that means nothing."""
    first, *others = (abs(line.allowance[edge]) for line in piece.cut_lines)
    return first > TOGETHER and any(gap <= TOGETHER for gap in others)


def _laid(piece: Piece, turn: complex, shift: Point) -> Piece:
    """The piece moved to where it is drawn."""

    def edge(old: Edge) -> Edge:
        return replace(old, path=old.path.moved(turn, shift))

    def line(old: CutLine) -> CutLine:
        return replace(old, loops=tuple(loop.moved(turn, shift) for loop in old.loops))

    def notch(old: Notch) -> Notch:
        return replace(old, at=old.at * turn + shift, out=old.out * turn)

    def way(old: tuple[Point, complex]) -> tuple[Point, complex]:
        return old[0] * turn + shift, old[1] * turn

    start, end = piece.flat.grain
    return replace(
        piece,
        flat=Flat(
            tuple(tuple(edge(old) for old in loop) for loop in piece.flat.loops),
            (start * turn + shift, end * turn + shift),
            tuple(dart.moved(turn, shift) for dart in piece.flat.darts),
        ),
        cut_lines=tuple(line(old) for old in piece.cut_lines),
        notches=tuple(notch(old) for old in piece.notches),
        pleats=tuple(replace(old, fold=way(old.fold), onto=way(old.onto)) for old in piece.pleats),
        lines=tuple(old.moved(turn, shift) for old in piece.lines),
    )


def notch_feet(notch: Notch, apart: float = APART) -> list[Point]:
    """Where the strokes of a notch stand on the stitching line, ``apart`` mm from each other."""
    half = (notch.strokes - 1) / 2
    return [notch.at + notch.out * 1j * (k - half) * apart for k in range(notch.strokes)]


def notch_mark(notch: Notch, roof: float = 4.0, apart: float = APART) -> Stroke:
    """A stroke from the stitching line to the cutting line and a roof beyond it, ``roof`` mm high:
    marks snipped inwards vanish when an allowance is clipped. A double notch has two, ``apart`` mm
    from each other."""
    along = notch.out * 1j
    reach = max(notch.reach, 0.0)
    paths: list[Path] = []
    for foot in notch_feet(notch, apart):
        edge = foot + notch.out * reach
        half, tip = along * roof / 2, edge + notch.out * roof
        paths.append(polyline(edge - half, tip, edge + half))
        if reach:
            paths.append(polyline(foot, edge))
    return Stroke(tuple(paths), "notch", {"edge": notch.edge, "seam": notch.seam})


def _words(
    whole: Piece,
    piece: Piece,
    lines: Sequence[Fold],
    draft: Draft,
    setting: Setting,
    avoid: Sequence[Wall],
    around: Room | None,
) -> tuple[Item, ...]:
    """``piece`` is what is printed of the ``whole``."""
    stitch = walls(_closed(whole.flat.outline(), lines))
    cuts = walls(_closed((loop for line in whole.cut_lines for loop in line.loops), lines))
    marks = [
        piece.flat.grain,
        *walls(fold_lines(piece)),
        *walls(inner_paths(piece.lines)),
        *walls(p for n in piece.notches for p in notch_mark(n).paths),
    ]
    drawn = Lines.of([*stitch, *cuts, *marks, *avoid])
    placed: list[Text] = []
    tiles: list[Tile] = []
    for choices in (
        *fold_words(fold_chords(whole, lines), setting),
        *numbers(piece, draft, lambda notch: twin(notch, whole, lines)),
        *centres(whole, setting),
        *line_names(whole, setting),
        *inner_titles(piece.lines, setting),
        grain_words(piece.flat.grain, setting, 4.0, 3.0),
    ):
        for text in choices:
            tile = text_tile(text, setting)
            if clear(tile.grown(0.5), drawn, tiles) and _on_print(tile, lines):
                placed.append(text)
                tiles.append(tile.grown(1.0))
                break
    # Most often inside the stitching line; a piece too slight for that has the whole cloth.
    for outline in (stitch, walls(_closed(whole.cut_lines[0].loops, lines))):
        block = _block(piece, draft, setting, outline, [*cuts, *marks, *avoid], tiles)
        if block:
            return (*placed, *block)
    corners = [p for wall in (*stitch, *cuts, *marks) for p in wall]
    right = max(p.real for p in [*corners, *(c for tile in tiles for c in tile.corners)])
    return (*placed, *words_beside(piece, draft, setting, cuts, right, around))


def _closed(loops: Iterable[Path], lines: Sequence[Fold]) -> list[Path]:
    if not lines:
        return list(loops)
    return [kept for loop in loops if (kept := closed_part(loop, lines))]


def _on_print(tile: Tile, lines: Sequence[Fold]) -> bool:
    """Whether words are on the printed side of every fold."""
    return all(line.depth(corner) > 0 for line in lines for corner in tile.corners)


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
