"""The sheets of a full-size pattern: a drawing for each page, and all as one HTML document.

Neighbouring sheets meet at their frames: the left or upper one is trimmed along its frame there
and laid on the other's margin. What a page shows is cut to its frame, so nothing is on it twice.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Iterator, Sequence
from itertools import product

from markupsafe import Markup

from notchbook.composing import numbers
from notchbook.composing.called import size_title
from notchbook.composing.drawing import Drawing, Item, Stroke, Text, moved
from notchbook.composing.lettering.paragraph import wrapped
from notchbook.composing.lettering.placing import Tile, text_items, text_tile
from notchbook.composing.lettering.room import room
from notchbook.composing.markup.html import printed
from notchbook.composing.markup.svg import svg
from notchbook.composing.pairs import both
from notchbook.composing.paper import Paper
from notchbook.composing.setting import Setting
from notchbook.composing.sheets.cover import block, cover, licence
from notchbook.composing.sheets.joins import MARK, Cell, Diagonal, Join
from notchbook.composing.sheets.parts import pieces_by_sheet
from notchbook.composing.sheets.projection import THICK, projection
from notchbook.composing.sheets.taping import Plan, plan
from notchbook.composing.symbols import SMALLEST
from notchbook.composing.values import curled, words
from notchbook.drafting.draft import Draft
from notchbook.drafting.geometry.box import Box
from notchbook.drafting.geometry.path import Path, circle, polyline
from notchbook.drafting.geometry.segments import Arc
from notchbook.drafting.geometry.vector import Point

_NUMBER = 7.5
"""Em of a sheet's number, mm."""

_NOTE = 2.8
"""Em of the words on crosses and in margins, mm."""

_REACH = 45.0
"""The words of a cross begin no farther from it, mm."""


def page_size(made: Plan, setting: Setting) -> str:
    """A page's width and height in words."""
    across, down = (
        both(numbers.length(side), setting) for side in (made.page.real, made.page.imag)
    )
    return setting.say("sheet.size", width=across, height=down)


def sheets_html(draft: Draft, paper: Paper, setting: Setting) -> str:
    """The sheets as one HTML document whose pages are exactly the paper's size.

    What stands above each sheet's frame is HTML: in SVG the printing software sets words letter by
    letter, which takes ten times as long.
    """
    made = plan(draft, paper)
    title = setting.say(
        "sheets.title",
        title=draft.recipe.title,
        size=size_title(draft, setting),
        paper=setting.say(f"sheets.paper.{paper.name}"),
    )
    drawings = sheets(draft, made, paper, setting)
    if paper.kind == "projection":
        headers = [Markup()]
    else:
        own = [_header(cell, made, draft, paper, setting) for cell in made.numbers]
        more = [Markup()] * (len(drawings) - len(own))
        headers = [*more, *own] if paper.kind == "home" else [*own, *more]
    size = THICK if paper.kind == "projection" else 1.0
    pages = "\n".join(
        f"<section>{header}"
        f"{svg(drawing, prefix=f's{number}-', setting=setting, size=size)}</section>"
        for number, (header, drawing) in enumerate(zip(headers, drawings, strict=True), start=1)
    )
    return printed(setting, title, made.page, _style(made, paper, setting), pages)


def _header(cell: Cell, made: Plan, draft: Draft, paper: Paper, setting: Setting) -> Markup:
    """What the sheet is, above its frame."""
    recipe, number, say = draft.recipe, made.numbers[cell], setting.catalogue.words
    # What a copy shop is to do stands on every page it gets.
    size = page_size(made, setting)
    told = "" if paper.kind == "home" else setting.say("sheet.shop", size=size)
    place = say["sheet.place" if made.total > 1 else "sheet.only"]
    return Markup("<header><b>{}</b><span>{}</span>{}<br><small>{}</small>{}</header>").format(
        number,
        words(place, number=number, total=made.total, row=cell[1] + 1, column=cell[0] + 1),
        words(
            say["sheet.head"],
            title=recipe.title,
            size=size_title(draft, setting),
            edition=recipe.edition.number,
        ),
        curled(licence(draft, setting)),
        Markup(" <small><b>{}</b></small>").format(curled(told)) if told else "",
    )


def _style(made: Plan, paper: Paper, setting: Setting) -> str:
    side, indent = paper.margin, setting.width(str(made.total), _NUMBER, 700) + 2.5
    return (
        "body{margin:0}section{position:relative;break-after:page}"
        "section:last-child{break-after:auto}svg{display:block}\n"
        f"header{{position:absolute;left:{side:g}mm;right:{side + 2:g}mm;top:{side - 0.6:.4g}mm;"
        f"padding-left:{indent:.4g}mm;font:700 3.2mm/1.1 var(--label);white-space:nowrap}}\n"
        f"header>b{{position:absolute;left:0;top:-0.8mm;font-size:{_NUMBER:g}mm;line-height:1}}"
        "header span{position:absolute;right:0;top:0}"
        f"header small{{font-size:{SMALLEST:g}mm;font-weight:400}}\n"
    )


