"""The compass view: how one piece is drawn by hand with ruler, string and pencil, panel by panel,
with the numbers of the size at hand.

Keys: ``piece``. Each panel shows what is there already in a thin line and what is drawn now in a
heavy one, and says below what to do; what is measured off in a row stands in a table. All numbers
are rounded to 0.5 mm and 1/32 in: following them as they are printed gives the piece's stitching
line within 1 mm, as a test finds out.

Example::

    view: compass
    piece: brim
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import product

from notchbook.composing.drawing import Drawing, Item, Text, moved
from notchbook.composing.figures import keys
from notchbook.composing.figures.board import MARGIN, bordered
from notchbook.composing.figures.by_hand import Stage, stages
from notchbook.composing.figures.number_table import set_tables
from notchbook.composing.figures.panel import drawn_panel, scale_in
from notchbook.composing.figures.size import SIZE, TALLEST, WIDEST
from notchbook.composing.lettering.paragraph import paragraph, wrapped
from notchbook.composing.lettering.placing import extent
from notchbook.composing.setting import Setting
from notchbook.drafting.draft import Draft, Piece
from notchbook.drafting.geometry.box import Box, bounds
from notchbook.drafting.geometry.path import Path
from notchbook.drafting.geometry.polygon import box_round
from notchbook.problems import ContentError, Problem, fault
from notchbook.reading.recipe import FigureRule

_USUAL = 84.0
"""What a few panels take in height, mm: a page of a booklet has room for two such figures."""

_MOST = 6
"""No piece takes more panels."""

_WIDE = WIDEST - 2 * MARGIN
_GAP = 4.0
"""Between panels, mm."""
_NARROWEST = 34.0
"""No panel is narrower, mm."""
_LOWEST = (28.0, 18.0)
"""The drawing in a panel is no lower, mm; where there is no other way, than the second."""
_LEADING = SIZE * 1.3
_INDENT = 4.0
"""What a panel's number takes beside its words, mm."""
_FAR = 1.6
"""A centre that would make the drawing this many times as large is left out of it."""


@dataclass(frozen=True, slots=True)
class _Grid:
    """Panels in rows: how wide each is, its words in rows, and what height the drawing has."""

    across: int
    wide: float
    said: Sequence[Sequence[str]]
    high: float


@dataclass(frozen=True, slots=True)
class _Page:
    """How everything is laid out: what each panel shows, the panels, tables and a note below."""

    frame: Box
    grid: _Grid
    tables: Sequence[Item]
    note: Sequence[Item]


def draw(draft: Draft, figure: FigureRule, setting: Setting) -> Drawing:
    """The panels that draw a piece. Raises ContentError."""
    problems: list[Problem] = []
    keys.check_keys(figure.keys, ("piece",), "A compass figure", problems)
    words = keys.texts(figure.keys, "piece", problems)
    found = [keys.find_piece(word, draft, problems) for word in words[:1]]
    if not words and not problems:
        problems.append(keys.missing(figure, "piece", "compass", next(iter(draft.pieces), "NAME")))
    if problems:
        raise ContentError(problems)
    piece = next(each for each in found if each)
    if not piece.moves:
        what = f"How the piece “{piece.name}” is drawn by hand is not known."
        raise fault(words[0].place, what, "Show it with “view: flat”, or leave the figure out.")
    tries = product(_LOWEST, (False, True), range(_MOST, 0, -1))
    # Everything in one panel is the last resort.
    for lowest, sparse, most in sorted(tries, key=lambda each: each[2] == 1):
        told = stages(piece, setting, most, sparse)
        if (len(told) == most or most == _MOST) and (page := _page(piece, told, lowest, setting)):
            break
    else:
        what = f"Drawing the piece “{piece.name}” by hand takes more room than a figure has."
        raise fault(words[0].place, what, "Show it with “view: flat”, or leave the figure out.")
    items = _composed(told, page, setting)
    steps = " ".join(f"{k}. {stage.said}" for k, stage in enumerate(told, start=1))
    title = setting.say_count("compass.alt", len(told), piece=piece.title, steps=steps)
    return bordered(items, title, setting)


