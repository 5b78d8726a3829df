"""A dart as it is folded and sewn: the fold view of a dart."""

from __future__ import annotations

from notchbook.composing import numbers
from notchbook.composing.drawing import Drawing, Fill, Item, Stroke, Text
from notchbook.composing.figures.before_after import in_a_row, over
from notchbook.composing.figures.board import Board, framed
from notchbook.composing.figures.legend import arrow, legend, notes, point, turning_back
from notchbook.composing.figures.ruled import dimension
from notchbook.composing.figures.size import SIZE
from notchbook.composing.pairs import both
from notchbook.composing.setting import Setting
from notchbook.drafting.draft import Draft, Piece
from notchbook.drafting.geometry.path import circle, polyline
from notchbook.drafting.geometry.vector import unit
from notchbook.drafting.shape import Dart
from notchbook.problems import ContentError, Problem, suggestion
from notchbook.reading.recipe import Text as Words

_HIGH, _WIDE = 40.0, 17.0
"""The most that a dart takes, mm on the page: from the edge to its point, and half of its mouth."""

_REST = 8.0
"""How much cloth is seen beside it and beyond its point, mm on the page."""


def draw_dart(word: Words, draft: Draft, setting: Setting) -> Drawing:
    """A dart of a piece, flat and folded. Raises ContentError."""
    piece, dart, count = _dart(word, draft)
    first, second = dart.feet
    mouth = abs(second - first)
    deep = abs((first + second) / 2 - dart.point)
    leg = abs(first - dart.point)
    scale = min(_HIGH / deep, _WIDE * 2 / mouth)
    high, half = deep * scale, mouth * scale / 2
    states = [
        (_flat(high, half, mouth, deep, setting), setting.say("dart.before")),
        (_folded(high, half, setting), setting.say("dart.after")),
    ]
    board = in_a_row(states, setting)
    signs = [
        ("wrong-side", setting.say("layers.key.wrong")),
        ("stitch", setting.say("dart.legs")),
        ("line-folded", setting.say("layers.fold")),
        ("seam", setting.say("layers.key.stitch")),
    ]
    legend(board, signs)
    values = {"piece": piece.title, "leg": both(numbers.length(leg), setting)}
    told = setting.say_count("dart.told", count, **values)
    notes(board, [told])
    return framed(board, f"{setting.say('dart.alt', **values)} {told}")


def _dart(word: Words, draft: Draft) -> tuple[Piece, Dart, int]:
    """The dart a word names, and how many like it the piece has."""
    found = {
        f"{piece.name}.{name}": (piece, dart)
        for piece in draft.pieces.values()
        for dart in reversed(piece.flat.darts)
        for name in dict.fromkeys((_kind(dart), dart.name))
    }
    if word.value not in found:
        what = f"There is no dart “{word.value}” in this recipe."
        remedy = suggestion(word.value, found) if found else "Name an “edge” or a “line” instead."
        raise ContentError([Problem(word.place, what, remedy)])
    piece, dart = found[word.value]
    name = word.value.rpartition(".")[2]
    alike = sum(name in (_kind(each), each.name) for each in piece.flat.darts)
    return piece, dart, alike


def _kind(dart: Dart) -> str:
    """The name its recipe gives it: those of a row are counted."""
    return dart.name.rstrip("0123456789").rstrip(" _-")


def _flat(high: float, half: float, mouth: float, deep: float, setting: Setting) -> list[Item]:
    board = Board(setting)
    side = half + _REST
    corners = [complex(-side, -_REST), complex(side, -_REST), complex(side, high),
               complex(-side, high)]  # fmt: skip
    board.add(Fill((polyline(*corners, corners[0]),), "wrong-side"))
    board.add(Stroke((polyline(corners[3], corners[2]),), "layer"))
    feet = complex(-half, high), complex(half, high)
    board.add(Stroke(tuple(polyline(0j, foot) for foot in feet), "stitch"))
    board.add(Stroke((polyline(0j, high * 1j),), "line-folded"))
    board.add(Fill((circle(0j, 0.9),), "ink"))
    board.add(*over(complex(half, high * 0.86), -half))
    y = high + 6
    dimension(board, complex(-half, y), complex(half, y), numbers.length(mouth), 1j, extend=feet)
    x = half + _REST + 5
    ends = complex(x, 0), complex(x, high)
    dimension(board, *ends, numbers.length(deep), 1, extend=(0j, feet[1]))
    return board.items


def _folded(high: float, half: float, setting: Setting) -> list[Item]:
    """Leg on leg, right sides together: sewn from the edge to the point, the last stitches along
    the fold."""
    board = Board(setting)
    left = -half - _REST
    # The fold lies level with itself; the leg runs from the edge to it.
    corners = [complex(left, -_REST), -_REST * 1j, high * 1j, complex(left, high)]
    board.add(Fill((polyline(*corners, corners[0]),), "wrong-side"))
    board.add(Stroke((polyline(corners[2], corners[3]),), "layer"))
    board.add(Stroke((polyline(corners[1], corners[2]),), "line-folded"))
    foot, tip = complex(-half, high), -1.6j
    turn = foot + (0j - foot) * 0.93
    board.add(Stroke((polyline(foot, turn, 2.2j - 0.25, tip - 0.25),), "seam"))
    along = unit(-foot)
    board.add(point(foot), *turning_back(foot, along, along * -1j * 1.6))
    middle = foot * 0.5 + along * 2.6j
    board.add(*arrow(middle - along * 5, middle + along * 5))
    ends = (polyline(tip - 0.25, complex(2.6, -5.2)), polyline(tip - 0.25, complex(4.4, -3.6)))
    board.add(Stroke(ends, "solid-edge"), Fill((circle(tip - 0.1, 0.9),), "ink"))
    board.add(Text(complex(5.4, -3.2), setting.say("dart.knot"), "label", SIZE))
    board.add(Text(complex(1.8, high * 0.55), setting.say("layers.fold"), "label", SIZE))
    return board.items
