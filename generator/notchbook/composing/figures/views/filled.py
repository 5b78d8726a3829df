"""The filled view: a thing with filling in it, cut down its middle: how far up or down that goes.

Keys:
- ``piece``: what is filled, such as ``crown``.
- ``over``: the piece below which, or above which, no filling goes: a lining that is put in after
  it. Without it the whole piece is filled.
- ``with``: the notion it is filled with, whose amount is then told.

The cut goes from centre back, on the left, to centre front, and is to scale.

Example::

    view: filled
    piece: side
    over: lining
"""

from __future__ import annotations

import cmath
import math
from itertools import pairwise

from notchbook.composing import numbers
from notchbook.composing.drawing import Drawing, Fill, Stroke
from notchbook.composing.figures import keys
from notchbook.composing.figures.beside import words_beside
from notchbook.composing.figures.board import Board, framed
from notchbook.composing.figures.legend import notes
from notchbook.composing.figures.meridian import Meridian, meridians
from notchbook.composing.figures.ruled import dimension
from notchbook.composing.figures.track import Points
from notchbook.composing.lettering.placing import Lines, walls
from notchbook.composing.pairs import both
from notchbook.composing.setting import Setting
from notchbook.drafting.draft import Draft, Piece
from notchbook.drafting.geometry.box import Box
from notchbook.drafting.geometry.path import Path, polyline
from notchbook.drafting.geometry.polygon import box_round
from notchbook.drafting.geometry.vector import Point, unit
from notchbook.problems import ContentError, Place, Problem, suggestion
from notchbook.reading.recipe import FigureRule, Text

_ROOM = complex(56, 44)
"""Room for the cut, mm."""

_TUFTS = (1.4, 0.9, 0.6)
"""Half of how large tufts of filling are drawn, mm on the page: smaller ones go where the larger
leave room, as in a tip."""

_WORDS = 30.0
"""No row of its words is longer, mm."""

_STANDS = 5.0
"""What is no higher lies flat, mm."""

_NEAR = 10.0
"""A lining may reach past what it lines by so much, mm."""


def draw(draft: Draft, figure: FigureRule, setting: Setting) -> Drawing:
    """The cut. Raises ContentError."""
    problems: list[Problem] = []
    table = figure.keys
    keys.check_keys(table, ("piece", "over", "with"), "A filled figure", problems)
    standing = {
        name: cut
        for (name, _), cut in reversed(meridians(draft).items())
        if _box(cut).height > _STANDS
    }
    words = keys.texts(table, "piece", problems)
    if not words and not problems:
        example = next(iter(standing), "PIECE")
        problems.append(keys.missing(figure, "piece", "filled", example))
    outer = _found(words, draft, standing, problems)
    inner = _found(keys.texts(table, "over", problems), draft, standing, problems)
    if outer and inner:
        problems += _outside(table.entries["over"].place, outer, inner)
    amount = _amount(draft, keys.texts(table, "with", problems), setting, problems)
    if problems or outer is None:
        raise ContentError(problems)
    board = _drawn(outer, inner, setting)
    said = _told(outer[0], inner, amount, setting)
    notes(board, said)
    return framed(board, " ".join([setting.say("filled.alt", piece=outer[0].title), *said]))


_Found = tuple[Piece, Meridian]


def _found(
    words: tuple[Text, ...],
    draft: Draft,
    standing: dict[str, Meridian],
    problems: list[Problem],
) -> _Found | None:
    for word in words:
        piece = keys.find_piece(word, draft, problems)
        if piece and piece.name in standing:
            return piece, standing[piece.name]
        if piece:
            what = f"The piece “{word}” does not stand up, so it can't be cut down its middle."
            problems.append(Problem(word.place, what, suggestion(word.value, standing)))
    return None


def _box(cut: Meridian) -> Box:
    return box_round([*cut.back, *cut.front])


def _outside(place: Place, outer: _Found, inner: _Found) -> list[Problem]:
    """The problem of a lining that does not lie in what is filled."""
    low, high = _box(outer[1]).low, _box(outer[1]).high
    own, near = _box(inner[1]), complex(_NEAR, _NEAR)
    gaps = own.low - low + near, high - own.high + near
    if outer[0] is not inner[0] and all(min(gap.real, gap.imag) > 0 for gap in gaps):
        return []
    what = f"The piece “{inner[0].name}” does not lie in the piece “{outer[0].name}”."
    remedy = "Name the lining that goes in after the filling, or leave “over” out."
    return [Problem(place, what, remedy)]


def _amount(
    draft: Draft, words: tuple[Text, ...], setting: Setting, problems: list[Problem]
) -> str:
    for word in words:
        if word.value not in draft.recipe.notions:
            what = f"There is no notion “{word}” in this recipe."
            problems.append(Problem(word.place, what, suggestion(word.value, draft.recipe.notions)))
        elif amount := draft.notions.get(word.value):
            return both(numbers.quantity(amount), setting)
    return ""


