"""The sides of a seam laid along each other, so that one sees whether they meet and what it takes.

Above, each side is unrolled into a straight line as long as it is, all from the same end, with its
notches and the joints of its edges; the first side lies on top. Below, the edges lie as they are
drawn, all from one point in one direction, with their cloth on the same side, as they do when they
are sewn right sides together: where the lines part, one edge has to be bent to the other.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from notchbook.composing import numbers
from notchbook.composing.called import size_title
from notchbook.composing.drawing import Drawing, Item, Stroke, Text
from notchbook.composing.figures.board import Board, callout, callout_aside, framed, label
from notchbook.composing.figures.ruled import dimension
from notchbook.composing.figures.size import SIZE
from notchbook.composing.lettering.paragraph import paragraph
from notchbook.composing.meeting import counted
from notchbook.composing.numbers import SPACE, Pair
from notchbook.composing.pairs import both
from notchbook.composing.setting import Setting
from notchbook.drafting.draft import Draft, Seam
from notchbook.drafting.geometry.box import Box
from notchbook.drafting.geometry.path import polyline
from notchbook.drafting.geometry.polygon import box_round
from notchbook.drafting.geometry.vector import Point, unit
from notchbook.drafting.joins import SEAM_MISS
from notchbook.drafting.marks import Marks
from notchbook.drafting.shape import Edge
from notchbook.drafting.sides import Side, Stretch

_WIDE, _HIGH = 170.0, 130.0
"""The most the straight lines take in width, and the curves in height, mm."""

_ROW = 19.0
"""From one straight line to the next, mm."""

_NAMED = 10.4
"""So far below a straight line its notches and edges are called, mm."""

_PENS = ("cut", "seam", "centre")
"""How the sides are told apart, and in order again."""

_STEP = 1.0
"""A curve is drawn as chords of about this length, mm of the pattern."""


@dataclass(frozen=True, slots=True)
class _Line:
    """A side laid straight, all in mm of the pattern from the end where the sides start: where its
    edges join, what each is called and where, and its notches with their words."""

    name: str
    length: float
    joints: tuple[float, ...]
    edges: tuple[tuple[float, str], ...]
    notches: tuple[tuple[float, str], ...]


def lay_seam(draft: Draft, name: str, setting: Setting) -> Drawing:
    """The sides of one seam of a draft. The straight lines carry ``data-side`` and the curves
    ``data-curve``, both with the number of the side from 1; ``data-share`` of the drawing's lines
    is how large they are drawn. KeyError where there is no such seam."""
    seam = draft.seams[name]
    lines = [_line(draft, seam, number) for number in range(len(seam.sides))]
    curves = [_curve(side, number > 0) for number, side in enumerate(seam.laid)]
    box = box_round([point for curve in curves for point in curve])
    longest = max(max(seam.lengths), box.width)
    share = min(_WIDE / longest, _HIGH / max(box.height, 1.0), 1.0)
    board = Board(setting)
    _straight(board, lines, share)
    _curved(board, lines, curves, share)
    _explain(board, draft, seam, lines, share)
    told = setting.say("lay.alt", seam=name, sides="; ".join(_sides(seam, lines, setting)))
    return framed(board, told)


def _line(draft: Draft, seam: Seam, number: int) -> _Line:
    side, whole = seam.laid[number], seam.lengths[number]
    marks = Marks.of(draft)

    def at(place: float) -> float:
        """From the common start: the sides run opposite ways."""
        return whole - place if number else place

    notches = [
        (at(stretch.begin + _passed(stretch, notch.at)), marks.words(notch))
        for stretch in side
        for notch in draft.pieces[stretch.name.piece].notches
        if (notch.seam, notch.edge) == (seam.name, stretch.edge.name)
    ]
    if seam.round:  # Its start is its end.
        notches = [(0.0 if whole - mm < SEAM_MISS else mm, words) for mm, words in notches]
    return _Line(
        " + ".join(counted(str(name) for name in seam.sides[number])),
        whole,
        tuple(at(stretch.begin) for stretch in side[1:]),
        tuple((at(stretch.begin + stretch.length / 2), str(stretch.name)) for stretch in side),
        tuple(sorted(dict.fromkeys(notches))),
    )


def _passed(stretch: Stretch, point: Point) -> float:
    """How far along a stretch, in the direction of its side, a point of its edge lies, mm."""
    steps = 256
    low, high = 0.0, stretch.length
    while high - low > 1e-4:  # Ever finer about the nearest.
        places = [low + (high - low) * k / steps for k in range(steps + 1)]
        found = stretch.edge.places(places)
        best = min(range(steps + 1), key=lambda k: abs(found[k][0] - point))
        low, high = places[max(best - 1, 0)], places[min(best + 1, steps)]
    along = (low + high) / 2
    return stretch.length - along if stretch.backwards else along


def _curve(side: Side, turned: bool) -> list[Point]:
    """A side as it lies, from 0 on in the direction of x, its cloth on the right, mm. Where edges
    join, or a dart is closed, it goes straight on."""
    points: list[Point] = [0j]
    heading = 1 + 0j
    for stretch in reversed(side) if turned else side:
        against = stretch.backwards != turned
        runs = [_ways(stretch.edge, low, high) for low, high in _runs(stretch.edge)]
        for step, ways in reversed(runs) if against else runs:
            # Passed against its own direction the cloth is on the left: the piece is turned over.
            passed = [-way.conjugate() for way in reversed(ways)] if against else ways
            turn = heading / passed[0]
            for way in passed[1:-1]:
                points.append(points[-1] + way * turn * step)
            heading = passed[-1] * turn
    return points


def _runs(edge: Edge) -> Iterator[tuple[float, float]]:
    """The stretches of an edge, as it is sewn, between the darts that are closed in it."""
    gone, before = 0.0, 0.0
    for start, end in edge.taken:
        if start - gone > before:
            yield before, start - gone
        before = start - gone
        gone += end - start
    yield before, edge.length()


def _ways(edge: Edge, low: float, high: float) -> tuple[float, list[complex]]:
    """The length of a step, and the directions at the start, in the middle of every step, and at
    the end."""
    count = max(math.ceil((high - low) / _STEP), 8)
    step = (high - low) / count
    inset = min(1e-6, step / 4)
    places = [low + inset, *(low + step * (k + 0.5) for k in range(count)), high - inset]
    return step, [way for _, way in edge.places(places)]


def _straight(board: Board, lines: Sequence[_Line], share: float) -> None:
    for number, line in enumerate(lines):
        start, out = number * _ROW * 1j, 1j if number else -1j
        end = start + line.length * share
        data = {"side": str(number + 1), "share": f"{share:.6f}"}
        board.add(Stroke((polyline(start, end),), _pen(number), data))
        ticks = [(start, 1.6), (end, 1.6), *((start + mm * share, 2.6) for mm in line.joints)]
        bars = [polyline(at - half * 1j, at + half * 1j) for at, half in ticks]
        board.add(Stroke(tuple(bars), "ruler"))
        board.add(Text(start - 5 + 1.2j, str(number + 1), "strong", SIZE, "middle"))
        for mm, words in line.notches:
            foot = start + mm * share
            board.add(Stroke((polyline(foot, foot + out * 2.4),), "notch", {"at": f"{mm:.3f}"}))
            if words:
                at = foot + out * (5.6 if number else 3.2)
                board.add(Text(at, words, "number", 2.8, "middle"))
        for mm, name in line.edges:
            at = start + mm * share + out * (10.2 if number else 7.6)
            board.write(Text(at + aside, name, "label", SIZE, "middle") for aside in (0, 8, -8))
    for number, line in enumerate(lines[1:], start=1):
        _twins(board, lines[number - 1], line, number, share)
        more = line.length - lines[0].length
        if abs(more) * share > 0.2:
            ends = sorted((lines[0].length * share, line.length * share))
            left, right = (x + (number * _ROW + 14.5) * 1j for x in ends)
            dimension(board, left, right, _fine(abs(more)), -1j, extend=(left - 3j, right - 3j))


def _pen(number: int) -> str:
    return _PENS[number % len(_PENS)]


def _twins(board: Board, above: _Line, line: _Line, number: int, share: float) -> None:
    """A thin line between each notch of a side and the nearest of its words on the next, number
    ``number``; below another than the first side, what it is called stands in between."""
    low, high = _ROW * (number - 1) + 1, _ROW * number - 1
    for mm, words in above.notches:
        twins = [other for other, said in line.notches if said == words]
        if twins:
            other = min(twins, key=lambda there: abs(there / line.length - mm / above.length))
            start, end = complex(mm * share, low), complex(other * share, high)
            if number > 1:
                start += (end - start) * (_NAMED / (high - low))
            board.add(Stroke((polyline(start, end),), "leader"))


def _curved(
    board: Board, lines: Sequence[_Line], curves: Sequence[list[Point]], share: float
) -> None:
    """The edges as they lie, below everything, and what each is called."""
    drawn = [[point * share for point in curve] for curve in curves]
    low = box_round([point for curve in drawn for point in curve]).low
    shift = complex(-min(low.real, 0.0), board.box().high.imag + 12 - low.imag)
    for number, curve in enumerate(drawn):
        path = polyline(*(point + shift for point in curve))
        board.add(Stroke((path,), _pen(number), {"curve": str(number + 1)}))
    box = board.box()
    region = Box(complex(box.low.real, shift.imag + low.imag - 10), box.high + 16j)
    for number, curve in enumerate(drawn):
        block = label(board.setting, (str(number + 1), "strong"), (lines[number].name, "label"))
        steps = [int(share * (len(curve) - 2)) for share in (0.62, 0.4, 0.8, 0.25, 0.93)]
        anchors = [
            (curve[k] + shift, unit(curve[k + 1] - curve[k]) * (1j if number else -1j))
            for k in steps
        ]
        if not callout(board, block, anchors, region):
            callout_aside(board, block, anchors)


def _explain(board: Board, draft: Draft, seam: Seam, lines: Sequence[_Line], share: float) -> None:
    setting, box = board.setting, board.box()
    wide = max(box.width, 120.0)
    title = setting.say("lay.title", seam=seam.name, recipe=draft.recipe.title)
    size = setting.say("lay.size", size=size_title(draft, setting))
    drawn = setting.say("lay.scale", percent=numbers.percent(share).metric)
    notes = [
        setting.say("lay.number", number=k, said=said)
        for k, said in enumerate(_sides(seam, lines, setting), start=1)
    ]
    y = box.high.imag + SIZE * 2.4
    rows: list[Item] = [Text(complex(box.low.real, y), title, "strong", SIZE * 1.3)]
    for words in (f"{size} {drawn}", setting.say("lay.above"), *notes):
        y = max(item.at.imag for item in rows if isinstance(item, Text)) + SIZE * 1.6
        rows += paragraph(words, complex(box.low.real, y), wide, SIZE, setting)
    board.add(*rows)


def _sides(seam: Seam, lines: Sequence[_Line], setting: Setting) -> list[str]:
    """What there is to say of each side."""
    said: list[str] = []
    for number, line in enumerate(lines):
        words = [setting.say("lay.side", edges=line.name, length=both(_fine(line.length), setting))]
        if number:
            more = line.length - lines[0].length
            key = "lay.longer" if more > 0 else "lay.shorter"
            if abs(more) >= 0.05:
                words.append(setting.say(key, length=both(_fine(abs(more)), setting)))
            words += _declared(seam, number, more, setting)
        said.append(" ".join(words))
    return said


def _declared(seam: Seam, number: int, more: float, setting: Setting) -> Iterator[str]:
    """What the recipe declares for a side, and what that leaves."""
    ease = seam.ease[number]
    ratio = seam.gathers[number] if seam.gathers else 1.0
    if ratio != 1:
        yield setting.say("lay.gathered", ratio=numbers.decimal(ratio, 0.01))
    if ease:
        yield setting.say("lay.ease", length=both(_fine(ease), setting))
    left = abs(more - ease)
    if left < 0.05:
        yield setting.say("lay.meets")
    else:
        key = "lay.nearly" if left <= SEAM_MISS else "lay.misses"
        yield setting.say(key, length=both(_fine(left), setting))


def _fine(mm: float) -> Pair:
    """A length to 0.1 mm and 1/64 in, as truing needs it."""
    return Pair(f"{numbers.decimal(mm, 0.1)}{SPACE}mm", numbers.inches(mm, 64))
