"""Corners of cutting lines: how the parallels of two edges are joined."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from itertools import pairwise

from notchbook.drafting.geometry.meet import apart, hull, meet
from notchbook.drafting.geometry.segments import Line, Segment
from notchbook.drafting.geometry.vector import TOUCH, Point, cross, dot, unit

MITRE = 2.5
"""A corner that would reach farther than this many times its larger allowance is squared off."""

SQUARED = 1.5
"""How far a squared corner reaches, in larger allowances."""

SMOOTH = 1e-6
_BEVEL = 0.02
_SLANT = 0.2
"""Sine of the slightest corner (about 12°) at which a hem can be turned back."""


@dataclass(frozen=True, slots=True)
class Run:
    """The parallel of a stretch of stitching line without corners, in one allowance. ``head`` and
    ``tail`` are the stitching line's first and last directions, ``foot`` and ``origin`` its first
    and last points, and ``edges`` the edge each segment belongs to."""

    segments: tuple[Segment, ...]
    edges: tuple[str, ...]
    head: complex
    tail: complex
    foot: Point
    origin: Point
    allowance: float

    def reversed(self) -> Run:
        """The same line travelled the other way, beginning where it ended."""
        return Run(
            tuple(segment.reversed() for segment in reversed(self.segments)),
            self.edges[::-1],
            -self.tail,
            -self.head,
            self.origin,
            self.foot,
            self.allowance,
        )

    def continued(self, *points: Point) -> Run:
        """With straight lines added at the end."""
        if not points:
            return self
        lines = tuple(Line(a, b) for a, b in pairwise((self.segments[-1].end, *points)))
        names = (self.edges[-1],) * len(lines)
        return replace(self, segments=(*self.segments, *lines), edges=(*self.edges, *names))

    def preceded(self, point: Point) -> Run:
        """With a straight line added at the start."""
        line = Line(point, self.segments[0].start)
        return replace(self, segments=(line, *self.segments), edges=(self.edges[0], *self.edges))


Spot = tuple[int, float]
"""A place on a run: which segment, and the share of it."""


def join(a: Run, b: Run, kinds: tuple[str, str]) -> tuple[Run, Run, bool]:
    """Two runs made ready to be joined at the corner between them, and whether they must then be
    cut off where they cross. ``kinds`` is what each one's edge asks its corners to be, or empty.

    A hem's allowance, folded along its stitching line, lies on the cloth beside it. Turned back,
    it is cut to the mirror image of its neighbour's cutting line in that fold (for a curved hem:
    in the tangent at the corner), so that folded it ends just where the cloth under it does. Where
    both edges are turned back, the corner is mitred, as two folds that meet want it.
    """
    back = [kind == "turned back" and a is not b for kind in kinds]
    if back == [True, False]:
        second, first, done = _turned_back(b.reversed(), a.reversed())
        if done:
            return first.reversed(), second.reversed(), True
    elif back == [False, True]:
        first, second, done = _turned_back(a, b)
        if done:
            return first, second, True
    kind = "mitred" if all(back) else kinds[0] or kinds[1]
    ahead, before, crosses = _corner(a, b, kind)
    first = a.continued(*ahead)
    if before is None:
        return first, first if a is b else b, crosses
    second = (first if a is b else b).preceded(before)
    return second if a is b else first, second, crosses


def _turned_back(side: Run, hem: Run) -> tuple[Run, Run, bool]:
    """The neighbour's run, ending at the hem's, with the mirror image of itself added, and the
    hem's run prolonged so that it surely crosses that; and whether that could be done."""
    corner, fold = side.origin, hem.head
    turning = cross(side.tail, fold)
    if abs(turning) < _SLANT or hem.allowance <= 0:
        return side, hem, False
    far = 4 * (abs(side.allowance) + hem.allowance) / abs(turning)
    # The neighbour's cutting line, carried on straight, up to the line of the fold.
    longer = side.continued(side.segments[-1].end + side.tail * far)
    line = Line(corner - fold * far, corner + fold * far)
    spots = [
        (abs(segment.point(t) - corner), i, t)
        for i, segment in enumerate(longer.segments)
        for t, _ in meet(segment, line)
    ]
    if not spots:
        return side, hem, False
    _, last, share = min(spots)
    kept = [*longer.segments[:last], longer.segments[last].part(0, share)]
    if kept[-1].length() < TOUCH:
        kept.pop()
    names = longer.edges[: len(kept)]
    image: list[Segment] = []
    for segment in reversed(kept):
        # z → c + f²·conj(z − c), as a flip left to right (z → −conj z) and a turn.
        there = (
            segment.reversed()
            .mirrored()
            .moved(-fold * fold, corner - fold * fold * corner.conjugate())
        )
        image.append(there)
        if abs(cross(fold, there.end - corner)) > 1.5 * hem.allowance:
            break
    else:
        end = image[-1].end
        image.append(Line(end, end + image[-1].tangent(1) * far))
    edges = (*names, *((hem.edges[0],) * len(image)))
    made = replace(side, segments=(*kept, *image), edges=edges)
    return made, hem.preceded(hem.segments[0].start - fold * far), True


