"""States of one thing beside each other, with an arrow from each to the next."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from itertools import pairwise

from notchbook.composing.drawing import Fill, Item, Stroke, Text, moved
from notchbook.composing.figures.board import Board
from notchbook.composing.figures.legend import arrow
from notchbook.composing.figures.size import SIZE
from notchbook.composing.lettering.paragraph import wrapped
from notchbook.composing.lettering.placing import extent
from notchbook.composing.setting import Setting
from notchbook.drafting.geometry.path import polyline
from notchbook.drafting.geometry.vector import Point, unit

_BETWEEN = 16.0
"""From one state to the next, mm, with the arrow in it."""

_OUT = 14.0
"""The arrow's length, mm, at most."""


def in_a_row(states: Iterable[tuple[Sequence[Item], str]], setting: Setting) -> Board:
    """States with their words below them, the first on the left, middles level."""
    board = Board(setting)
    x = 0.0
    drawn = [(items, words, extent(items, setting)) for items, words in states]
    foot = max(box.height for _, _, box in drawn) / 2
    for number, (items, words, box) in enumerate(drawn, start=1):
        rows = wrapped(f"{number}. {words}", max(box.width, 30.0), SIZE, setting, 700)
        wide = max(box.width, *(setting.width(row, SIZE, 700) for row in rows))
        if number > 1:
            middle = complex(x - _BETWEEN / 2, 0)
            half = (_OUT - 4) / 2
            board.add(*arrow(middle - half, middle + half, 3.4))
        shift = complex(x + wide / 2 - box.centre.real, -box.centre.imag)
        board.add(*(moved(item, shift=shift) for item in items))
        for k, row in enumerate(rows):
            at = complex(x + wide / 2, foot + 6 + k * SIZE * 1.38)
            board.add(Text(at, row, "strong", SIZE, "middle"))
        x += wide + _BETWEEN
    return board


def cloth_line(points: Sequence[Point], wrong: int) -> list[Item]:
    """A cloth cut across, with short strokes on its wrong side: to the right of the way along it
    where ``wrong`` is 1, to the left where it is −1."""
    strokes = []
    carry = 0.8
    for a, b in pairwise(points):
        way = unit(b - a)
        while carry < abs(b - a):
            foot = a + way * carry
            strokes.append(polyline(foot, foot + way * 1j * wrong * 1.1 - way * 0.6))
            carry += 1.7
        carry -= abs(b - a)
    return [Stroke(tuple(strokes), "leader"), Stroke((polyline(*points),), "solid-outline")]


def iron(at: Point) -> tuple[Item, ...]:
    """An iron seen from the side, its sole's middle at a point."""
    sole = polyline(at - 9, at + 11, at + 5 - 4.2j, at - 8 - 5.2j, at - 9)
    grip = polyline(at - 7 - 5.2j, at - 7.5 - 9j, at + 4 - 9j, at + 3 - 4.4j)
    plate = polyline(at - 9 - 1.3j, at + 9.1 - 1.3j)
    return Fill((sole,), "paper"), Stroke((sole, grip), "solid-outline"), Stroke((plate,), "layer")


def over(start: Point, end: float) -> list[Item]:
    """A bent arrow from one place over to another at the same height, ``end`` across the page."""
    middle = (start.real + end) / 2
    half = (end - start.real) / 2
    points = [
        complex(middle - half * math.cos(turn), start.imag - 5.5 * math.sin(turn))
        for turn in (math.pi * k / 12 for k in range(12))
    ]
    shaft, head = arrow(points[-1], complex(middle + half, start.imag), 2.6)
    return [Stroke((polyline(*points),), "solid-edge"), shaft, head]


def half_turn(start: Point, end: Point, away: int) -> list[Point]:
    """Cloth bent round from one level to another, to the right where ``away`` is 1, to the left
    where it is −1."""
    middle, half = (start + end) / 2, (end - start) / 2
    out = abs(half) * away
    return [
        middle - half * math.cos(math.pi * k / 6) + out * math.sin(math.pi * k / 6)
        for k in range(7)
    ]
