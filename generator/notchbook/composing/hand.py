"""Hand construction in words: each move of a piece as a sentence."""

from __future__ import annotations

import math
from itertools import groupby

from markupsafe import Markup

from notchbook.composing.names import plain
from notchbook.composing.setting import Setting
from notchbook.composing.values import Values, words
from notchbook.drafting.geometry.vector import Point
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

_NEAR = 0.01
"""Points nearer than this (mm) carry the same letter."""


def sentences(moves: tuple[Move, ...], setting: Setting, values: Values) -> tuple[Markup, ...]:
    """The moves of one piece in the order they are made; darts that differ in nothing but their
    place are told once.

    Directions are as on a map, since “right” is kept for the right side of cloth.
    """
    letters: list[tuple[Point, str]] = []
    told = []
    for _, alike in groupby(enumerate(moves), lambda pair: _kind(*pair)):
        move, *more = (move for _, move in alike)
        sentence = _sentence(move, letters, setting, values)
        if more:
            told.append(sentence)
            places = [values.radius(tuck.along) for tuck in more if isinstance(tuck, Tuck)]
            key = f"hand.tuck.more.{'one' if len(places) == 1 else 'other'}"
            sentence = words(
                setting.catalogue.words[key], count=len(places), places=Markup(", ").join(places)
            )
            move = more[-1]
        if edge := getattr(move, "edge", ""):
            sentence += Markup(" ") + words(setting.catalogue.words["hand.edge"], edge=plain(edge))
        told.append(sentence)
        if isinstance(move, Dot):
            letters.append((move.at, move.label))
        elif isinstance(move, Swing) and move.end:
            turn = complex(math.cos(move.sweep), math.sin(move.sweep))
            letters.append((move.centre + (move.start - move.centre) * turn, move.end))
    return tuple(told)


def _kind(number: int, move: Move) -> object:
    """The same for darts that differ in nothing but their place, another one for every move."""
    if isinstance(move, Tuck):
        return move.of, round(move.width, 2), round(move.depth, 2), move.press
    return number


def _sentence(
    move: Move, letters: list[tuple[Point, str]], setting: Setting, values: Values
) -> Markup:
    def say(key: str, **fields: object) -> Markup:
        return words(setting.catalogue.words[f"hand.{key}"], **fields)

    def way(distance: float, onwards: str, backwards: str) -> Markup:
        return say(onwards if distance > 0 else backwards, distance=values.radius(abs(distance)))

    def letter(point: Point) -> str:
        return next((name for at, name in letters if abs(at - point) < _NEAR), "")

    match move:
        case Dot(label=label, origin=""):
            return say("dot.first", label=label)
        case Dot(label, _, origin, across, down):
            ways = [
                way(distance, onwards, backwards)
                for distance, onwards, backwards in (
                    (across, "east", "west"),
                    (down, "south", "north"),
                )
                if abs(distance) > _NEAR
            ]
            return say("dot", label=label, origin=origin, ways=Markup(", ").join(ways))
        case Crossline(origin, down, marks):
            if all(abs(across) <= _NEAR for _, across in marks) and abs(down) > _NEAR:
                way_down = way(down, "south", "north")
                labels = ", ".join(label for label, _ in marks)
                return say("crossline.on", distance=way_down, origin=origin, labels=labels)
            places = Markup("; ").join(
                say("crossline.mark", label=label, distance=way(across, "east", "west"))
                if abs(across) > _NEAR
                else say("crossline.mark.on", label=label)
                for label, across in marks
            )
            if abs(down) <= _NEAR:
                return say("crossline.here", origin=origin, marks=places)
            return say(
                "crossline", distance=way(down, "south", "north"), origin=origin, marks=places
            )
        case Rule(start, end, length):
            return say("rule", start=start, end=end, length=values.radius(length))
        case Swing(about, _, radius, start, sweep, length, end):
            fields = {
                "about": about,
                "radius": values.radius(radius),
                "length": values.length(length),
            }
            if abs(sweep) > math.tau - 1e-6:
                return say("swing.circle", **fields)
            turn = say("clockwise" if sweep > 0 else "anticlockwise")
            begin = letter(start)
            key = f"swing.{'from' if begin else 'open'}{'.to' if end else ''}"
            return say(key, way=turn, start=begin, end=end, **fields)
        case Loop(centre, along, apart, string, length):
            return say(
                "loop",
                along=say("loop.across" if abs(along.real) > abs(along.imag) else "loop.along"),
                centre=letter(centre) or say("loop.middle"),
                apart=values.radius(apart),
                half=values.radius(apart / 2),
                string=values.radius(string),
                length=values.length(length),
            )
        case Offset(of, distance, length):
            return say(
                "offset.outside" if distance > 0 else "offset.inside",
                of=plain(of),
                distance=values.radius(abs(distance)),
                length=values.length(length),
            )
        case Tuck(dart, of, along, width, depth, press):
            return say(
                "tuck",
                dart=dart,
                of=plain(of),
                along=values.radius(along),
                half=values.radius(width / 2),
                depth=values.radius(depth),
                press=say(f"tuck.{press}"),
            )
        case Strike(label, _, one, first, other, second, clockwise):
            return say(
                "strike",
                label=label,
                one=one,
                first=values.radius(first),
                other=other,
                second=values.radius(second),
                way=say("clockwise" if clockwise else "anticlockwise"),
            )
        case Along(label, _, start, end, distance):
            return say("along", label=label, start=start, end=end, distance=values.radius(distance))
        case Trace(piece, of, _, length, whole):
            key = "trace" if whole else "trace.part"
            return say(key, piece=plain(piece), of=plain(of), length=values.length(length))
        case Inwards(of, distance, _, length):
            edges, length_ = ", ".join(map(plain, of)), values.length(length)
            if distance <= _NEAR:
                return say("stays", of=edges, length=length_)
            return say("inwards", of=edges, distance=values.radius(distance), length=length_)
        case Curve(through, length):
            return say("curve", points=", ".join(through), length=values.length(length))
