"""The pieces of a pattern cut to its sheets: every line exactly, every word whole on one sheet."""

from __future__ import annotations

import cmath
import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import partial

from notchbook.composing.called import size_title
from notchbook.composing.drawing import Fill, Group, Item, Stroke, Text
from notchbook.composing.lettering.placing import (
    Tile,
    Wall,
    stroke_walls,
    text_items,
    text_tile,
    walls,
)
from notchbook.composing.lettering.room import room
from notchbook.composing.pieces.drawn import draw_piece
from notchbook.composing.setting import Setting
from notchbook.composing.sheets.arranging import NoRoom
from notchbook.composing.sheets.joins import MARK, Cell
from notchbook.composing.sheets.taping import Plan, blank_walls
from notchbook.drafting.draft import Draft, Piece, Placed
from notchbook.drafting.geometry.box import Box
from notchbook.drafting.geometry.clip import clip
from notchbook.drafting.geometry.path import Path, polyline
from notchbook.drafting.geometry.polygon import box_round, cut_off
from notchbook.drafting.geometry.vector import Point, dot
from notchbook.drafting.limits import mm

_NAME = 3.5
"""Em of a piece's name on sheets that don't carry its own words, mm."""

_APART = 5.0
"""Between that name and words on its own line, so that they aren't read as one, mm."""


def pieces_by_sheet(
    draft: Draft, made: Plan, marks: Sequence[Item], setting: Setting
) -> dict[Cell, list[Item]]:
    """What each sheet shows of the pieces. Words keep off the ``marks`` that are there already,
    and every sheet that a piece is on names it where there is room."""
    taken = [
        *(text_tile(text, setting) for text in text_items(marks)),
        *(Tile(at, 2 * MARK + 1, 2 * MARK + 1) for join in made.joins for at in join.marks),
        *(Tile(at, 9.0, 9.0) for diagonal in made.diagonals for _, at in diagonal.ends),
    ]
    gaps = blank_walls(made)
    found: dict[Cell, list[Item]] = {cell: [] for cell in made.numbers}
    for placed in made.placed:
        piece = draft.pieces[placed.piece]
        cells = [cell for cell, names in made.carries.items() if piece.name in names]
        boxes = [made.box(cell) for cell in cells]
        near = [tile for tile in taken if any(_over(tile, box) for box in boxes)]
        seams = [side for box in boxes for side in _frame(box).sides]
        drawn = draw_piece(
            piece,
            draft,
            setting,
            turn=placed.turn,
            shift=placed.shift,
            avoid=[*seams, *gaps, *(line for tile in near for line in _crossed(tile))],
            folds=made.folds.get(piece.name, ()),
        )
        words = _words_by_sheet(drawn, cells, made, setting)
        names = _names(piece, placed, drawn, words, near, seams, made, draft, setting)
        for cell, box in zip(cells, boxes, strict=True):
            items = [part for child in drawn.items for part in _clipped(child, box)]
            items += [*words[cell], *names.get(cell, ())]
            found[cell].append(replace(drawn, items=tuple(items)))
    return found


def _over(tile: Tile, box: Box) -> bool:
    """Whether a tile lies at least partly in a box."""
    round_ = box_round(tile.corners)
    return (
        round_.high.real > box.low.real
        and round_.low.real < box.high.real
        and round_.high.imag > box.low.imag
        and round_.low.imag < box.high.imag
    )


