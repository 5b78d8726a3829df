"""What is marked at single places of an edge that is shown whole: notches, its front, a slit."""

from __future__ import annotations

from collections.abc import Sequence

from notchbook.composing.drawing import Stroke, Text
from notchbook.composing.figures.along_plan import AlongPlan
from notchbook.composing.figures.board import Board
from notchbook.composing.figures.legend import arrow
from notchbook.composing.figures.size import SIZE
from notchbook.composing.lettering.placing import Lines, walls
from notchbook.drafting.geometry.path import Path, polyline


def add_marks(board: Board, plan: AlongPlan, places: Sequence[float], factor: float) -> None:
    """The marks nearest to some places, each with its number on the cloth."""
    for place in places:
        notch = plan.line.notch_near(place)
        if notch is None:
            continue
        at, way = plan.line.at(notch[0])
        foot = at * factor
        board.add(Stroke((polyline(foot, foot + way * 1.8j),), "notch"))
        word = foot + way * 4.4j + SIZE * 0.3j
        board.add(Text(word, str(notch[1]), "number", SIZE, "middle"))


def add_front(board: Board, plan: AlongPlan, place: float, factor: float) -> None:
    """The word for the front, on the cloth."""
    at, way = plan.line.at(place)
    words = board.setting.say("along.front")
    off = 4.0 + abs(way.imag) * board.setting.width(words, SIZE) / 2
    board.add(Text(at * factor + way * 1j * off + SIZE * 0.3j, words, "label", SIZE, "middle"))


def add_slit(board: Board, plan: AlongPlan, loops: Sequence[Path], factor: float) -> None:
    """A cut across the cloth, from the cut edge to where the cloth ends, and which way it goes."""
    assert plan.slit is not None
    line = plan.line
    start, way = line.at(plan.slit, -plan.outside)
    inward = way * 1j
    lines = Lines.of(walls(loops))
    a = start * factor
    b = line.at(plan.slit)[0] * factor + inward * 0.2
    while lines.hold(b):
        b += inward * 0.1
    board.add(Stroke((polyline(a, b),), "drawing"))
    words = board.setting.say("along.slit")
    # An arrow from the side is shorter: words are wider than high.
    wide = abs(inward.real) * board.setting.width(words, SIZE, 700)
    board.add(*arrow(a - inward * (7 - wide * 0.3), a - inward * 1.2, 3.0))
    board.add(Text(a - inward * 9.5 + SIZE * 0.3j, words, "strong", SIZE, "middle"))
