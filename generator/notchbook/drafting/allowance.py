"""Cutting lines: the stitching line with each edge's allowance outside it, and proper corners."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import combinations, pairwise

from notchbook.drafting.draft import CutLine
from notchbook.drafting.geometry.meet import apart, first_crossing, hull, meet
from notchbook.drafting.geometry.offset import parallel
from notchbook.drafting.geometry.path import (
    TOUCH,
    Line,
    Path,
    Point,
    Segment,
    cross,
    dot,
    unit,
)
from notchbook.drafting.shape import Edge, Flat

MITRE = 2.5
"""A corner that would reach farther than this many times its larger allowance is squared off."""

SQUARED = 1.5
"""How far a squared corner reaches, in larger allowances."""

CLOSE = 1.5
"""Lines nearer to each other than this (mm), but not on each other, can't be told apart."""

TOGETHER = 0.01
"""Lines within this (mm) of each other fall together."""

_SMOOTH = 1e-6
_BEVEL = 0.02


class AllowanceError(Exception):
    """An allowance that an edge has no room for: the edge's name, and what is wrong in a
    sentence with the numbers."""

    def __init__(self, edge: str, what: str) -> None:
        self.edge = edge
        self.what = what
        super().__init__(what)


def cut_lines(flat: Flat, per_cloth: Mapping[str, Mapping[str, float]]) -> tuple[CutLine, ...]:
    """The different cutting lines of a piece, in the order of the cloths that first need them.

    ``per_cloth`` gives every edge's allowance (mm) for each cloth. Cloths with the same allowances
    share one line. AllowanceError: see ``cut_loops``.
    """
    groups: dict[tuple[float, ...], list[str]] = {}
    for cloth, allowance in per_cloth.items():
        groups.setdefault(tuple(allowance[edge] for edge in flat.edges), []).append(cloth)
    found: list[CutLine] = []
    for key, cloths in groups.items():
        allowance = dict(zip(flat.edges, key, strict=True))
        found.append(CutLine(tuple(cloths), cut_loops(flat, allowance), allowance))
    return tuple(found)


def cut_loops(flat: Flat, allowance: Mapping[str, float]) -> tuple[Path, ...]:
    """A closed cutting line for each loop of the stitching line, running the same way.

    ``allowance`` gives every edge's in mm: the line runs that far outside the edge, inside it
    where it is negative. Where two edges meet in a corner:

    - lines that come apart are mitred: run on straight until they meet; a mitre longer than 2.5
      times the larger allowance is squared off at 1.5 times;
    - lines that run into each other are cut off where they cross;
    - where edges run on smoothly with different allowances the line steps straight across.

    AllowanceError where there is no room: an edge bends too tightly, vanishes between its
    neighbours, or the cutting lines would cross.
    """
    loops = tuple(_loop(loop, allowance) for loop in flat.loops)
    # Lines outside their edges leave the cloth between them and can't meet.
    if any(allowance[edge] < 0 for edge in flat.edges):
        _check_apart(flat, loops, allowance)
    return loops


@dataclass(frozen=True, slots=True)
class _Run:
    """The parallel of a stretch of stitching line without corners, in one allowance. ``head`` and
    ``tail`` are the stitching line's first and last directions, ``origin`` its last point, and
    ``edges`` the edge each segment belongs to."""

    segments: tuple[Segment, ...]
    edges: tuple[str, ...]
    head: complex
    tail: complex
    origin: Point
    allowance: float

    def continued(self, *points: Point) -> _Run:
        """With straight lines added at the end."""
        lines = tuple(Line(a, b) for a, b in pairwise((self.segments[-1].end, *points)))
        names = (self.edges[-1],) * len(lines)
        return replace(self, segments=(*self.segments, *lines), edges=(*self.edges, *names))

    def preceded(self, point: Point) -> _Run:
        """With a straight line added at the start."""
        line = Line(point, self.segments[0].start)
        return replace(self, segments=(line, *self.segments), edges=(self.edges[0], *self.edges))


_Spot = tuple[int, float]
"""A place on a run: which segment, and the share of it."""


