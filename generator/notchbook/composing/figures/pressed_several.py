"""A seam of more than two cloths, its allowances turned to one side: the cloth that they go to
stands up, the others lie level beside it. It is cut across, as sewn and after that."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from notchbook.composing import numbers
from notchbook.composing.drawing import Drawing, Item, Stroke, Text
from notchbook.composing.figures import keys
from notchbook.composing.figures.before_after import cloth_line, in_a_row
from notchbook.composing.figures.board import framed
from notchbook.composing.figures.legend import legend, notes
from notchbook.composing.figures.size import SIZE
from notchbook.composing.pairs import both
from notchbook.composing.setting import Setting
from notchbook.drafting.draft import Draft, Seam
from notchbook.drafting.geometry.path import polyline
from notchbook.drafting.geometry.vector import Point
from notchbook.problems import ContentError, Problem
from notchbook.reading.recipe import FigureRule

_WIDEST = 17.0
"""No allowance is drawn wider, mm on the page."""

_GAP = 2.4
"""Between cloths that lie on each other, mm on the page."""

_HIGH, _LONG = 26.0, 24.0
"""How much of the standing cloth is seen, and of the level ones, mm on the page."""


@dataclass(frozen=True, slots=True)
class _Several:
    """The cloths from the one that stands to the lowest, with what each has outside the seam as
    the pattern has it and as it was trimmed, mm."""

    seam: Seam
    titles: tuple[str, ...]
    whole: tuple[float, ...]
    left: tuple[float, ...]


def several(
    draft: Draft, figure: FigureRule, seam: Seam, widths: Sequence[float], setting: Setting
) -> Drawing:
    """Before and after. Raises ContentError."""
    plan = _plan(draft, figure, seam, widths)
    scale = _WIDEST / max(plan.whole)
    states = [
        (_sewn(plan, scale), setting.say("press.before")),
        (_turned(plan, scale, setting), setting.say("press.all", piece=plan.titles[0])),
    ]
    board = in_a_row(states, setting)
    legend(board, [("wrong", setting.say("layers.key.wrong"))])
    said = setting.say("press.told.several", seam=seam.name, widths=_each(plan, setting))
    notes(board, [said])
    alt = setting.say(
        "press.alt.several", seam=seam.name, one=plan.titles[0], others=", ".join(plan.titles[1:])
    )
    return framed(board, f"{alt} {said}")


def _plan(draft: Draft, figure: FigureRule, seam: Seam, widths: Sequence[float]) -> _Several:
    """The cloths in their order. Raises ContentError."""
    problems: list[Problem] = []
    names = [side[0] for side in seam.sides]
    ends = [names[0].piece, names[-1].piece]
    words = keys.texts(figure.keys, "to", problems)
    place = words[0].place if words else figure.view.place
    if not problems and (not words or words[0].value not in ends):
        what = f"The {len(names)} allowances of “{seam.name}” lie on each other and go to one side."
        remedy = f"Write the cloth they go to: “to: {ends[0]}” or “to: {ends[1]}”."
        problems.append(Problem(place, what, remedy))
    if problems:
        raise ContentError(problems)
    whole = [draft.allowance(name) for name in names]
    way = 1 if words[0].value == ends[0] else -1
    titles = [draft.pieces[name.piece].title for name in names]
    return _Several(seam, tuple(titles[::way]), tuple(whole[::way]), tuple(widths[::way]))


def _level(number: int) -> tuple[float, float]:
    """How far left of the standing cloth another one bends at the seam, and how far below it lies,
    mm on the page."""
    return -number * _GAP, number * _GAP


def _wrong(plan: _Several, number: int) -> int:
    """On which side of the way along it a level cloth has its wrong side: the upper one lies right
    side up, and those below it right side down."""
    return 1 if number == 1 and len(plan.titles) > 2 else -1


def _sewn(plan: _Several, scale: float) -> list[Item]:
    """The allowances hanging down, as wide as they are cut."""
    foot = (len(plan.titles) - 1) * _GAP
    items = cloth_line([complex(0, -_HIGH), complex(0, foot + plan.whole[0] * scale)], -1)
    for number in range(1, len(plan.titles)):
        x, y = _level(number)
        end = complex(x, foot + plan.whole[number] * scale)
        run = [complex(-_LONG, y), complex(x, y), end]
        items += cloth_line(run, _wrong(plan, number))
    seam = complex(-foot - 1.4, foot + 1.6), complex(1.4, foot + 1.6)
    return [*items, _thread(*seam), *_names(plan)]


def _turned(plan: _Several, scale: float, setting: Setting) -> list[Item]:
    """All of them turned up along the standing cloth, each as wide as it is left."""
    count = len(plan.titles)
    low = (count - 1) * _GAP
    items: list[Item] = []
    for number, wide in enumerate(plan.left):
        y = _level(number)[1]
        # Each goes round those above it.
        right = (number + 1) * _GAP
        under = low + (number - count + 2) * _GAP if number else _GAP * 0.6
        top = complex(right, -wide * scale)
        if number == 0:
            run = [complex(0, -_HIGH), complex(0, under), complex(right, under), top]
            items += cloth_line(run, -1)
        else:
            run = [complex(-_LONG, y), complex(right, y), top]
            items += cloth_line(run, _wrong(plan, number))
        words = both(numbers.length(wide), setting)
        at = complex(count * _GAP + 3, -wide * scale + SIZE * 0.35)
        items.append(Stroke((polyline(top + 0.6, complex(at.real - 1, top.imag)),), "leader"))
        items.append(Text(at, words, "number", SIZE))
    return [*items, _thread(complex(1.2, -0.2), complex(1.2, low + 0.8)), *_names(plan)]


def _thread(a: Point, b: Point) -> Stroke:
    return Stroke((polyline(a, b),), "seam")


def _names(plan: _Several) -> list[Item]:
    """The cloths' names beside them."""
    items: list[Item] = [Text(complex(-2, -_HIGH + SIZE), plan.titles[0], "label", SIZE, "end")]
    last = len(plan.titles) - 1
    for number, title in enumerate(plan.titles[1:], start=1):
        _, y = _level(number)
        at = y + SIZE * 1.5 if number == last else y - 1.8 - (last - 1 - number) * SIZE * 1.3
        items.append(Text(complex(-_LONG, at), title, "label", SIZE))
    return items


def _each(plan: _Several, setting: Setting) -> str:
    """Every cloth with what it is left: ``Point 12 mm, Brim 8 mm``."""
    return ", ".join(
        f"{title} {both(numbers.length(mm), setting)}"
        for title, mm in zip(plan.titles, plan.left, strict=True)
    )