def _drawn(outer: _Found, inner: _Found | None, setting: Setting) -> Board:
    cut = outer[1]
    box = _box(cut)
    scale = min(_ROOM.real / max(box.width, 1.0), _ROOM.imag / max(box.height, 1.0))
    wall, hollow = _outline(cut, scale), _outline(inner[1], scale) if inner else ()
    board = Board(setting)
    board.add(Fill((polyline(*wall, wall[0]),), "paper"))
    board.add(_tufts(wall, hollow))
    halves = polyline(*_page(cut.back, scale)), polyline(*_page(cut.front, scale))
    board.add(Stroke(halves, "solid-outline"))
    centre = box_round(wall).centre
    named = [(_beside(wall, centre.imag), setting.say("filled.filling"))]
    if inner:
        own = inner[1]
        far = _far(cut, own)
        board.add(Stroke((polyline(*hollow, hollow[0]),), "stitch"))
        lid = polyline(cut.back[far] * scale, cut.front[far] * scale)
        board.add(Stroke((lid,), "solid-outline"))
        level, open_end = (own.front[k] * scale for k in (far, -1 - far))
        other = cut.front[far] * scale
        named = [
            (_beside(wall, level.imag * 0.55 + other.imag * 0.45), setting.say("filled.filling")),
            (level, setting.say("filled.stop")),
            (_beside(hollow, (level.imag + open_end.imag) / 2),
             setting.say("filled.room", piece=inner[0].title)),
        ]  # fmt: skip
        ends = own.back[-1 - far] * scale, own.back[far] * scale
        away = unit(ends[1] - ends[0]) * (-1j if far else 1j)
        shift = away * 6
        length = numbers.length(_slope(inner))
        dimension(board, ends[0] + shift, ends[1] + shift, length, away, extend=ends)
    right = max(p.real for p in wall)
    words_beside(board, named, right + 1.0, _WORDS)
    return board


def _page(points: Points, scale: float) -> Points:
    return tuple(p * scale for p in points)


def _outline(cut: Meridian, scale: float) -> Points:
    """All round what is cut through: up at the back, down at the front."""
    return _page((*cut.back, *cut.front[::-1]), scale)


def _far(cut: Meridian, own: Meridian) -> int:
    """Which end of a lining lies inside what it lines: 0 the lower one, −1 the upper."""
    return max((-1, 0), key=lambda k: abs(own.back[k] - cut.back[k]))


def _slope(inner: _Found) -> float:
    """How far a lining goes along the wall, mm: its own seam, where it has one, at centre back."""
    piece, cut = inner
    if piece.form and piece.form.seam:
        return piece.flat.edges[piece.form.seam[0]].length()
    return math.fsum(abs(b - a) for a, b in pairwise(cut.back))


def _beside(wall: Points, level: float) -> Point:
    """A point a little inside the right-hand wall at a height."""
    met = [
        a.real + (b.real - a.real) * (level - a.imag) / (b.imag - a.imag)
        for a, b in pairwise((*wall, wall[0]))
        if (a.imag > level) != (b.imag > level)
    ]
    return complex(max(met, default=wall[-1].real) - 2.0, level)


def _tufts(wall: Points, hollow: Points) -> Stroke:
    """Tufts in rows, wherever there is room for a whole one, the largest first."""
    inside = walls([polyline(*wall, wall[0])])
    within = walls([polyline(*hollow, hollow[0])]) if hollow else []
    keeps, leaves = Lines.of(inside), Lines.of(within)
    box = box_round(wall)
    found: list[tuple[Point, float]] = []
    for half in _TUFTS:
        step = 2 * half
        rim = [cmath.rect(half, turn * math.tau / 8) for turn in range(8)]
        for k in range(int(box.height / step) + 2):
            for j in range(int(box.width / step) + 2):
                at = box.low + complex(j * step + (k % 2) * half, k * step * 0.9)
                if not all(keeps.hold(at + out) and not leaves.hold(at + out) for out in rim):
                    continue
                if all(abs(at - other) >= 0.9 * (half + its) for other, its in found):
                    found.append((at, half))
    return Stroke(tuple(_tuft(at, half) for at, half in found), "solid-fold")


def _tuft(at: Point, half: float) -> Path:
    """A curl, drawn without lifting the pen."""
    return polyline(*(
        at + cmath.rect(half * (0.35 + 0.55 * t / 26), t * math.tau / 13) for t in range(27)
    ))  # fmt: skip


def _told(piece: Piece, inner: _Found | None, amount: str, setting: Setting) -> list[str]:
    said = [setting.say("filled.amount", amount=amount)] if amount else []
    if inner:
        slope = both(numbers.length(_slope(inner)), setting)
        said.append(setting.say("filled.told", piece=piece.title, slope=slope))
    return said
