"""Where two segments meet."""

from __future__ import annotations

import cmath
import math
from collections.abc import Iterable, Iterator, Sequence

from notchbook.drafting.geometry.polygon import nearest
from notchbook.drafting.geometry.roots import roots
from notchbook.drafting.geometry.segments import Arc, Cubic, Line, Segment
from notchbook.drafting.geometry.vector import TOUCH, Point, cross, dot, unit

_SLACK = 1e-9
"""Shares this far beyond the ends of a segment still count as its ends."""

Hull = tuple[float, float, float, float]
"""A box that surely holds a segment: left, top, right, bottom."""


def meet(a: Segment, b: Segment) -> list[tuple[float, float]]:
    """The shares of ``a`` and of ``b`` (0 to 1) at which they meet, in order along ``a``.

    Lines and arcs in closed form, with cubics to 1e-9. Segments that lie on each other over a
    stretch have no single meeting point and give none there.
    """
    match a, b:
        case Line(), Line():
            found = _lines(a, b)
        case Line(), Arc():
            found = _line_arc(a, b)
        case Arc(), Line():
            found = _turned(_line_arc(b, a))
        case Arc(), Arc():
            found = _arcs(a, b)
        case Line(), Cubic():
            found = _line_cubic(a, b)
        case Cubic(), Line():
            found = _turned(_line_cubic(b, a))
        case _:
            found = _curves(a, b)
    inside: list[tuple[float, float]] = []
    for t, u in sorted(found):
        if -_SLACK <= t <= 1 + _SLACK and -_SLACK <= u <= 1 + _SLACK:
            pair = min(max(t, 0.0), 1.0), min(max(u, 0.0), 1.0)
            if all(abs(a.point(pair[0]) - a.point(t)) > TOUCH for t, _ in inside):
                inside.append(pair)
    return inside


def hull(segment: Segment) -> Hull:
    """A box that surely holds the segment, quickly found and not always tight."""
    match segment:
        case Line(start, end):
            a, b, c, d = start.real, start.imag, end.real, end.imag
            return (a, b, c, d) if a < c and b < d else (min(a, c), min(b, d), max(a, c), max(b, d))
        case Arc(centre, radius, _, sweep):
            # An arc stays within its radius × angle of its start, and within its circle.
            reach = radius * abs(sweep)
            p = segment.start
            return (
                max(centre.real - radius, p.real - reach),
                max(centre.imag - radius, p.imag - reach),
                min(centre.real + radius, p.real + reach),
                min(centre.imag + radius, p.imag + reach),
            )
        case Cubic(start, leave, arrive, end):
            return (
                min(start.real, leave.real, arrive.real, end.real),
                min(start.imag, leave.imag, arrive.imag, end.imag),
                max(start.real, leave.real, arrive.real, end.real),
                max(start.imag, leave.imag, arrive.imag, end.imag),
            )


def apart(a: Hull, b: Hull) -> bool:
    """Whether two boxes have no point in common."""
    return a[0] > b[2] or b[0] > a[2] or a[1] > b[3] or b[1] > a[3]


def neighbours(hulls: Sequence[Hull]) -> Iterator[tuple[int, int]]:
    """The pairs (i < j) of boxes that overlap, found by sweeping from left to right."""
    open_: list[int] = []
    for i in sorted(range(len(hulls)), key=lambda k: hulls[k]):
        left, top, _, bottom = hulls[i]
        open_ = [j for j in open_ if hulls[j][2] >= left]
        for j in open_:
            if hulls[j][1] <= bottom and hulls[j][3] >= top:
                yield (i, j) if i < j else (j, i)
        open_.append(i)


def _turned(pairs: Iterable[tuple[float, float]]) -> list[tuple[float, float]]:
    return [(u, t) for t, u in pairs]


def _lines(a: Line, b: Line) -> list[tuple[float, float]]:
    along, other, gap = a.end - a.start, b.end - b.start, b.start - a.start
    wedge = cross(along, other)
    if abs(wedge) <= 1e-12 * abs(along) * abs(other):
        return []
    return [(cross(gap, other) / wedge, cross(gap, along) / wedge)]


def _line_arc(a: Line, b: Arc) -> list[tuple[float, float]]:
    length = a.length()
    if length < TOUCH:
        return []
    along = (a.end - a.start) / length
    foot = dot(b.centre - a.start, along)
    under = b.radius * b.radius - cross(along, b.centre - a.start) ** 2
    if under < -TOUCH * b.radius:
        return []
    half = math.sqrt(max(under, 0.0))
    return [
        (s / length, u)
        for s in (foot - half, foot + half)
        for u in turns(b, a.start + along * s - b.centre)
    ]


def turns(arc: Arc, direction: complex) -> Iterator[float]:
    """The share at which an arc lies in ``direction`` from its centre; a little beyond its ends
    counts as the end."""
    full = math.tau / abs(arc.sweep)
    t = ((cmath.phase(direction) - arc.begin) / arc.sweep) % full
    yield t - full if t > full - _SLACK else t


def _arcs(a: Arc, b: Arc) -> list[tuple[float, float]]:
    gap = b.centre - a.centre
    between = abs(gap)
    if between < TOUCH:
        return []
    # The line through both meeting points crosses the line of centres at this distance from a's.
    foot = (between * between + a.radius * a.radius - b.radius * b.radius) / (2 * between)
    under = a.radius * a.radius - foot * foot
    if under < -TOUCH * a.radius:
        return []
    half = math.sqrt(max(under, 0.0))
    ahead = unit(gap)
    return [
        (t, u)
        for side in (-half, half)
        for spot in [a.centre + ahead * complex(foot, side)]
        for t in turns(a, spot - a.centre)
        for u in turns(b, spot - b.centre)
    ]


