"""The pieces of a draft as programs for cutting rooms read them: plain values, to be written as
DXF.

Layers and texts follow the published practice for sewn products (ASTM D6673, *Standard Practice for
Sewn Products Pattern Data Interchange—Data Format*): a block for each piece, inserted once; the
boundary is the cutting line, and what is sewn lies inside it. Lengths are millimetres, y runs up,
and curves are polygons whose chords stay within ``CHORD`` of them.

A piece in the practice is cut from one material, so what is cut from several cloths here is a piece
for each. One that its recipe prints in half is half a piece with a mirror line.
"""

from __future__ import annotations

import math
from cmath import phase
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from notchbook.composing.called import size_title
from notchbook.composing.names import plain
from notchbook.composing.pattern import GAP, ROW, in_rows
from notchbook.composing.pieces.drawn import notch_feet, shown
from notchbook.composing.pieces.folds import fold_lines
from notchbook.composing.pieces.inner import inner_paths
from notchbook.composing.pieces.text import counted
from notchbook.composing.setting import Setting
from notchbook.drafting.draft import Draft, Piece
from notchbook.drafting.geometry.path import Path
from notchbook.drafting.geometry.polygon import box_round
from notchbook.drafting.geometry.vector import Point
from notchbook.drafting.packing.folding import Fold, closed_part, folds, part

CHORD = 0.02
"""How far a chord may miss its curve, mm."""

BOUNDARY, NOTCH, MIRROR, GRAIN, INTERNAL, CUTOUT, SEW, ANNOTATION = 1, 4, 6, 7, 8, 11, 14, 15
"""The practice's layers. Texts that begin with one of its key words stand on the boundary's."""

_EM = 5.0
"""Height of texts, mm."""


@dataclass(frozen=True, slots=True)
class Polygon:
    """Straight lines from point to point, and back to the first where it is closed."""

    layer: int
    points: tuple[Point, ...]
    closed: bool = False


@dataclass(frozen=True, slots=True)
class Dot:
    """A notch: where it is on the boundary, and which way it goes into the cloth (degrees,
    anticlockwise from the right)."""

    layer: int
    at: Point
    angle: float


@dataclass(frozen=True, slots=True)
class Note:
    """A line of text, ``em`` mm high."""

    layer: int
    at: Point
    text: str
    em: float = _EM


@dataclass(frozen=True, slots=True)
class Block:
    """A piece in its own coordinates, and where these begin in the drawing."""

    name: str
    at: Point
    polygons: tuple[Polygon, ...]
    notches: tuple[Dot, ...]
    notes: tuple[Note, ...]


@dataclass(frozen=True, slots=True)
class Interchange:
    """The drawing: what is said of the whole, and its blocks."""

    notes: tuple[Note, ...]
    blocks: tuple[Block, ...]


def interchange(draft: Draft, setting: Setting) -> Interchange:
    """Every piece of a draft, once for each cloth."""
    halves = folds(draft)
    blocks = [
        _block(piece, cloth, draft, halves.get(name, ())[:1], setting)
        for name, piece in draft.pieces.items()
        for cloth in piece.counts
    ]
    # Rows run down the page there, up here.
    boxes = [
        box_round([p.conjugate() for each in block.polygons for p in each.points])
        for block in blocks
    ]
    shifts, _ = in_rows(boxes, ROW)
    recipe = draft.recipe
    said = (
        f"Style Name: {recipe.title}",
        f"Sample Size: {size_title(draft, setting)}",
        f"Creation Date: {recipe.edition.date}",
        f"Author: {setting.workshop.maker or setting.workshop.title}",
        "Units: METRIC",
    )
    return Interchange(
        _notes(said, BOUNDARY, complex(0, GAP + len(said) * 2 * _EM)),
        tuple(
            replace(block, at=shift.conjugate())
            for block, shift in zip(blocks, shifts, strict=True)
        ),
    )


def _block(
    piece: Piece, cloth: str, draft: Draft, lines: Sequence[Fold], setting: Setting
) -> Block:  # fmt: skip
    line = piece.cut_line(cloth)
    whole = replace(piece, cut_lines=(line,))
    part_of = shown(whole, lines)
    outline, *holes = (loop for each in line.loops if (loop := _loop(each, lines)))
    inside = [*fold_lines(part_of), *inner_paths(part_of.lines)]
    several = len(piece.counts) > 1
    name = f"{piece.title}, {plain(cloth)}" if several else piece.title
    said = (
        f"Piece Name: {name}",
        f"Size: {size_title(draft, setting)}",
        f"Quantity: {piece.counts[cloth]}",
        f"Material: {plain(cloth)}",
    )
    notes = (
        setting.say("mark.cut", cloths=counted(piece, (cloth,), plain, setting)),
        f"{draft.recipe.title}, {setting.say('mark.edition', edition=draft.recipe.edition.number)}",
    )
    grain = part_of.flat.grain
    # Beside the grain line, below its upper end.
    at = _up(min(grain, key=lambda p: p.imag)) + complex(_EM, -2 * _EM)
    return Block(
        name=f"{piece.name}-{cloth}" if several else piece.name,
        at=0,
        polygons=(
            _polygon(BOUNDARY, outline),
            *(_polygon(CUTOUT, hole) for hole in holes),
            *(Polygon(MIRROR, tuple(map(_up, _mirror(outline, fold)))) for fold in lines),
            Polygon(GRAIN, tuple(map(_up, grain))),
            *_parts(SEW, (edge.path for edge in piece.flat.edges.values()), lines),
            *_parts(INTERNAL, inside, lines),
        ),
        notches=tuple(_dots(part_of)),
        notes=(
            *_notes(said, BOUNDARY, at),
            *_notes(notes, ANNOTATION, at - 2j * _EM * len(said)),
        ),
    )


def _up(point: Point) -> Point:
    """Drafts measure down the page, DXF up."""
    return point.conjugate()


def _loop(loop: Path, lines: Sequence[Fold]) -> Path | None:
    return closed_part(loop, lines) if lines else loop


def _polygon(layer: int, path: Path) -> Polygon:
    points = tuple(map(_up, path.points(CHORD)))
    return Polygon(layer, points[:-1] if path.closed else points, path.closed)


def _parts(layer: int, paths: Iterable[Path], lines: Sequence[Fold]) -> Iterator[Polygon]:
    for path in paths:
        for kept in part(path, lines):
            yield _polygon(layer, kept)


def _mirror(outline: Path, fold: Fold) -> tuple[Point, Point]:
    """The stretch of an outline along a fold."""
    on = [p for p in outline.points() if abs(fold.depth(p)) < 1e-6]

    def along(point: Point) -> float:
        return ((point - fold.at) * fold.along.conjugate()).real

    return min(on, key=along), max(on, key=along)


def _dots(piece: Piece) -> Iterator[Dot]:
    for notch in piece.notches:
        for foot in notch_feet(notch):
            at = foot + notch.out * piece.cut_lines[0].allowance[notch.edge]
            yield Dot(NOTCH, _up(at), math.degrees(phase(_up(-notch.out))) % 360)


def _notes(texts: Sequence[str], layer: int, at: Point) -> tuple[Note, ...]:
    """One below the other."""
    return tuple(Note(layer, at - 2j * _EM * k, text) for k, text in enumerate(texts))
