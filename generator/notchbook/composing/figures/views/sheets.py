"""The sheets view: where the sheets of the pattern go, with the pieces on them.

Keys, which may all be left out: ``paper``, otherwise the first that the workshop publishes, and
``piece``, for the sheets of that piece alone. It is the map of sheet 1: every sheet has its number,
and sheets inside a piece that no line crosses are left out, as they are not printed.

Example::

    view: sheets
    paper: a4
"""

from __future__ import annotations

from notchbook.composing.drawing import Drawing, Item, Text
from notchbook.composing.figures import keys
from notchbook.composing.figures.board import Board, framed
from notchbook.composing.figures.size import SIZE
from notchbook.composing.lettering.paragraph import packed, wrapped
from notchbook.composing.paper import PAPERS
from notchbook.composing.setting import Setting
from notchbook.composing.sheets.arranging import NoRoom
from notchbook.composing.sheets.guide import sheet_map, sheets_of
from notchbook.composing.sheets.taping import Plan, plan
from notchbook.drafting.draft import Draft
from notchbook.drafting.geometry.box import Box
from notchbook.problems import ContentError, Problem, fault
from notchbook.reading.recipe import FigureRule

_WITHIN = Box(0, 112 + 76j)
"""What the map may take, mm; words stand below it."""

_NARROWEST = 80.0
"""Rows of words are no narrower than this, mm."""

_NUMBER = 4.5
"""Em of the numbers, mm, where sheets are large enough."""


def draw(draft: Draft, figure: FigureRule, setting: Setting) -> Drawing:
    """The map, and below it which sheets each piece is on. Raises ContentError."""
    problems: list[Problem] = []
    keys.check_keys(figure.keys, ("paper", "piece"), "A figure of the sheets", problems)
    asked = keys.one_of(figure.keys, "paper", tuple(PAPERS), problems)
    words = keys.texts(figure.keys, "piece", problems)
    pieces = [keys.find_piece(word, draft, problems) for word in words[:1]]
    if len(words) > 1:
        remedy = "Name one, or leave “piece” out."
        problems.append(Problem(words[1].place, "These are sheets of one piece.", remedy))
    if problems:
        raise ContentError(problems)
    paper = asked or setting.workshop.papers[0]
    only = next((piece.name for piece in pieces if piece), "")
    try:
        made = plan(draft, PAPERS[paper])
    except NoRoom as none:
        raise fault(figure.view.place, none.what, none.remedy) from None
    mapped = sheet_map(made, _WITHIN, _NUMBER, SIZE, setting, only)
    if not mapped:
        what = f"A map of {made.total} sheets of “{paper}” is too small to be read."
        raise fault(figure.view.place, what, "Name a piece, or a larger paper.")
    return _drawn(draft, made, only, mapped, setting)


def _drawn(
    draft: Draft, made: Plan, only: str, mapped: list[Item], setting: Setting
) -> Drawing:  # fmt: skip
    board = Board(setting)
    board.add(*mapped)
    title = setting.say(f"sheets.paper.{made.paper}")
    listed = [
        sheets_of(made, name, piece.title, setting)
        for name, piece in draft.pieces.items()
        if only in ("", name)
    ]
    key = "map.note" if PAPERS[made.paper].kind == "home" else "map.note.shop"
    note = setting.say(key, paper=title)
    y, wide = board.box().high.imag + 2.0, max(board.box().width, _NARROWEST)
    rows = [
        *(row for each in packed(listed, wide, SIZE, setting)
          for row in wrapped(each, wide, SIZE, setting)),
        *wrapped(note, wide, SIZE, setting),
    ]  # fmt: skip
    for k, row in enumerate(rows, start=1):
        board.add(Text(complex(0, y + SIZE * 1.35 * k), row, "note", SIZE))
    return framed(board, setting.say("map.alt", paper=title, sheets="; ".join(listed)))