def _line_cubic(a: Line, b: Cubic) -> list[tuple[float, float]]:
    along = a.end - a.start
    size = dot(along, along)
    if size < TOUCH * TOUCH:
        return []
    p, q, r, s = (cross(along, k - a.start) for k in (b.start, b.leave, b.arrive, b.end))
    shares = roots(p, q, r, s)
    near = TOUCH * math.sqrt(size)
    shares += [u for u, side in ((0.0, p), (1.0, s)) if abs(side) < near]
    return [(dot(b.point(u) - a.start, along) / size, u) for u in shares]


def _curves(a: Segment, b: Segment) -> list[tuple[float, float]]:
    """Halve both as long as their boxes overlap, until the pieces are straight enough for Newton
    to finish."""
    found: list[tuple[float, float]] = []
    stack = [(a, 0.0, 1.0, b, 0.0, 1.0)]
    while stack:
        p, t0, t1, q, u0, u1 = stack.pop()
        if apart(hull(p), hull(q)) or _aside(p, q) or _aside(q, p):
            continue
        if _straight(p) and _straight(q):
            for t, u in _starts(p, q):
                spot = _newton(a, b, t0 + t * (t1 - t0), u0 + u * (u1 - u0))
                found += [spot] if spot else []
            continue
        if t1 - t0 < _SLACK or u1 - u0 < _SLACK or len(stack) > 400:
            continue
        t, u = (t0 + t1) / 2, (u0 + u1) / 2
        firsts = [(p, t0, t1)] if _straight(p) else [(a.part(t0, t), t0, t), (a.part(t, t1), t, t1)]
        others = [(q, u0, u1)] if _straight(q) else [(b.part(u0, u), u0, u), (b.part(u, u1), u, u1)]
        stack.extend((*first, *other) for first in firsts for other in others)
    return found


def _aside(a: Segment, b: Segment) -> bool:
    """Whether a cubic or a line lies all on one side of the other, seen along that one's chord:
    curves that run beside each other are told apart so long before their boxes are."""
    if isinstance(a, Arc) or isinstance(b, Arc):
        return False
    start, way = a.start, a.end - a.start
    own, other = _across(a, start, way), _across(b, start, way)
    near = TOUCH * abs(way)
    return min(other) > max(own) + near or max(other) < min(own) - near


def _across(segment: Line | Cubic, start: Point, way: complex) -> list[float]:
    """How far aside of a straight line a segment's ends and handles lie, in units of its length."""
    x, y, left, top = way.real, way.imag, start.real, start.imag
    ends = [segment.start, segment.end]
    if isinstance(segment, Cubic):
        ends += [segment.leave, segment.arrive]
    return [x * (p.imag - top) - y * (p.real - left) for p in ends]


def _starts(a: Segment, b: Segment) -> Iterator[tuple[float, float]]:
    """Shares of two straight pieces from which Newton finds wherever they meet: where they run so
    nearly alike that they may meet twice, from beside all their ends."""
    yield 0.5, 0.5
    if not _once(a, b):
        yield from ((t, _beside(p, b)) for t, p in ((0.0, a.start), (1.0, a.end)))
        yield from ((_beside(p, a), u) for u, p in ((0.0, b.start), (1.0, b.end)))


def _beside(point: Point, segment: Segment) -> float:
    """About the share of a straight piece that lies nearest to a point."""
    return nearest(point, segment.start, segment.end)


def _once(a: Segment, b: Segment) -> bool:
    """Whether two segments surely meet no more than once: no direction of one is one of the other.

    If they met twice, the chord between would be a sum of directions of either; and each of those
    is a sum of the segment's outermost ones (a cubic's handles, an arc's ends).
    """
    others = _directions(b)
    sides = [cross(first, second) for first in _directions(a) for second in others]
    return all(side > 0 for side in sides) or all(side < 0 for side in sides)


def _directions(segment: Segment) -> list[complex]:
    """The outermost directions of a straight segment, of whatever length."""
    match segment:
        case Line(start, end):
            return [end - start]
        case Arc():
            return [segment.tangent(0), segment.tangent(1)]
        case Cubic(start, leave, arrive, end):
            return [way for way in (leave - start, arrive - leave, end - arrive) if way]


def _straight(segment: Segment) -> bool:
    """Whether a segment turns so little (about 6°) that Newton gets along with it."""
    match segment:
        case Line():
            return True
        case Arc(sweep=sweep):
            return abs(sweep) < 0.1
        case Cubic(start, leave, arrive, end):
            first, second, third = leave - start, arrive - leave, end - arrive
            return abs(cross(first, second)) <= 0.05 * dot(first, second) and abs(
                cross(second, third)
            ) <= 0.05 * dot(second, third)


def _newton(a: Segment, b: Segment, t: float, u: float) -> tuple[float, float] | None:
    for _ in range(40):
        gap = b.point(u) - a.point(t)
        along, other = _speed(a, t), _speed(b, u)
        wedge = cross(along, other)
        if abs(wedge) < 1e-9 * abs(along) * abs(other):
            return None
        dt, du = cross(gap, other) / wedge, cross(gap, along) / wedge
        t, u = t + dt, u + du
        if abs(dt) + abs(du) < 1e-12:
            break
        if not (-1 < t < 2 and -1 < u < 2):
            return None
    return (t, u) if abs(b.point(u) - a.point(t)) < TOUCH else None


def _speed(segment: Segment, t: float) -> complex:
    if isinstance(segment, Cubic):
        return segment.derivative(t)
    return segment.tangent(t) * segment.length()