def _page(piece: Piece, told: Sequence[Stage], lowest: float, setting: Setting) -> _Page | None:
    """The best way to lay everything out; none where there is no room for it."""
    frame = _frame(piece, told)
    numbered = [(str(k), table) for k, stage in enumerate(told, start=1) for table in stage.tables]
    tables = set_tables(numbered, _WIDE, setting)
    deep = extent(tables, setting).height + 3.0 if tables else 0.0
    words = setting.say("compass.note")
    if not tables:
        words = f"{words} {setting.say('compass.note.more')}"
    note = paragraph(words, 0, _WIDE, SIZE, setting)
    highest = (TALLEST if tables or len(told) > 3 else _USUAL) - 2 * MARGIN
    free = highest - deep - len(note) * _LEADING - 2.0
    grids = [grid for grid in _grids(told, free, setting) if grid.high >= lowest]
    if not grids:
        return None
    best = max(grids, key=lambda grid: scale_in(frame, _room(grid)))
    return _Page(frame, best, tables, note)


def _composed(told: Sequence[Stage], page: _Page, setting: Setting) -> list[Item]:
    grid, tables = page.grid, page.tables
    items: list[Item] = []
    before: list[Path] = []
    top = 0.0
    for start in range(0, len(told), grid.across):
        row = range(start, min(start + grid.across, len(told)))
        drawn: list[Sequence[Item]] = []
        for k in row:
            board = drawn_panel(told[k], before, page.frame, _room(grid), setting)
            before += [*told[k].helps, *told[k].lines]
            drawn.append(board.items)
        box = extent([item for found in drawn for item in found], setting)
        for k, found in zip(row, drawn, strict=True):
            at = complex((k - start) * (grid.wide + _GAP), top)
            items += [moved(item, shift=at - 1j * box.low.imag) for item in found]
            foot = at + 1j * (box.height + _LEADING + 0.4)
            items.append(Text(foot, str(k + 1), "strong", SIZE))
            for j, words in enumerate(grid.said[k]):
                items.append(Text(foot + complex(_INDENT, j * _LEADING), words, "note", SIZE))
        top += box.height + (max(len(grid.said[k]) for k in row) + 0.4) * _LEADING + 3.0
    if tables:
        box = extent(tables, setting)
        items += [moved(item, shift=1j * (top - box.low.imag)) for item in tables]
        top += box.height + 3.0
    return [*items, *(moved(item, shift=1j * (top + SIZE * 0.6)) for item in page.note)]


def _room(grid: _Grid) -> Box:
    return Box(0, complex(grid.wide, grid.high))


def _grids(told: Sequence[Stage], free: float, setting: Setting) -> Iterator[_Grid]:
    """Every way to lay the panels out in ``free`` mm of height."""
    for across in range(1, len(told) + 1):
        wide = (_WIDE - _GAP * (across - 1)) / across
        if wide < _NARROWEST:
            return
        said = [wrapped(stage.said, wide - _INDENT, SIZE, setting) for stage in told]
        rows = math.ceil(len(told) / across)
        words = sum(max(map(len, said[k : k + across])) + 0.4 for k in range(0, len(told), across))
        high = (free - words * _LEADING - 3.0 * rows) / rows
        yield _Grid(across, wide, said, high)


def _frame(piece: Piece, told: Sequence[Stage]) -> Box:
    """What every panel shows: the outline and the points, but for those far off it."""
    outline = bounds(piece.flat.outline())
    corners = [outline.low, outline.high]
    for stage in told:
        for _, at in stage.marks:
            larger = box_round([*corners, at])
            if max(larger.width, larger.height) < _FAR * max(outline.width, outline.height):
                corners.append(at)
    return box_round(corners)
