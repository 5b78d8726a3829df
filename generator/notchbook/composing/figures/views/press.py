"""The press view: which way the allowances of a seam go under the iron.

Keys, all of which may be left out:
- ``seam``: which, where its step sews several; without it the step's, or the last that was sewn.
- ``to``: ``open``, one allowance to either side, where nothing is said; or the piece towards which
  both go. Where a seam joins more than two cloths, all of them go to the first or the last one.
- ``trimmed``: what the allowances were trimmed to, where that is less than the pattern has; or
  by piece, ``{band: 6 mm}``.

The seam is cut across, its cloths opened out, wrong sides up. Of a seam of more than two cloths the
one that the allowances go to stands up, and the others lie level.

Example::

    view: press
    seam: back seam
    to: open
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from notchbook.composing import numbers
from notchbook.composing.drawing import Drawing, Fill, Item, Text
from notchbook.composing.figures import keys
from notchbook.composing.figures.before_after import cloth_line, in_a_row, iron
from notchbook.composing.figures.board import framed
from notchbook.composing.figures.facts import seam_made
from notchbook.composing.figures.legend import legend, notes
from notchbook.composing.figures.pressed_several import several
from notchbook.composing.figures.size import SIZE
from notchbook.composing.pairs import both
from notchbook.composing.setting import Setting
from notchbook.drafting.draft import Draft, Seam
from notchbook.drafting.geometry.path import circle
from notchbook.problems import ContentError, Problem, suggestion
from notchbook.reading.quantity import LENGTH
from notchbook.reading.recipe import FigureRule, Table

_WIDEST = 11.0
"""No allowance is drawn wider, mm on the page."""

_GAP = 1.5
"""Between cloths that lie on each other, mm on the page."""


@dataclass(frozen=True, slots=True)
class _Pressed:
    """The two cloths of a seam, left and right, with their allowances (mm), those that were
    ``trimmed``, and where they go: ``to`` is a cloth's number, or None where they go apart."""

    seam: Seam
    titles: tuple[str, str]
    widths: tuple[float, float]
    trimmed: tuple[bool, bool]
    to: int | None

    def place(self) -> str:
        """The title of the cloth that the allowances go to."""
        return self.titles[self.to or 0]


def draw(draft: Draft, figure: FigureRule, setting: Setting) -> Drawing:
    """Before and after. Raises ContentError."""
    seam, problems = _seam(draft, figure)
    if seam and len(seam.sides) > 2:
        return several(draft, figure, seam, _widths(draft, figure, seam, problems), setting)
    plan = _plan(draft, figure, seam, problems)
    scale = _WIDEST / max(plan.widths)
    first, second = (width * scale for width in plan.widths)
    what = setting.say("press.open" if plan.to is None else "press.to", piece=plan.place())
    states = [
        (_sewn(plan, first, second, setting), setting.say("press.before")),
        (_flat(plan, first, second), what),
    ]
    board = in_a_row(states, setting)
    legend(board, [("wrong", setting.say("layers.key.wrong"))])
    notes(board, [*_told(plan, setting)])
    return framed(board, _described(plan, setting))


def _seam(draft: Draft, figure: FigureRule) -> tuple[Seam | None, list[Problem]]:
    problems: list[Problem] = []
    keys.check_keys(figure.keys, ("seam", "to", "trimmed"), "A press figure", problems)
    return seam_made(draft, figure, "press", problems), problems


def _plan(draft: Draft, figure: FigureRule, seam: Seam | None, problems: list[Problem]) -> _Pressed:
    words = keys.texts(figure.keys, "to", problems)
    if problems or seam is None:
        raise ContentError(problems)
    names = [side[0] for side in seam.sides]
    to = None
    for word in words:
        pieces = [name.piece for name in names]
        if word.value in pieces:
            to = pieces.index(word.value)
        elif word.value != "open":
            known = ["open", *dict.fromkeys(pieces)]
            what = f"The allowances of “{seam.name}” can't be pressed to “{word.value}”."
            problems.append(Problem(word.place, what, suggestion(word.value, known)))
    widths = _widths(draft, figure, seam, problems)
    titles = draft.pieces[names[0].piece].title, draft.pieces[names[1].piece].title
    trimmed = [mm < draft.allowance(name) for name, mm in zip(names, widths, strict=True)]
    return _Pressed(seam, titles, (widths[0], widths[1]), (trimmed[0], trimmed[1]), to)


