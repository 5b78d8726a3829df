"""Whether a path crosses itself."""

from __future__ import annotations

import cmath
import math
from collections.abc import Sequence
from itertools import pairwise

from notchbook.drafting.geometry.meet import hull, meet, neighbours
from notchbook.drafting.geometry.path import Path
from notchbook.drafting.geometry.segments import Arc, Cubic, Line, Segment
from notchbook.drafting.geometry.vector import Point, cross


def crosses_itself(path: Path) -> Point | None:
    """A point where ``path`` crosses or touches itself, or None. That a closed path ends where it
    begins does not count, nor do segments that join end to end."""
    found = first_crossing(path.segments, path.closed)
    return found[2] if found else None


def first_crossing(segments: Sequence[Segment], closed: bool) -> tuple[int, int, Point] | None:
    """Which two segments of a path cross, and where: see ``crosses_itself``.

    A line must turn through half a turn to come back to itself, and a closed one that turns through
    no more than a whole turn is convex: neither needs a closer look.
    """
    legs = [_legs(segment) for segment in segments]
    bends = [_turning(segment, made) for segment, made in zip(segments, legs, strict=True)]
    corners = [_angle(a[-1], b[0]) for a, b in pairwise((*legs, legs[0]))]
    if closed and math.fsum((*bends, *corners)) < math.tau + 1e-6:
        return None
    for i, (a, b) in enumerate(pairwise((*segments, segments[0]) if closed else segments)):
        if corners[i] > math.pi - 1e-9 and isinstance(a, Line) and isinstance(b, Line):
            return i, (i + 1) % len(segments), a.end  # Straight back over itself.
    for i, segment in enumerate(segments):
        if isinstance(segment, Cubic) and bends[i] > math.pi - 1e-9:
            spot = _looped(segment)
            if spot is not None:
                return i, i, spot
    last = len(segments) - 1
    for i, j in neighbours([hull(segment) for segment in segments]):
        a, b = segments[i], segments[j]
        joined, returned = j == i + 1, closed and i == 0 and j == last
        if (joined and last > 1 and bends[i] + bends[j] + corners[i] < 3) or (
            returned and last > 1 and bends[i] + bends[j] + corners[j] < 3
        ):
            continue
        for t, _ in meet(a, b):
            spot = a.point(t)
            if not (joined and _same(spot, a.end, b.start)) and not (
                returned and _same(spot, a.start, b.end)
            ):
                return i, j, spot
    return None


def _same(*points: Point) -> bool:
    return all(abs(point - points[0]) < 1e-5 for point in points)


def _legs(segment: Segment) -> tuple[complex, ...]:
    """The directions in which a segment sets off, goes on and comes in, as far as they are known
    without measuring; not of length one."""
    match segment:
        case Line(start, end):
            return (end - start,)
        case Arc(_, _, begin, sweep):
            return cmath.rect(sweep, begin) * 1j, cmath.rect(sweep, begin + sweep) * 1j
        case Cubic(start, leave, arrive, end):
            legs = (leave - start, arrive - leave, end - arrive)
            return legs if all(legs) else tuple(leg for leg in legs if leg) or (0j,)


def _turning(segment: Segment, legs: Sequence[complex]) -> float:
    """The angle a segment turns through, or more: a cubic turns no more than its handles do."""
    if isinstance(segment, Arc):
        return abs(segment.sweep)
    if len(legs) == 3:
        return _angle(legs[0], legs[1]) + _angle(legs[1], legs[2])
    return _angle(*legs) if len(legs) == 2 else 0.0


def _angle(a: complex, b: complex) -> float:
    turn = b * a.conjugate()
    return abs(math.atan2(turn.imag, turn.real)) if a and b else 0.0


def _looped(cubic: Cubic) -> Point | None:
    """Where a cubic crosses itself. With c(t) = p + a·t + b·t² + c·t³ and two shares of sum S and
    product P, c(t) = c(s) means a + b·S + c·(S² − P) = 0, linear in S and in S² − P."""
    a = 3 * (cubic.leave - cubic.start)
    b = 3 * (cubic.arrive - cubic.leave) - a
    c = cubic.end - cubic.start - a - b
    wedge = cross(b, c)
    if abs(wedge) < 1e-12 * abs(b) * abs(c) or not wedge:
        return None
    total = -cross(a, c) / wedge
    product = total * total - cross(a, b) / wedge
    under = total * total - 4 * product
    if under <= 0:
        return None
    first, second = (total - math.sqrt(under)) / 2, (total + math.sqrt(under)) / 2
    if first >= 0 and second <= 1 and second - first > 1e-6 and (first > 0 or second < 1):
        return cubic.point(first)
    return None