def _loop(loop: Sequence[Edge], allowance: Mapping[str, float]) -> Path:
    runs = list(_runs(loop, allowance))
    count = len(runs)
    if count == 1 and abs(runs[0].tail - runs[0].head) < _SMOOTH:
        return _checked(runs[0].segments, runs[0].edges, allowance)
    crossing: list[int] = []
    joints = [_corner(runs[k], runs[(k + 1) % count]) for k in range(count)]
    for k, (ahead, before, cut) in enumerate(joints):
        following = (k + 1) % count
        runs[k] = runs[k].continued(*ahead)
        if before is not None:
            runs[following] = runs[following].preceded(before)
        if cut:
            crossing.append(k)
    begins: list[_Spot] = [(0, 0.0)] * count
    stops: list[_Spot] = [(len(run.segments) - 1, 1.0) for run in runs]
    for k in crossing:
        following = (k + 1) % count
        stops[k], begins[following] = _crossing(runs[k], runs[following], own=count == 1)
    segments: list[Segment] = []
    edges: list[str] = []
    for run, begin, stop in zip(runs, begins, stops, strict=True):
        if begin >= stop:
            edge = run.edges[begin[0]]
            raise AllowanceError(
                edge,
                f"edge “{edge}” vanishes, as at {run.allowance:.1f} mm "
                "its neighbours' cutting lines meet before they reach it.",
            )
        for i in range(begin[0], stop[0] + 1):
            t0 = begin[1] if i == begin[0] else 0.0
            t1 = stop[1] if i == stop[0] else 1.0
            _append(segments, edges, run.segments[i].part(t0, t1), run.edges[i])
    # A side that is straight across the start of the loop is one line there too.
    _append(segments, edges, segments.pop(0), edges.pop(0))
    return _checked((segments[-1], *segments[:-1]), (edges[-1], *edges[:-1]), allowance)


def _append(segments: list[Segment], edges: list[str], segment: Segment, edge: str) -> None:
    """Add a segment to a line: nothing of no length, and straight on as part of the same line."""
    if segment.length() < TOUCH:
        return
    last = segments[-1] if segments else None
    if isinstance(last, Line) and isinstance(segment, Line):
        along, on = last.tangent(1), segment.tangent(0)
        if abs(along - on) < _SMOOTH:
            segments[-1] = Line(last.start, segment.end)
            return
    segments.append(segment)
    edges.append(edge)


def _checked(
    segments: Sequence[Segment], edges: Sequence[str], allowance: Mapping[str, float]
) -> Path:
    found = first_crossing(segments, closed=True)
    if found:
        names = {edges[found[0]], edges[found[1]]}
        edge = max(sorted(names), key=lambda name: abs(allowance[name]))
        raise AllowanceError(
            edge, f"the cutting line {allowance[edge]:.1f} mm from edge “{edge}” crosses itself."
        )
    return Path(tuple(segments))


def _runs(loop: Sequence[Edge], allowance: Mapping[str, float]) -> Iterator[_Run]:
    """The loop as parallels of smooth stretches, the first beginning at a corner if there is
    one."""
    parts = [(segment, edge.name) for edge in loop for segment in edge.path.segments]
    heads = [segment.tangent(0) for segment, _ in parts]
    tails = [segment.tangent(1) for segment, _ in parts]
    starts = [
        k
        for k, (_, edge) in enumerate(parts)
        if allowance[edge] != allowance[parts[k - 1][1]] or abs(heads[k] - tails[k - 1]) > _SMOOTH
    ] or [0]
    for first, following in zip(starts, (*starts[1:], starts[0] + len(parts)), strict=True):
        stretch = [parts[k % len(parts)] for k in range(first, following)]
        last = (following - 1) % len(parts)
        segments: list[Segment] = []
        edges: list[str] = []
        for segment, edge in stretch:
            try:
                found = parallel(segment, allowance[edge])
            except ValueError as error:
                what = str(error)
                raise AllowanceError(
                    edge, f"at edge “{edge}” {what[0].lower()}{what[1:]}"
                ) from None
            segments.extend(found)
            edges.extend([edge] * len(found))
        yield _Run(
            tuple(segments),
            tuple(edges),
            heads[first],
            tails[last],
            parts[last][0].end,
            allowance[stretch[0][1]],
        )