def _widths(
    draft: Draft, figure: FigureRule, seam: Seam, problems: list[Problem]
) -> tuple[float, ...]:
    """What every cloth has outside a seam once it is trimmed, mm. Raises ContentError."""
    names = [side[0] for side in seam.sides]
    trimmed = _trimmed(figure.keys, [name.piece for name in names], draft, problems)
    widths = []
    for name, least in zip(names, trimmed, strict=True):
        wide = draft.allowance(name)
        if wide <= 0:
            what = f"The edge “{name}” has no allowance that could be pressed."
            problems.append(Problem(figure.view.place, what, "Give it one, or name another seam."))
        widths.append(wide if least is None else min(wide, least))
    if problems:
        raise ContentError(problems)
    return tuple(widths)


def _trimmed(
    table: Table, pieces: Sequence[str], draft: Draft, problems: list[Problem]
) -> list[float | None]:
    """What each piece's allowance was trimmed to, mm."""
    entry = table.entries.get("trimmed")
    if isinstance(entry, Table):
        keys.check_keys(entry, list(dict.fromkeys(pieces)), "“trimmed” of this seam", problems)
        return [keys.value(entry, piece, LENGTH, draft, problems) for piece in pieces]
    return [keys.value(table, "trimmed", LENGTH, draft, problems)] * len(pieces)


def _sewn(plan: _Pressed, first: float, second: float, setting: Setting) -> list[Item]:
    """The allowances standing up between the cloths, each with its number."""
    left = [complex(-20, 0), complex(-0.6, 0), complex(-0.6, -first)]
    right = [complex(20, 0), complex(0.6, 0), complex(0.6, -second)]
    return [
        *cloth_line(left, -1),
        *cloth_line(right, 1),
        Fill((circle(-0.9j, 0.75),), "ink"),
        *_names(plan),
        *_numbers(plan, setting),
    ]


def _numbers(plan: _Pressed, setting: Setting) -> list[Item]:
    """How wide each allowance is, beside it."""
    items: list[Item] = []
    for own, mm, less in zip((-1, 1), plan.widths, plan.trimmed, strict=True):
        rows = [(both(numbers.length(mm), setting), "strong")]
        if less:
            rows.append((setting.say("press.trimmed"), "label"))
        for k, (words, role) in enumerate(rows):
            at = complex(own * 3.0, -2.2 - k * SIZE * 1.3)
            items.append(Text(at, words, role, SIZE, "end" if own < 0 else "start"))
    return items


def _flat(plan: _Pressed, first: float, second: float) -> list[Item]:
    """The allowances pressed down, the iron on them."""
    sides = (-1, 1) if plan.to is None else ((-1, -1), (1, 1))[plan.to]
    items: list[Item] = []
    top = 0.0
    order = (0, 1) if plan.to != 1 else (1, 0)
    for number, level in zip(order, (1, 1 if plan.to is None else 2), strict=True):
        own = (-1, 1)[number]
        width = (first, second)[number]
        to = sides[number]
        rise = -level * _GAP
        lies = [
            complex(own * 20, 0), complex(own * 0.4, 0),
            complex(own * 0.4 if to == own else 0.0, rise), complex(to * width, rise),
        ]  # fmt: skip
        items += cloth_line(lies, -1 if number == 0 else 1)
        top = min(top, rise)
    items.append(Fill((circle(complex(0, -0.4), 0.75),), "ink"))
    at = 0.0 if plan.to is None else (-1, 1)[plan.to] * _WIDEST / 2
    items += [*iron(complex(at - 1, top - 1.8)), *_names(plan)]
    return items


def _names(plan: _Pressed) -> list[Item]:
    """The cloths' names below them."""
    one, other = plan.titles
    return [
        Text(complex(-20, SIZE * 1.5), one, "label", SIZE),
        Text(complex(20, SIZE * 1.5), other, "label", SIZE, "end"),
    ]


def _told(plan: _Pressed, setting: Setting) -> list[str]:
    widths = [both(numbers.length(mm), setting) for mm in plan.widths]
    if len(set(widths)) == 1:
        return [setting.say("press.told.one", seam=plan.seam.name, width=widths[0])]
    each = [
        setting.say("press.told.trimmed" if less else "press.told.each", piece=title, width=width)
        for title, width, less in zip(plan.titles, widths, plan.trimmed, strict=True)
    ]
    return [setting.say("press.told.two", seam=plan.seam.name, one=each[0], other=each[1])]


def _described(plan: _Pressed, setting: Setting) -> str:
    key = "press.alt.open" if plan.to is None else "press.alt.to"
    one, other = plan.titles
    said = setting.say(key, seam=plan.seam.name, one=one, other=other, piece=plan.place())
    return " ".join([said, *_told(plan, setting)])