def _corner(a: Run, b: Run, kind: str) -> tuple[tuple[Point, ...], Point | None, bool]:
    """How two runs are joined: straight lines on from the first, a point from where the second
    comes, and whether they must then be cut off where they cross.

    With the corner turning by θ (positive clockwise) and parallels at p and q, the two straight
    continuations meet ``(q − p cos θ) ÷ sin θ`` beyond the end of the first and
    ``(p − q cos θ) ÷ sin θ`` before the start of the second; where that is negative the parallel
    reaches too far instead.
    """
    end, start = a.segments[-1].end, b.segments[0].start
    sine, cosine = cross(a.tail, b.head), dot(a.tail, b.head)
    p, q = a.allowance, b.allowance
    if abs(sine) < SMOOTH and cosine > 0:
        return (start,), None, False
    if abs(sine) < SMOOTH:
        sine = math.copysign(SMOOTH, p + q)
    ahead, back = (q - p * cosine) / sine, (p - q * cosine) / sine
    opens, returns = ahead > -TOUCH, back > -TOUCH
    tip = end + a.tail * ahead
    long = abs(tip - a.origin) > MITRE * max(abs(p), abs(q))
    far = kind == "squared" or (long and not (kind == "mitred" and abs(sine) > _SLANT))
    if opens and returns:
        if abs(end - start) < _BEVEL:
            return (start,), None, False
        # One that is asked for comes no farther out than the allowance is wide.
        points = _squared(a, b, SQUARED if long else 1.0) if far else (tip,)
        return points, points[-1], False
    if long and cosine > 0 and opens != returns:
        # A slight corner between different allowances: as on a smooth edge, step across.
        return (start,), None, False
    # Curves bend away from their tangents: go on farther than these would need to cross.
    slack = max(abs(p), abs(q)) / 2
    return (
        (end + a.tail * (2 * max(ahead, 0.0) + slack),) if ahead > -slack else (),
        start - b.head * (2 * max(back, 0.0) + slack) if back > -slack else None,
        True,
    )


def _squared(a: Run, b: Run, reach: float) -> tuple[Point, Point]:
    """The two points of a corner cut square to the line that halves it, ``reach`` larger
    allowances from its point."""
    out = unit(a.tail - b.head)
    reach *= max(abs(a.allowance), abs(b.allowance))
    end, start = a.segments[-1].end, b.segments[0].start
    ahead = (reach - dot(end - a.origin, out)) / dot(a.tail, out)
    back = (reach - dot(start - a.origin, out)) / dot(-b.head, out)
    return end + a.tail * max(ahead, 0.0), start - b.head * max(back, 0.0)


def crossing(a: Run, b: Run, own: bool) -> tuple[Spot, Spot] | None:
    """Where two runs cross nearest to the corner between them, if they do. ``own``: they are the
    same one."""
    nearest: tuple[float, Spot, Spot] | None = None
    others = [(j, hull(segment), segment) for j, segment in enumerate(b.segments)]
    for i, first in enumerate(a.segments):
        box = hull(first)
        for j, other, second in others:
            if apart(box, other) or (own and abs(i - j) <= 1):
                continue
            for t, u in meet(first, second):
                found = (abs(first.point(t) - a.origin), (i, t), (j, u))
                if nearest is None or found < nearest:
                    nearest = found
    return (nearest[1], nearest[2]) if nearest else None