def _corner(a: _Run, b: _Run) -> tuple[tuple[Point, ...], Point | None, bool]:
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
    if abs(sine) < _SMOOTH and cosine > 0:
        return (start,), None, False
    if abs(sine) < _SMOOTH:
        sine = math.copysign(_SMOOTH, p + q)
    ahead, back = (q - p * cosine) / sine, (p - q * cosine) / sine
    opens, returns = ahead > -TOUCH, back > -TOUCH
    tip = end + a.tail * ahead
    far = abs(tip - a.origin) > MITRE * max(abs(p), abs(q))
    if opens and returns:
        if abs(end - start) < _BEVEL:
            return (start,), None, False
        points = _squared(a, b) if far else (tip,)
        return points, points[-1], False
    if far and cosine > 0 and opens != returns:
        # A slight corner between different allowances: as on a smooth edge, step across.
        return (start,), None, False
    # Curves bend away from their tangents: go on farther than these would need to cross.
    slack = max(abs(p), abs(q)) / 2
    return (
        (end + a.tail * (2 * max(ahead, 0.0) + slack),) if ahead > -slack else (),
        start - b.head * (2 * max(back, 0.0) + slack) if back > -slack else None,
        True,
    )


def _squared(a: _Run, b: _Run) -> tuple[Point, Point]:
    """The two points of a corner cut square to the line that halves it."""
    out = unit(a.tail - b.head)
    reach = SQUARED * max(abs(a.allowance), abs(b.allowance))
    end, start = a.segments[-1].end, b.segments[0].start
    ahead = (reach - dot(end - a.origin, out)) / dot(a.tail, out)
    back = (reach - dot(start - a.origin, out)) / dot(-b.head, out)
    return end + a.tail * max(ahead, 0.0), start - b.head * max(back, 0.0)


def _crossing(a: _Run, b: _Run, own: bool) -> tuple[_Spot, _Spot]:
    """Where two runs cross nearest to the corner between them. ``own``: they are the same one."""
    nearest: tuple[float, _Spot, _Spot] | None = None
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
    if nearest is None:
        larger = a if abs(a.allowance) >= abs(b.allowance) else b
        edge = larger.edges[-1] if larger is a else larger.edges[0]
        raise AllowanceError(
            edge,
            f"at {larger.allowance:.1f} mm the cutting line of edge “{edge}” "
            "does not meet its neighbour's in a corner.",
        )
    return nearest[1], nearest[2]


def _check_apart(flat: Flat, loops: Sequence[Path], allowance: Mapping[str, float]) -> None:
    pairs = combinations(zip(flat.loops, loops, strict=True), 2)
    for (edges, first), (others, second) in pairs:
        if _cross(first, second) or first.area() + second.area() <= 0 < first.area():
            deepest = min((*edges, *others), key=lambda edge: allowance[edge.name]).name
            raise AllowanceError(
                deepest,
                f"cut {-allowance[deepest]:.1f} mm inside edge “{deepest}”, "
                "two of its cutting lines cross.",
            )


def _cross(a: Path, b: Path) -> bool:
    others = [(hull(segment), segment) for segment in b.segments]
    for segment in a.segments:
        box = hull(segment)
        for other, second in others:
            if not apart(box, other) and meet(segment, second):
                return True
    return False


def too_close(flat: Flat, lines: Sequence[CutLine]) -> tuple[tuple[str, float], ...]:
    """The edges along which two lines of a piece run nearer to each other than 1.5 mm without
    falling together, each with the smallest distance (mm).

    Both a piece's cutting lines and its stitching line count. Along an edge they are parallels of
    it, so the distance between two is the difference between their allowances.
    """
    found: list[tuple[str, float]] = []
    for edge in flat.edges:
        levels = sorted({0.0, *(line.allowance[edge] for line in lines)})
        gaps = [b - a for a, b in pairwise(levels)]
        close = [gap for gap in gaps if TOGETHER < gap < CLOSE]
        if close:
            found.append((edge, min(close)))
    return tuple(found)