def sheets(draft: Draft, made: Plan, paper: Paper, setting: Setting) -> tuple[Drawing, ...]:
    """A drawing for each sheet in the coordinates of the paper: before those of a home printer the
    cover and all that it needs more; where the first sheet itself says all that, what it had no
    room for comes last."""
    if paper.kind == "projection":
        return (projection(draft, made, paper.corner, setting),)
    marks = {cell: tuple(_marks(cell, made, setting)) for cell in made.numbers}
    groups = pieces_by_sheet(
        draft, made, [item for items in marks.values() for item in items], setting
    )
    no_items: tuple[Item, ...] = ()
    no_pages: tuple[Drawing, ...] = ()
    if paper.kind == "home":
        before, first, after = cover(draft, made, paper, setting), no_items, no_pages
    else:
        first, after = block(draft, made, paper, setting)
        before = no_pages
    return (
        *before,
        *(
            _sheet(
                cell,
                made,
                draft,
                paper,
                setting,
                (*marks[cell], *groups[cell]),
                () if number else first,
            )
            for number, cell in enumerate(made.numbers)
        ),
        *after,
    )


def _sheet(
    cell: Cell,
    made: Plan,
    draft: Draft,
    paper: Paper,
    setting: Setting,
    items: Sequence[Item],
    more: Sequence[Item],
) -> Drawing:
    """``more`` is in the coordinates of the paper already."""
    box = made.box(cell)
    names = ", ".join(draft.pieces[name].title for name in made.carries[cell])
    return Drawing(
        Box(0, made.page),
        (*(moved(item, shift=paper.corner - box.low) for item in items), *more),
        setting.say("sheets.alt", number=made.numbers[cell], total=made.total, pieces=names),
    )


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
                other = made.numbers[diagonal.ends[1 - end][0]]
                items = _cross(diagonal, at, other, box, made, tiles, setting)
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
    told = setting.say("sheet.trim" if first else "sheet.under", number=other)
    if join.beside:
        at = (start + end) / 2 - inward * 1.6
        yield Text(at, told, "note", SMALLEST, "middle", 90.0 if first else -90.0)
    elif first:
        yield Text((start + end) / 2 + 1j * 3.6, told, "note", SMALLEST, "middle")
    else:
        yield Text(end - 2 - 2.4j, told, "note", SMALLEST, "end")


def _cross(
    diagonal: Diagonal,
    at: Point,
    other: int,
    box: Box,
    made: Plan,
    tiles: Sequence[Tile],
    setting: Setting,
) -> tuple[Item, ...]:
    """A cross in a ring, and beside it how far the other one is."""
    arm = 4.0
    cross = (polyline(at - arm, at + arm), polyline(at - arm * 1j, at + arm * 1j), circle(at, 2.0))
    length = both(numbers.radius(diagonal.length), setting)
    told = setting.say("sheet.cross", number=diagonal.number, sheet=other, length=length)
    sheet = Tile(box.centre, box.width, box.height).sides
    ring = Tile(at, 2 * arm + 1, 2 * arm + 1)
    lines, taken = list(made.lines.near(box)), (*tiles, ring)
    # In one row, upright where that is nearer, or in narrow ones; where all is full of lines, the
    # cross's number alone: the list of diagonals has its length.
    rows = [wrapped(told, width, _NOTE, setting, 700) for width in (200.0, 40.0, 26.0)]
    for lines_, turn in product((*rows, [str(diagonal.number)]), (1, -1j)):
        width = max(setting.width(row, _NOTE, 700) for row in lines_)
        free = room(sheet, lines, taken, cell=1.0, turn=turn)
        place = free.spots(width, _NOTE * 1.3 * len(lines_), 1.0).nearest(at)
        if place and abs(place.centre - at) < width / 2 + _REACH:
            angle = math.degrees(cmath.phase(turn))
            return (
                Stroke(cross, "join"),
                *(
                    Text(
                        place.centre
                        + turn * 1j * _NOTE * ((k + 0.5 - len(lines_) / 2) * 1.3 + 0.27),
                        row,
                        "strong",
                        _NOTE,
                        "middle",
                        angle,
                    )
                    for k, row in enumerate(lines_)
                ),
            )
    return (Stroke(cross, "join"),)
