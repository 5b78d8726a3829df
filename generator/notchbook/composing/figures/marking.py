"""Points marked by hand, a few in words, many in a table."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from notchbook.composing.figures.number_table import NumberTable, Row
from notchbook.composing.figures.told import NEAR, Hand, Told
from notchbook.composing.numbers import radius
from notchbook.drafting.geometry.path import Path, polyline
from notchbook.drafting.moves import (
    Along,
    Crossline,
    Dot,
    Move,
    Strike,
)

FEW = 3
"""More points than these, besides the first, are told in a table."""


def dots(hand: Hand, told: Told, moves: Sequence[Dot]) -> None:
    """Points by their ways from others."""
    for move in moves:
        if move.origin and move.at != hand.marks[move.origin]:
            told.named.append(move.origin)
        hand.marks[move.label] = move.at
    told.marks += [move.label for move in moves]
    told.said += [hand.say("dot.first", label=move.label) for move in moves if not move.origin]
    others = [move for move in moves if move.origin]
    if len(others) > FEW and len({move.origin for move in others}) == 1:
        origin = others[0].origin
        rows = [Row(move.label, (move.across, move.down)) for move in others]
        told.tables.append(_headed(hand, rows, origin, ("east", "south")))
        told.said.append(hand.say("dots", origin=origin))
        return
    for move in others:
        ways = [
            hand.way(distance, onwards, backwards)
            for distance, onwards, backwards in (
                (move.across, "east", "west"),
                (move.down, "south", "north"),
            )
            if abs(distance) > NEAR
        ]
        if len(ways) == 1:
            line = polyline(hand.marks[move.origin], move.at)
            told.helps.append(line)
            told.along.append((line, radius(abs(move.at - hand.marks[move.origin]))))
        said = ", ".join(ways)
        told.said.append(hand.say("dot", label=move.label, origin=move.origin, ways=said))


def marks(hand: Hand, told: Told, moves: Sequence[Move]) -> None:
    """Points measured off in a row, in a table."""
    rows: list[Row] = []
    labels: list[str] = []
    # Points as far out on both sides are one row. Where some are not, each point is one, with the
    # side it lies on.
    even = all(
        _paired(move) or all(across > -NEAR for _, across in move.marks)
        for move in moves
        if isinstance(move, Crossline)
    )
    for move in moves:
        match move:
            case Crossline(origin, down, marks):
                for label, across in marks:
                    hand.marks[label] = hand.marks[origin] + complex(across, down)
                labels += [label for label, _ in marks]
                reach = [across for _, across in marks]
                told.passing += _crossline(hand, move)
                if even and _paired(move):
                    rows.append(Row(_together(*(label for label, _ in marks)), (down, max(reach))))
                else:
                    rows += [Row(label, (down, across)) for label, across in marks]
            case Strike(label, at, _, near, _, far):
                hand.marks[label] = at
                labels.append(label)
                rows.append(Row(label, (near, far)))
            case Along(label, at, _, _, distance):
                hand.marks[label] = at
                labels.append(label)
                rows.append(Row(label, (distance,)))
    match moves[0]:
        case Crossline(origin):
            table = _headed(hand, rows, origin, ("south", "aside" if even else "east"))
            told.said.append(hand.say("crosslines", origin=origin))
            told.named.append(origin)
        case Strike(one=one, other=other):
            heads = tuple(hand.say("table.from", label=label) for label in (one, other))
            table = NumberTable(heads, tuple(rows))
            told.said.append(hand.say("strikes", one=one, other=other))
            told.named += [one, other]
        case Along(start=start):
            table = NumberTable((hand.say("table.from", label=start),), tuple(rows))
            told.said.append(hand.say("alongs", start=start))
            told.named.append(start)
    told.marks += labels
    told.tables.append(table)


def _together(one: str, other: str) -> str:
    """Two letters for a table: ``W1 E1``, ``B3w/e``."""
    return f"{one}/{other[-1]}" if one[:-1] == other[:-1] else f"{one} {other}"


def _paired(move: Crossline) -> bool:
    """Whether it has a point on either side, as far out."""
    return len(move.marks) == 2 and abs(sum(across for _, across in move.marks)) < NEAR


def _crossline(hand: Hand, move: Crossline) -> Iterator[Path]:
    """The thin line, and the bit of the one it is square to."""
    foot = hand.marks[move.origin] + 1j * move.down
    ends = [foot, *(hand.marks[label] for label, _ in move.marks)]
    left, right = (choose(ends, key=lambda end: end.real) for choose in (min, max))
    if right.real - left.real > NEAR:
        yield polyline(left, right)


def _headed(hand: Hand, rows: Sequence[Row], origin: str, ways: tuple[str, str]) -> NumberTable:
    """Points by their ways from an origin. Numbers that go the other way than their heading says
    have a minus sign; none has, where all go the same way."""
    heads, columns = [], []
    for k, way in enumerate(ways):
        values = [row.values[k] for row in rows]
        low, high = min(values) < -NEAR, max(values) > NEAR
        turned = low and not high and way in _OPPOSITE
        key = f"table.{_OPPOSITE[way] if turned else way}{'.both' if low and high else ''}"
        heads.append(hand.say(key, origin=origin))
        columns.append([-value if turned else value for value in values])
    values_ = zip(*columns, strict=True)
    return NumberTable(
        tuple(heads), tuple(Row(row.label, each) for row, each in zip(rows, values_, strict=True))
    )


_OPPOSITE = {"east": "west", "south": "north"}
