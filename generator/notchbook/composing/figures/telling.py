"""What a move by hand adds to a panel: lines, points, numbers, and what to do in words."""

from __future__ import annotations

import cmath
import math
from collections.abc import Iterator, Sequence

from notchbook.composing.figures.marking import dots, marks
from notchbook.composing.figures.number_table import NumberTable, Row
from notchbook.composing.figures.told import NEAR, Hand, Told
from notchbook.composing.names import plain
from notchbook.composing.numbers import radius
from notchbook.drafting.geometry.fit import through
from notchbook.drafting.geometry.path import Path, polyline
from notchbook.drafting.geometry.segments import Arc
from notchbook.drafting.geometry.vector import Point, cross, dot, unit
from notchbook.drafting.moves import (
    Along,
    Crossline,
    Curve,
    Dot,
    Inwards,
    Loop,
    Move,
    Offset,
    Rule,
    Strike,
    Swing,
    Trace,
    Tuck,
)

_SPARSE, _SHORT = 5, 25.0
"""A curve through no more points than this, and longer, mm, is measured off straight lines."""

_SHARES = (1 / 3, 2 / 3)
"""Where a curve through few points is measured off the straight line between two of them."""


def tell(hand: Hand, told: Told, moves: Sequence[Move]) -> None:
    """Some moves that are told in one go."""
    edges = hand.piece.flat.edges
    match moves[0]:
        case Dot():
            dots(hand, told, [move for move in moves if isinstance(move, Dot)])
        case Swing():
            _swings(hand, told, [move for move in moves if isinstance(move, Swing)])
        case Crossline() | Strike() | Along():
            marks(hand, told, moves)
        case Rule() | Curve():
            joins = [move for move in moves if isinstance(move, Rule | Curve)]
            _joins(hand, told, joins)
        case Loop(centre, along, apart, string, length, edge):
            path = edges[edge].path
            pins = (centre - along * apart / 2, centre + along * apart / 2)
            pencil = path.point_at(path.length() * 0.16)
            label = _letter(hand, centre)
            told.lines.append(path)
            told.passing.append(polyline(pins[0], pencil, pins[1], pins[0]))
            told.along += [
                (polyline(centre, pins[1]), radius(apart / 2)),
                (path, radius(length)),
            ]
            told.named += [label] if label else []
            way = "loop.across" if abs(along.real) > abs(along.imag) else "loop.along"
            told.said.append(
                hand.say(
                    "loop",
                    way=hand.say(way),
                    centre=label,
                    half=hand.number(apart / 2),
                    string=hand.number(string),
                    length=hand.number(length),
                )
            )
        case Offset(of, distance, length, edge):
            path, source = edges[edge].path, edges[of].path
            told.lines.append(path)
            for k in range(12):
                foot, along_ = source.at((k + 0.5) / 12 * source.length())
                # Holes run anticlockwise: the cloth is on the right of travel.
                out = along_ * 1j if edges[of] not in hand.piece.flat.loops[0] else along_ * -1j
                told.passing.append(polyline(foot, foot + out * distance))
            told.along += [
                (told.passing[-1], radius(abs(distance))),
                (path, radius(length)),
            ]
            key = "offset.outside" if distance > 0 else "offset.inside"
            far = hand.number(abs(distance))
            told.said.append(hand.say(key, of=plain(of), distance=far, length=hand.number(length)))
        case Trace(name, of, path, length):
            told.lines.append(path)
            told.along.append((path, radius(length)))
            said = hand.say("trace", piece=plain(name), of=plain(of), length=hand.number(length))
            told.said.append(said)
        case Inwards(of, distance, path, length):
            told.lines.append(path)
            told.along.append((path, radius(length)))
            key = "inwards" if distance > NEAR else "stays"
            far, names = hand.number(distance), ", ".join(map(plain, of))
            told.said.append(hand.say(key, of=names, distance=far, length=hand.number(length)))
        case Tuck():
            _tucks(hand, told, [move for move in moves if isinstance(move, Tuck)])


