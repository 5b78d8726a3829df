"""The edges of a gore laid flat, from the profile they follow, and the moves that draw them."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from functools import cache

from notchbook.drafting.aids.profile import stretched
from notchbook.drafting.geometry.fit import End, fit
from notchbook.drafting.geometry.path import Path
from notchbook.drafting.geometry.segments import Cubic, Line, Segment
from notchbook.drafting.geometry.stretch import stretch
from notchbook.drafting.geometry.vector import Point
from notchbook.drafting.moves import Crossline, Curve, Dot, Move, Rule

FITTED = 0.005
"""How far a fitted edge may stray, mm."""
MARKS = 3
"""Widths marked by hand for each cubic of a curve: there are more cubics where it bends more."""
CORNER = 1e-3
"""Directions that differ by more make a corner, radians."""


def runs(meridian: Path, away: float, out: float, tip: float, half: float) -> list[Path]:
    """The edge that lies ``out`` times the radius across from the middle line, upwards from the
    level of the origin, when the middle of the gore lies ``away`` times the radius from the axis.

    It comes in parts that are smooth in themselves: one for each line, each curve and, where the
    meridian ends on its axis, each tip rounded over ``tip`` mm (0: none) so that it comes in at the
    angle ``half`` to the middle line.
    """
    low = tip if meridian.start.real == 0 else 0.0
    high = tip if meridian.end.real == 0 else 0.0
    body = stretch(meridian, low, meridian.length() - high) if tip else meridian
    found: list[list[Segment]] = []
    y = -low
    before: Segment | None = None
    for flat, bent in zip(body.segments, stretched(body, away).segments, strict=True):
        following = _unrolled(flat, bent, out, y)
        y = following[-1].end.imag
        if before is not None and _runs_on(before, flat):
            found[-1] += following
        else:
            found.append(list(following))
        before = flat
    parts = [Path(tuple(run)) for run in found]
    way = complex(math.copysign(math.sin(half), out), -math.cos(half))
    if low:
        parts.insert(0, _tip(0j, way, parts[0].start, parts[0].segments[0].tangent(0)))
    if high:
        last = parts[-1]
        leaving = last.segments[-1].tangent(1)
        parts.append(_tip(last.end, leaving, complex(0, y - high), -way.conjugate()))
    return parts


def _runs_on(a: Segment, b: Segment) -> bool:
    """Whether two parts of a profile are one curve."""
    curved = isinstance(a, Cubic) and isinstance(b, Cubic)
    return curved and abs(a.tangent(1) - b.tangent(0)) < CORNER


def _tip(a: Point, leaving: complex, b: Point, arriving: complex) -> Path:
    third = abs(b - a) / 3
    return Path((Cubic(a, a + leaving * third, b - arriving * third, b),))


def _unrolled(flat: Segment, bent: Segment, out: float, y: float) -> Sequence[Segment]:
    """A part of an edge from the level ``y`` upwards, from that part of the profile as it is, which
    says how far across, and as the middle of the gore has it, whose length says how far up."""
    if isinstance(flat, Line):
        start, end = complex(flat.start.real * out, y), complex(flat.end.real * out, y)
        return [Line(start, end - 1j * bent.length())]
    assert isinstance(flat, Cubic)
    assert isinstance(bent, Cubic)

    @cache
    def along(t: float) -> float:
        return bent.part(0.0, t).length() if t else 0.0

    def at(t: float) -> End:
        speed = complex(out * flat.derivative(t).real, -abs(bent.derivative(t)))
        return complex(out * flat.point(t).real, y - along(t)), speed

    return fit(at, 0.0, 1.0, FITTED, pieces=1).segments


def gore_moves(
    lefts: Sequence[Path], rights: Sequence[Path], base: bool, top: bool
) -> Iterator[Move]:
    """The middle from A up to B, widths square to it, and the edges through their ends. Points to
    the west are called W1, W2 …, to the east E1, E2 …, from the base up."""
    end = 1j * lefts[-1].end.imag
    yield Dot("A", 0)
    yield Dot("B", end, "A", down=end.imag)
    yield Rule("A", "B", -end.imag)
    heights = [_marked(run) for run in lefts]
    rows = [0.0, *(y for run in heights for y in run[1:])]
    wests = ["A" if not base else "W1", *(f"W{k}" for k in range(2, len(rows) + 1))]
    easts = ["A" if not base else "E1", *(f"E{k}" for k in range(2, len(rows) + 1))]
    if not top:
        wests[-1] = easts[-1] = "B"
    widths = [[across_at(runs, y) for y in rows] for runs in (lefts, rights)]
    for y, west, east, label, other in zip(rows, *widths, wests, easts, strict=True):
        if label != other:
            yield Crossline("A", y, ((label, west), (other, east)))
    if base:
        yield Rule("E1", "W1", abs(rights[0].start - lefts[0].start), "base")
    for runs, labels, edge in ((lefts, wests, "left"), (rights, easts, "right")):
        first = 0
        for run, marked in zip(runs, heights, strict=True):
            last = first + len(marked) - 1
            names = tuple(labels[first : last + 1])
            first = last
            if isinstance(run.segments[0], Line):
                yield Rule(names[0], names[-1], run.length(), edge)
            else:
                leaving, arriving = run.segments[0].tangent(0), run.segments[-1].tangent(1)
                yield Curve(names, run.length(), edge, leaving, arriving)
    if top:
        yield Rule(wests[-1], easts[-1], abs(rights[-1].end - lefts[-1].end), "top")


def _marked(run: Path) -> list[float]:
    """The heights (y, down the page) at which a part of an edge is marked, its ends included."""
    if isinstance(run.segments[0], Line):
        return [run.start.imag, run.end.imag]
    marks = MARKS if len(run.segments) > 1 else 2 * MARKS
    found = [segment.point(k / marks).imag for segment in run.segments for k in range(marks)]
    return [*found, run.end.imag]


def across_at(runs: Sequence[Path], y: float) -> float:
    """How far across an edge lies at a height. It climbs all the way, so halving finds it."""
    for run in runs:
        for segment in run.segments:
            if segment.end.imag <= y + 1e-9:
                return segment.end.real if segment.end.imag >= y - 1e-9 else _find(segment, y)
    return runs[-1].end.real


def _find(segment: Segment, y: float) -> float:
    low, high = 0.0, 1.0
    for _ in range(50):
        middle = (low + high) / 2
        low, high = (middle, high) if segment.point(middle).imag > y else (low, middle)
    return segment.point(low).real
