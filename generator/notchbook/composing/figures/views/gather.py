"""The gather view: an edge drawn up to the length of what it is sewn to, before and after.

Keys, all of which may be left out where the step, or the last one that sewed, sews one seam that is
gathered:
- ``seam``: which, where there are several or the figure stands before its seam is sewn.
- ``rows``: how far outside the stitching line the rows of stitches are. Without it one is 1 mm
  outside it, the other 6 mm further.
- ``parts``: into how many parts, equally long, the rows are broken; one of them is drawn.

Its length before and after is true to scale, and so is how far the rows are apart; the allowance is
drawn wider than it is.

Example::

    view: gather
    seam: lining tip
    parts: 4
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from notchbook.composing import numbers
from notchbook.composing.drawing import Drawing, Fill, Item, Stroke
from notchbook.composing.figures import keys
from notchbook.composing.figures.before_after import in_a_row
from notchbook.composing.figures.board import Board, framed
from notchbook.composing.figures.facts import seam_made
from notchbook.composing.figures.legend import legend, notes
from notchbook.composing.figures.ruled import dimension
from notchbook.composing.pairs import both
from notchbook.composing.setting import Setting
from notchbook.drafting.draft import Draft, Seam
from notchbook.drafting.geometry.path import Path, circle, polyline
from notchbook.problems import ContentError, Problem
from notchbook.reading.quantity import LENGTH, RATIO
from notchbook.reading.recipe import FigureRule

_LONG = 46.0
"""How long the edge is drawn before, mm on the page."""

_WIDE, _CLOTH = 13.0, 11.0
"""How wide its allowance is drawn and how much cloth beside it, mm on the page."""

_FOLD = 3.4
"""From one fold to the next when it is drawn up, mm on the page."""


@dataclass(frozen=True, slots=True)
class _Gathered:
    """One part of an edge: its length before and after, and its rows outside the stitching line, in
    mm of the piece; ``allowance`` is all that is outside it."""

    seam: Seam
    title: str
    cloth: str
    before: float
    after: float
    rows: tuple[float, ...]
    allowance: float
    parts: int


def draw(draft: Draft, figure: FigureRule, setting: Setting) -> Drawing:
    """Before and after. Raises ContentError."""
    plan = _plan(draft, figure)
    states = [
        (_flat(plan, setting), setting.say(f"gather.before.{_many(plan)}")),
        (_drawn_up(plan, setting), setting.say("gather.after")),
    ]
    board = in_a_row(states, setting)
    signs = [
        ("wrong-side", setting.say("layers.key.wrong")),
        ("stitch", setting.say("along.line")),
        ("seam", setting.say("gather.rows")),
    ]
    legend(board, signs)
    said = _told(plan, setting)
    notes(board, said)
    alt = setting.say("gather.alt", piece=plan.title, seam=plan.seam.name)
    return framed(board, " ".join([alt, *said]))


def _plan(draft: Draft, figure: FigureRule) -> _Gathered:
    problems: list[Problem] = []
    table = figure.keys
    keys.check_keys(table, ("seam", "rows", "parts"), "A gather figure", problems)
    seam = seam_made(draft, figure, "gather", problems)
    given = keys.value(table, "parts", RATIO, draft, problems)
    parts = 1.0 if given is None else given
    rows = keys.values(table, "rows", LENGTH, draft, problems) or (1.0, 7.0)
    number = (
        max(range(len(seam.gathers)), key=seam.gathers.__getitem__) if seam and seam.gathers else 0
    )
    if seam and (not seam.gathers or seam.gathers[number] < 1.01):
        what = f"Nothing is gathered in the seam “{seam.name}”."
        remedy = "Name a seam that has “gather”, or give it one: gather: {PIECE: 1.5}."
        place = keys.texts(table, "seam", problems)[0].place if "seam" in table.entries else None
        problems.append(Problem(place or figure.view.place, what, remedy))
    if parts < 1 or abs(parts - round(parts)) > 1e-9:
        what = "“parts” has to be a whole number from 1 on."
        problems.append(Problem(table.entries["parts"].place, what, "Write how many there are."))
    if problems or seam is None:
        raise ContentError(problems)
    if min(rows) < 0:
        what = "A gather figure draws rows outside the stitching line alone."
        remedy = "Write how far outside it each is: 1 mm, and not −1 mm."
        raise ContentError([Problem(table.entries["rows"].place, what, remedy)])
    name = seam.sides[number][0]
    piece = draft.pieces[name.piece]
    allowance = draft.allowance(name)
    if max(rows) >= allowance:
        most = numbers.length(allowance).metric
        what = f"A row {numbers.length(max(rows)).metric} outside the line is not on the cloth."
        remedy = f"The allowance is {most}: keep the rows inside it."
        place = table.entries["rows"].place if "rows" in table.entries else figure.view.place
        raise ContentError([Problem(place, what, remedy)])
    first = seam.lengths[0]
    return _Gathered(
        seam, piece.title, piece.cloth_or_first(name.cloth),
        seam.lengths[number] / parts, first / parts, rows, allowance, round(parts),
    )  # fmt: skip


def _many(plan: _Gathered) -> str:
    return {1: "one", 2: "two"}.get(len(plan.rows), "other")


def _level(plan: _Gathered, out: float) -> float:
    """Where a line so far outside the stitching line is drawn, down the page."""
    return -out / plan.allowance * _WIDE


def _flat(plan: _Gathered, setting: Setting) -> list[Item]:
    """The edge as it is cut, with its rows, their threads left long."""
    board = Board(setting)
    corners = [complex(0, -_WIDE), complex(_LONG, -_WIDE), complex(_LONG, _CLOTH), _CLOTH * 1j]
    board.add(Fill((polyline(*corners, corners[0]),), "wrong-side"))
    board.add(Stroke((polyline(*corners[:2]),), "layer"))
    board.add(Stroke((polyline(0j, _LONG + 0j),), "stitch"))
    for row in plan.rows:
        y = _level(plan, row)
        board.add(Stroke((polyline(complex(0, y), complex(_LONG, y)),), "seam"))
        board.add(Stroke((_thread(complex(0, y), -1), _thread(complex(_LONG, y), 1)), "solid-edge"))
    _measure(board, 0.0, _LONG, plan.before)
    return board.items


def _thread(at: complex, way: int) -> Path:
    """The end of a thread hanging out."""
    return polyline(*(at + complex(way * k * 0.7, math.sin(k * 1.1) * 0.7) for k in range(8)))


def _drawn_up(plan: _Gathered, setting: Setting) -> list[Item]:
    """The edge drawn up to its partner's length: folds square to it, the threads round a pin."""
    board = Board(setting)
    long = _LONG * plan.after / plan.before
    count = max(round(long / _FOLD), 3)
    wide = (_LONG - long) / 2 * 0.55
    steps = [k / 48 for k in range(49)]

    def foot(share: float) -> complex:
        # Below, the cloth spreads again.
        return complex(
            -wide + (long + 2 * wide) * share, _CLOTH + 0.8 * math.sin(share * count * 6.28)
        )

    top = [complex(long * t, -_WIDE + 0.6 * math.sin(t * count * 6.28)) for t in steps]
    sides = [foot(t) for t in reversed(steps)]
    board.add(Fill((polyline(*top, *sides, top[0]),), "wrong-side"))
    board.add(Stroke((polyline(*top),), "layer"))
    folds = []
    for k in range(count):
        share = (k + 0.5) / count
        head, low = complex(long * share, -_WIDE + 1.5), foot(share)
        bend = (head + low) / 2
        folds.append(polyline(head, complex(head.real, 1.0), bend + 3j, low - 2.5j))
    board.add(Stroke(tuple(folds), "solid-seam"))
    board.add(Stroke((polyline(0j, long + 0j),), "stitch"))
    levels = [_level(plan, row) for row in plan.rows]
    for y in levels:
        board.add(Stroke((polyline(complex(0, y), complex(long, y)),), "seam"))
    _pin(board, complex(long, sum(levels) / len(levels)), levels)
    _measure(board, 0.0, long, plan.after)
    return board.items


