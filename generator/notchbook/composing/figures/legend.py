"""Signs and what they mean, in rows below a figure, and the sentences below those."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from notchbook.composing.drawing import Fill, Item, Stroke, Text
from notchbook.composing.figures.board import Board
from notchbook.composing.figures.size import SIZE
from notchbook.composing.lettering.paragraph import paragraph
from notchbook.drafting.geometry.path import circle, polyline
from notchbook.drafting.geometry.vector import Point, unit

WIDE = 100.0
"""Rows of signs and sentences are no longer, mm, or as long as what they stand below."""

_SIGN = 10.0
_ROW = 6.0


def legend(board: Board, signs: Iterable[tuple[str, str]]) -> None:
    """Signs, each with its words, in rows below everything."""
    box = board.box()
    left, y = box.low.real, box.high.imag + 4.0
    x, wide = left, max(box.width, WIDE)
    for name, words in signs:
        need = _SIGN + 1.5 + board.setting.width(words, SIZE)
        if x > left and x + need > left + wide:
            x, y = left, y + _ROW
        board.add(*sign(name, complex(x, y)))
        board.add(Text(complex(x + _SIGN + 1.5, y + 3.2), words, "note", SIZE))
        x += need + 5


def notes(board: Board, sentences: Sequence[str]) -> None:
    """Sentences below everything."""
    box = board.box()
    at = complex(box.low.real, box.high.imag + SIZE * 1.5)
    board.add(*paragraph(" ".join(sentences), at, max(box.width, WIDE), SIZE, board.setting))


def turning_back(at: Point, along: complex, aside: complex, long: float = 5.0) -> tuple[Item, ...]:
    """The sign of sewing backwards over the end of a seam: a short line beside it, from its end
    ``at`` back ``along`` it and to its end again."""
    foot = at + aside
    tip = foot + along * long
    shaft, head = arrow(foot, tip, 1.8)
    return Stroke((polyline(at, foot),), "solid-edge"), shaft, head


def arrow(tail: Point, tip: Point, size: float = 2.6) -> tuple[Item, ...]:
    """An arrow that is seen at once: which way the needle or a hand goes."""
    way = unit(tip - tail)
    back, side = tip - way * size, way * 0.4j * size
    head = polyline(tip, back + side, back - side, tip)
    return Stroke((polyline(tail, back),), "solid-edge"), Fill((head,), "ink")


def point(at: Point) -> Fill:
    """Where stitching starts."""
    return Fill((circle(at, 1.0),), "ink")


def bar(at: Point, along: complex) -> Stroke:
    """Where stitching stops: a bar across it."""
    across = along * 1j * 1.6
    return Stroke((polyline(at - across, at + across),), "solid-outline")


def sign(name: str, at: Point) -> tuple[Item, ...]:
    """A sign, its top left corner at a point: a swatch of a side of cloth, or a line."""
    low, middle = at + 4j, at + 2j
    if name.endswith("-side"):
        swatch = polyline(at, at + 8, low + 8, low, at)
        return Fill((swatch,), name), Stroke((swatch,), "layer")
    end = middle + _SIGN
    if name == "wrong":
        ticks = tuple(polyline(middle + k, middle + k - 0.6 + 1.1j) for k in (2.5, 4.2, 5.9, 7.6))
        return Stroke((polyline(middle, end),), "solid-outline"), Stroke(ticks, "leader")
    if name == "crossed":
        arms = tuple(polyline(middle + 5 - way, middle + 5 + way) for way in (1 + 1j, 1 - 1j))
        return (Stroke(arms, "solid-edge"),)
    if name == "back":
        line = Stroke((polyline(middle, end),), "seam")
        return line, *turning_back(middle, 1 + 0j, 1.4j)
    return (Stroke((polyline(middle, end),), name),)