def _tucks(hand: Hand, told: Told, tucks: Sequence[Tuck]) -> None:
    """Darts that differ in nothing but their place."""
    first = tucks[0]
    for dart in hand.piece.flat.darts:
        if dart.name in {move.dart for move in tucks}:
            told.lines.append(polyline(dart.feet[0], dart.point, dart.feet[1]))
    if len(tucks) > 1:
        rows = tuple(Row(move.dart, (move.along,)) for move in tucks)
        told.tables.append(NumberTable((hand.say("table.along", of=plain(first.of)),), rows))
    told.said.append(
        hand.say(
            "tuck.one" if len(tucks) == 1 else "tuck.other",
            dart=first.dart,
            of=plain(first.of),
            along=hand.number(first.along),
            half=hand.number(first.width / 2),
            depth=hand.number(first.depth),
        )
    )


def _swings(hand: Hand, told: Told, swings: Sequence[Swing]) -> None:
    """One arc, or one and another like it, its mirror image or what follows it."""
    first = swings[0]
    start = _letter(hand, first.start)
    for move in swings:
        begin = cmath.phase(move.start - move.centre)
        # Quarters at most, so that a whole circle is one path too.
        count = math.ceil(abs(move.sweep) / (math.pi / 2))
        part = move.sweep / count
        arcs = (Arc(move.centre, move.radius, begin + k * part, part) for k in range(count))
        path = Path(tuple(arcs))
        told.lines.append(path)
        if move.end:
            hand.marks.setdefault(move.end, path.end)
            told.marks.append(move.end)
    told.named += [first.about, *([start] if start else [])]
    told.strings.append((first.centre, told.lines[-1], radius(first.radius)))
    told.along.append((told.lines[-len(swings)], radius(first.length)))
    if abs(first.sweep) > math.tau - 1e-6:
        key = "swing.circle"
    elif len(swings) == 1:
        key = "swing"
    else:
        key = "swing.both" if abs(swings[1].start - first.start) < NEAR else "swing.on"
    ends = [move.end for move in swings]
    told.said.append(
        hand.say(
            key,
            about=first.about,
            radius=hand.number(first.radius),
            start=start,
            length=hand.number(first.length),
            end=ends[0],
            other=ends[-1],
        )
    )


def _joins(hand: Hand, told: Told, joins: Sequence[Rule | Curve]) -> None:
    """Lines between points, those of one length told together."""
    by_length: dict[tuple[str, str], list[str]] = {}
    bows: list[Row] = []
    for move in joins:
        names = (move.start, move.end) if isinstance(move, Rule) else move.through
        points = [hand.marks[name] for name in names]
        kind = "rule" if isinstance(move, Rule) else "curve"
        if isinstance(move, Rule):
            path = polyline(*points)
        else:
            path = through(points, False, move.leaving, move.arriving)
            if len(points) <= _SPARSE and move.length > _SHORT:
                bows += _bows(path, names)
        (told.lines if move.edge else told.helps).append(path)
        by_length.setdefault((kind, hand.number(move.length)), []).append(f"{names[0]}–{names[-1]}")
        if move.edge:
            told.along.append((path, radius(move.length)))
        told.named += [names[0], names[-1]]
    for (kind, length), spans in sorted(
        by_length.items(), key=lambda told: told[0][0], reverse=True
    ):
        key = f"{kind}.{'one' if len(spans) == 1 else 'other'}"
        told.said.append(hand.say(key, lines=", ".join(spans), length=length))
    if bows:
        told.said.append(hand.say("bows"))
        heads = tuple(hand.say(f"table.bow.{k}") for k in (1, 2))
        told.tables.append(NumberTable(heads, tuple(bows)))


def _bows(path: Path, names: Sequence[str]) -> Iterator[Row]:
    """How far each stretch of a curve lies off the straight line between its ends, at a third and
    at two thirds of that; away from the cloth, which is on the right of travel."""
    for k, segment in enumerate(path.segments):
        chord = segment.end - segment.start
        found = []
        for share in _SHARES:
            low, high = 0.0, 1.0
            for _ in range(30):
                t = (low + high) / 2
                if dot(segment.point(t) - segment.start, unit(chord)) < share * abs(chord):
                    low = t
                else:
                    high = t
            found.append(cross(segment.point(low) - segment.start, unit(chord)))
        yield Row(f"{names[k]}–{names[k + 1]}", tuple(found))


def _letter(hand: Hand, point: Point) -> str:
    return next((name for name, at in hand.marks.items() if abs(at - point) < NEAR), "")
