"""A piece's moves by hand in stages, each what one panel of a figure shows.

What belongs together is one stage: the points at the start, an arc and its mirror image, a row of
points and the curve through them. Every number is rounded as it is printed, to 0.5 mm and 1/32 in.
Where many points are measured off, their numbers go into a table.
"""

from __future__ import annotations

import cmath
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import groupby

from notchbook.composing.figures.marking import FEW
from notchbook.composing.figures.number_table import NumberTable, Row
from notchbook.composing.figures.telling import tell
from notchbook.composing.figures.told import NEAR, Hand, Told
from notchbook.composing.numbers import Pair
from notchbook.composing.setting import Setting
from notchbook.drafting.draft import Piece
from notchbook.drafting.geometry.path import Path
from notchbook.drafting.geometry.vector import Point
from notchbook.drafting.moves import (
    Along,
    Crossline,
    Curve,
    Dot,
    Inwards,
    Loop,
    Move,
    Rule,
    Strike,
    Swing,
    Trace,
    Tuck,
)


@dataclass(frozen=True, slots=True)
class Stage:
    """What one panel shows, at full size: ``lines`` drawn now, ``helps`` ruled thinly, ``passing``
    ones that no later panel shows, points marked now, ``named`` ones that are spoken of, strings
    from a centre to what they draw, numbers along paths, and what to do in words."""

    lines: tuple[Path, ...]
    helps: tuple[Path, ...]
    passing: tuple[Path, ...]
    marks: tuple[tuple[str, Point], ...]
    named: tuple[tuple[str, Point], ...]
    strings: tuple[tuple[Point, Path, Pair], ...]
    along: tuple[tuple[Path, Pair], ...]
    said: str
    tables: tuple[NumberTable, ...]

    @property
    def points(self) -> tuple[tuple[str, Point], ...]:
        """All of its points, those that are spoken of first."""
        return tuple(dict.fromkeys((*self.named, *self.marks)))


def stages(piece: Piece, setting: Setting, most: int, sparse: bool) -> tuple[Stage, ...]:
    """All that has to be drawn, in its order, in so many stages at ``most``; if ``sparse``, with
    every other point of long rows only."""
    groups: list[list[Move]] = []
    moves = list(_one_letter_each(piece.moves))
    for move in _thinned(moves) if sparse else moves:
        if groups and _goes_on(groups[-1], move, first=len(groups) == 1):
            groups[-1].append(move)
        else:
            groups.append([move])
    while len(groups) > most:
        k = min(range(len(groups) - 1), key=lambda k: len(groups[k]) + len(groups[k + 1]))
        groups[k : k + 2] = [[*groups[k], *groups[k + 1]]]
    hand = Hand(piece, setting, {})
    return tuple(_stage(hand, group) for group in groups)


def _one_letter_each(moves: Sequence[Move]) -> Iterator[Move]:
    """The moves without points that are marked already, such as the centre of a second arc."""
    marked: dict[str, Point] = {}
    called: dict[str, str] = {}
    for move in moves:
        if isinstance(move, Dot):
            known = next((n for n, at in marked.items() if abs(at - move.at) < NEAR), "")
            if known:
                called[move.label] = known
                continue
            marked[move.label] = move.at
        elif isinstance(move, Swing):
            move = replace(move, about=called.get(move.about, move.about))
        yield move


def _thinned(moves: Sequence[Move]) -> Iterator[Move]:
    """The moves without every other point of long rows, but for those that other moves start from.
    A smooth curve through half of 24 points still misses the true one by a third of a millimetre
    at most."""
    wanted = {name for move in moves for name in _referred(move)}
    left: set[str] = set()
    for kind, group in groupby(moves, type):
        row = list(group)
        for k, move in enumerate(reversed(row)):
            if kind in _ROWS and len(row) > _LONG and k % 2 and not wanted & {*_labels(move)}:
                left.update(_labels(move))
    for move in moves:
        if isinstance(move, Curve):
            yield replace(move, through=tuple(n for n in move.through if n not in left))
        elif not left & {*_labels(move)}:
            yield move


