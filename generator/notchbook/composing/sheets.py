"""The sheets of a full-size pattern: a drawing for each page, and all as one HTML document.

Neighbouring sheets meet at their frames: the left or upper one is trimmed along its frame there
and laid on the other's margin. What a page shows is cut to its frame, so nothing is on it twice.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from markupsafe import escape

from notchbook.composing import numbers
from notchbook.composing.cover import both, cover, licence
from notchbook.composing.drawing import Drawing, Item, Stroke, Text, moved
from notchbook.composing.markup.css import font_css
from notchbook.composing.markup.svg import svg
from notchbook.composing.paper import Paper
from notchbook.composing.placing import (
    Tile,
    Wall,
    bands,
    text_items,
    text_tile,
)
from notchbook.composing.setting import Setting
from notchbook.composing.sheet_pieces import kept_in, pieces_by_sheet
from notchbook.composing.symbols import SMALLEST
from notchbook.composing.taping import HEADER, MARK, Cell, Diagonal, Join, Plan, near, plan
from notchbook.drafting.draft import Draft
from notchbook.drafting.geometry.path import Arc, Box, Path, Point, circle, polyline

_NOTE = 2.8
"""Em of the words on crosses and in margins, mm."""


def sheets_html(draft: Draft, paper: Paper, setting: Setting) -> str:
    """The sheets as one HTML document whose pages are exactly the paper's size.

    Its faces are fetched from ``font:FILE``.
    """
    title = setting.say(
        "sheets.title",
        title=draft.recipe.title,
        size=draft.size.title,
        paper=setting.say(f"sheets.paper.{paper.name}"),
    )
    pages = "\n".join(
        svg(drawing, prefix=f"s{number}-", setting=setting)
        for number, drawing in enumerate(sheets(draft, paper, setting), start=1)
    )
    return (
        f'<!DOCTYPE html>\n<html lang="{setting.catalogue.language}">\n<head>\n'
        f'<meta charset="utf-8">\n<title>{escape(title)}</title>\n'
        f"<style>\n{font_css(setting.typefaces, lambda face: f'font:{face.file}')}"
        f"@page{{size:{paper.width:g}mm {paper.height:g}mm;margin:0}}\n"
        "body{margin:0}svg{display:block;break-after:page}svg:last-child{break-after:auto}\n"
        f"</style>\n</head>\n<body>\n{pages}\n</body>\n</html>\n"
    )


def sheets(draft: Draft, paper: Paper, setting: Setting) -> tuple[Drawing, ...]:
    """A drawing for each sheet, the cover first, in the coordinates of the paper."""
    made = plan(draft, paper)
    marks = {cell: tuple(_marks(cell, made, setting)) for cell in made.numbers}
    groups = pieces_by_sheet(
        draft, made, [item for items in marks.values() for item in items], setting
    )
    return (
        cover(draft, made, paper, setting),
        *(
            _sheet(cell, made, draft, paper, setting, (*marks[cell], *groups[cell]))
            for cell in made.numbers
        ),
    )


def _sheet(
    cell: Cell,
    made: Plan,
    draft: Draft,
    paper: Paper,
    setting: Setting,
    items: Sequence[Item],
) -> Drawing:
    box = made.box(cell)
    corner = complex(paper.margin, paper.margin + HEADER)
    names = ", ".join(draft.pieces[name].title for name in made.carries[cell])
    return Drawing(
        Box(0, complex(paper.width, paper.height)),
        (
            *_header(cell, made, draft, paper, setting),
            *(moved(item, shift=corner - box.low) for item in items),
        ),
        setting.say("sheets.alt", number=made.numbers[cell], total=made.total, pieces=names),
    )


def _header(cell: Cell, made: Plan, draft: Draft, paper: Paper, setting: Setting) -> Iterator[Item]:
    """What the sheet is, above its frame."""
    left, top, right = paper.margin, paper.margin, paper.width - paper.margin
    number = str(made.numbers[cell])
    recipe = draft.recipe
    yield Text(complex(left, top + 5.6), number, "name", 7.5)
    indent = left + setting.width(number, 7.5, 700) + 2.5
    head = setting.say(
        "sheet.head", title=recipe.title, size=draft.size.title, edition=recipe.edition.number
    )
    place = setting.say(
        "sheet.place", number=number, total=made.total, row=cell[1] + 1, column=cell[0] + 1
    )
    yield Text(complex(indent, top + 2.4), head, "strong", 3.2)
    yield Text(complex(right - 2, top + 2.4), place, "strong", 3.2, "end")
    yield Text(complex(indent, top + 5.6), licence(draft, setting), "note", SMALLEST)


# The marks of a sheet, in the coordinates of the taped pattern.


def _marks(cell: Cell, made: Plan, setting: Setting) -> Iterator[Item]:
    own = [join for join in made.joins if cell in (join.first, join.second)]
    box = made.box(cell)
    for join in own:
        yield from _join(join, cell, box, made, setting)
    tiles = [Tile(at, 2 * MARK + 2, 2 * MARK + 2) for join in own for at in join.marks]
    for diagonal in made.diagonals:
        for end, (where, at) in enumerate(diagonal.ends):
            if where == cell:
                lines = near(made.lines, box)
                other = made.numbers[diagonal.ends[1 - end][0]]
                items = _cross(diagonal, at, other, box, lines, tiles, setting)
                tiles += [text_tile(text, setting) for text in text_items(items)]
                yield from items


def _join(join: Join, cell: Cell, box: Box, made: Plan, setting: Setting) -> Iterator[Item]:
    """This sheet's share of a join: the line, its halves of the completing marks, the letter, and
    in the margin which sheet comes here and which of the two is trimmed."""
    first = cell == join.first
    other = made.numbers[join.second if first else join.first]
    inward = (1 if join.beside else 1j) * (-1 if first else 1)
    along = abs(inward.real) * 1j + abs(inward.imag)
    line = (
        (box.high.real, box.low.imag, box.high.real, box.high.imag) if join.beside and first
        else (box.low.real, box.low.imag, box.low.real, box.high.imag) if join.beside
        else (box.low.real, box.high.imag, box.high.real, box.high.imag) if first
        else (box.low.real, box.low.imag, box.high.real, box.low.imag)
    )  # fmt: skip
    start, end = complex(*line[:2]), complex(*line[2:])
    # The line to trim along runs on into the margins, so that scissors find it.
    beyond = along * 5 if first else 0
    yield Stroke((polyline(start - beyond, end + beyond),), "frame")
    for at in join.marks:
        # Diamonds between sheets side by side, circles between sheets one below the other.
        if join.beside:
            half = polyline(at - along * MARK, at + inward * MARK, at + along * MARK)
        else:
            half = Path((Arc(at, MARK, math.pi if first else 0.0, math.pi),))
        yield Stroke((half,), "join")
        letter = at + inward * MARK * 0.42 + 1j * 4.5 * 0.34
        yield Text(letter, join.letter, "name", 4.5, "middle")
    words = setting.say("sheet.trim" if first else "sheet.under", number=other)
    if join.beside:
        at = (start + end) / 2 - inward * 1.6
        yield Text(at, words, "note", SMALLEST, "middle", 90.0 if first else -90.0)
    elif first:
        yield Text((start + end) / 2 + 1j * 3.6, words, "note", SMALLEST, "middle")
    else:
        yield Text(end - 2 - 2.4j, words, "note", SMALLEST, "end")


def _cross(
    diagonal: Diagonal,
    at: Point,
    other: int,
    box: Box,
    lines: Sequence[Wall],
    tiles: Sequence[Tile],
    setting: Setting,
) -> tuple[Item, ...]:
    """A cross in a ring, and beside it how far the other one is."""
    arm = 4.0
    cross = (polyline(at - arm, at + arm), polyline(at - arm * 1j, at + arm * 1j), circle(at, 2.0))
    length = both(numbers.radius(diagonal.length), setting)
    words = setting.say("sheet.cross", number=diagonal.number, sheet=other, length=length)
    width, height = setting.width(words, _NOTE, 700), _NOTE * 1.1
    sheet = _outline(box)
    ring = Tile(at, 2 * arm + 1, 2 * arm + 1)
    place = bands(sheet, lines, (*tiles, ring)).nearest(width, height, at, 1.0)
    # Where lines leave no room, words go over them rather than away from their cross.
    centre = place.centre if place else at + complex(width / 2 + 6, 0)
    spot = kept_in(Tile(centre, width, height), box)
    return (
        Stroke(cross, "join"),
        Text(spot + 1j * _NOTE * 0.27, words, "strong", _NOTE, "middle"),
    )


def _outline(box: Box) -> list[Wall]:
    corners = Tile(box.centre, box.width, box.height).corners
    return [(corners[k - 1], corners[k]) for k in range(4)]