def _names(
    piece: Piece,
    placed: Placed,
    drawn: Group,
    words: dict[Cell, list[Text]],
    taken: Sequence[Tile],
    seams: Sequence[Wall],
    made: Plan,
    draft: Draft,
    setting: Setting,
) -> dict[Cell, list[Text]]:
    """The piece's name in the middle of every sheet that carries it without its words."""
    bare = [cell for cell, texts in words.items() if not any(t.role == "name" for t in texts)]
    outlines = walls(
        loop.moved(placed.turn, placed.shift)
        for region in made.regions[piece.name][:1]
        for loop in region
    )
    lines = [*stroke_walls((drawn,)), *seams]
    said = [text_tile(text, setting) for texts in words.values() for text in texts]
    tiles = [*taken, *(replace(tile, width=tile.width + 2 * _APART) for tile in said)]
    name = setting.say("sheet.part", piece=piece.title, size=size_title(draft, setting))
    width = setting.width(name, _NAME, 700)
    found: dict[Cell, list[Text]] = {}
    for turn in (1, -1j):
        left = [cell for cell in bare if cell not in found]
        if not left:
            break
        spots = room(outlines, lines, tiles, cell=2.5, turn=turn).spots(width, _NAME * 1.1, 1.0)
        for cell in left:
            tile = spots.nearest(made.box(cell).centre)
            if tile and abs(kept_in(tile, made.box(cell)) - tile.centre) < 1e-6:
                at = tile.centre + turn * 1j * _NAME * 0.27
                angle = math.degrees(cmath.phase(turn))
                found[cell] = [Text(at, name, "strong", _NAME, "middle", angle)]
    return found


def _words_by_sheet(
    drawn: Group, cells: Sequence[Cell], made: Plan, setting: Setting
) -> dict[Cell, list[Text]]:
    """Every text on the sheet its middle is on or nearest to, moved inside if need be."""
    found: dict[Cell, list[Text]] = {cell: [] for cell in cells}
    for text in text_items((drawn,)):
        tile = text_tile(text, setting)
        away = {
            cell: abs(kept_in(Tile(tile.centre, 0, 0), made.box(cell)) - tile.centre)
            for cell in cells
        }
        home = min(cells, key=lambda cell: away[cell])
        shift = kept_in(tile, made.box(home)) - tile.centre
        longest = made.width if abs(tile.along.real) > abs(tile.along.imag) else made.height
        if tile.width > longest:
            what = (
                f"“{text.text}” is {mm(tile.width)} long on its piece, and a sheet of "
                f"{setting.say('sheets.paper.' + made.paper)} has room for {mm(longest)}."
            )
            raise NoRoom(what, "Shorten the titles of the recipe's pieces, seams and sizes.")
        found[home].append(replace(text, at=text.at + shift))
    return found


def kept_in(tile: Tile, box: Box) -> Point:
    """Where a tile's middle has to be for the tile to be inside a box."""
    corners = box_round(tile.corners)
    half = complex(corners.width / 2, corners.height / 2)
    low, high = box.low + half, box.high - half
    return complex(
        min(max(tile.centre.real, low.real), high.real),
        min(max(tile.centre.imag, low.imag), high.imag),
    )


def _clipped(item: Item, box: Box) -> Iterator[Item]:
    """The part of a drawn item that lies on a sheet; words are dealt with apart."""
    match item:
        case Stroke(paths=paths):
            parts = tuple(part for path in paths for part in clip(path, box))
            if parts:
                yield replace(item, paths=parts)
        case Fill(paths=paths):
            parts = tuple(part for path in paths for part in _filled(path, box))
            if parts:
                yield replace(item, paths=parts)
        case Group(items=children):
            for child in children:
                yield from _clipped(child, box)
        case Text():
            return


def _filled(path: Path, box: Box) -> Iterator[Path]:
    """A small filled shape cut to a box, side by side."""
    points = path.points()[:-1]
    for inward, border in ((1, box.low), (1j, box.low), (-1, box.high), (-1j, box.high)):
        points = cut_off(points, partial(_depth, border, inward))
    if len(points) > 2:
        yield polyline(*points, points[0])


def _depth(border: Point, inward: complex, point: Point) -> float:
    return dot(point - border, inward)


def _crossed(tile: Tile) -> list[Wall]:
    a, b, c, d = tile.corners
    return [*tile.sides, (a, c), (b, d)]


def _frame(box: Box) -> Tile:
    return Tile(box.centre, box.width, box.height)