_ROWS = (Crossline, Strike, Along)
_LONG = 8
"""Longer rows of points can do without every other one."""


def _labels(move: Move) -> tuple[str, ...]:
    match move:
        case Crossline(marks=marks):
            return tuple(label for label, _ in marks)
        case Strike(label=label) | Along(label=label):
            return (label,)
    return ()


def _referred(move: Move) -> tuple[str, ...]:
    match move:
        case Rule(start, end) | Curve(through=(start, *_, end)):
            return (start, end)
        case Strike(one=one, other=other):
            return (one, other)
        case Crossline(origin) | Dot(origin=origin):
            return (origin,)
    return ()


def _goes_on(group: Sequence[Move], move: Move, first: bool) -> bool:
    """Whether a move belongs to the stage that the moves before it make."""
    dots = all(isinstance(each, Dot) for each in group)
    last = group[-1]
    match move:
        case Dot():
            return dots
        case Crossline() | Strike() | Along():
            return (dots and len(group) <= 2) or type(last) is type(move)
        case Rule(edge="") if dots:
            return True
        case Rule() | Curve() | Tuck():
            return isinstance(last, Crossline | Strike | Along | Curve | Tuck) or (
                isinstance(last, Rule) and bool(last.edge)
            )
        case Swing() if isinstance(last, Swing):
            return _one_string(last, move)
        case Swing():
            return dots and (not first or len(group) <= FEW)
        case Loop():
            return dots and len(group) == 1
        case Trace() | Inwards():
            return type(last) is type(move)
    return False


def _one_string(one: Swing, other: Swing) -> bool:
    """Whether two arcs of one string are as long as each other, and start together or one where
    the other ends."""
    again = abs(one.start - other.start) < NEAR
    return (
        one.about == other.about
        and abs(one.radius - other.radius) < NEAR
        and abs(one.length - other.length) < NEAR
        and (again or abs(_end(one) - other.start) < NEAR)
    )


def _end(move: Swing) -> Point:
    return move.centre + (move.start - move.centre) * cmath.rect(1.0, move.sweep)


def _stage(hand: Hand, group: Sequence[Move]) -> Stage:
    told = Told()
    rest = list(group)
    while rest:
        alike = 1
        while alike < len(rest) and _told_together(rest[0], rest[alike]):
            alike += 1
        tell(hand, told, rest[:alike])
        del rest[:alike]
    return Stage(
        tuple(told.lines),
        tuple(told.helps),
        tuple(told.passing),
        tuple((label, hand.marks[label]) for label in told.marks),
        tuple((label, hand.marks[label]) for label in dict.fromkeys(told.named)),
        tuple(told.strings),
        tuple(told.along),
        " ".join(dict.fromkeys(told.said)),
        tuple(_merged(told.tables)),
    )


def _merged(tables: Sequence[NumberTable]) -> Iterator[NumberTable]:
    """Tables of one stage with the same headings as one."""
    by_heads: dict[tuple[str, ...], tuple[Row, ...]] = {}
    for table in tables:
        by_heads[table.heads] = (*by_heads.get(table.heads, ()), *table.rows)
    yield from (NumberTable(heads, rows) for heads, rows in by_heads.items())


def _alike(one: Tuck, other: Tuck) -> bool:
    return abs(one.width - other.width) < NEAR and abs(one.depth - other.depth) < NEAR


def _told_together(one: Move, other: Move) -> bool:
    match one, other:
        case Dot(), Dot():
            return True
        case Swing(), Swing():
            return _one_string(one, other)
        case Crossline(), Crossline():
            return one.origin == other.origin
        case Strike(), Strike():
            return (one.one, one.other) == (other.one, other.other)
        case Tuck(), Tuck():
            return one.of == other.of and _alike(one, other)
        case Along(), Along():
            return one.start == other.start
        case (Rule() | Curve(), Rule() | Curve()):
            return bool(one.edge) == bool(other.edge)
    return False