def _pin(board: Board, at: complex, levels: list[float]) -> None:
    """A pin across the ends of the rows, the threads wound round it in eights."""
    x = at.real + 4.0
    top, foot = min(levels) - 4.5, max(levels) + 4.5
    threads = [polyline(complex(at.real, y), complex(x, at.imag)) for y in levels]
    eights = [
        polyline(*(
            complex(x + 1.5 * math.sin(2 * t), at.imag + 2.6 * math.sin(t))
            for t in (math.tau * k / 40 for k in range(41))
        ))
    ]  # fmt: skip
    board.add(Stroke((*threads, *eights), "solid-edge"))
    board.add(Stroke((polyline(complex(x, top), complex(x, foot)),), "solid-outline"))
    board.add(Fill((circle(complex(x, top), 1.1),), "ink"))


def _measure(board: Board, low: float, high: float, mm: float) -> None:
    y = -_WIDE - 6.5
    feet = complex(low, -_WIDE), complex(high, -_WIDE)
    dimension(board, complex(low, y), complex(high, y), numbers.length(mm), -1j, extend=feet)


def _told(plan: _Gathered, setting: Setting) -> list[str]:
    def length(mm: float) -> str:
        return both(numbers.length(mm), setting)

    rows = setting.say("gather.and").join(length(row) for row in plan.rows)
    said = [setting.say_count("gather.told.rows", len(plan.rows), piece=plan.title, rows=rows)]
    key = "whole" if plan.parts == 1 else "parts"
    said.append(
        setting.say(f"gather.told.{key}", parts=plan.parts, before=length(plan.before),
                    after=length(plan.after))
    )  # fmt: skip
    return said
