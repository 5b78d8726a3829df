"""Lines inside a piece, drawn exactly: parallels of its edges, straight lines, crosses.

A parallel runs at its distance from the stitching line as far as the neighbouring edges, or
between two places of the edge. Places are told along the stitching line as it is sewn and square
to it into the cloth, which lies on the right-hand side of travel.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import pairwise

from notchbook.drafting.allowance import CLOSE
from notchbook.drafting.draft import InnerLine
from notchbook.drafting.geometry.meet import apart, hull, meet
from notchbook.drafting.geometry.path import Path, polyline
from notchbook.drafting.geometry.polygon import inside
from notchbook.drafting.geometry.segments import Line, Segment
from notchbook.drafting.geometry.vector import Point, unit
from notchbook.drafting.limits import mm, plain
from notchbook.drafting.outline import AllowanceError, moved_loop, stretch
from notchbook.drafting.shape import Edge, Flat
from notchbook.problems import fault, suggestion
from notchbook.reading.formula import Formula
from notchbook.reading.quantity import LENGTH, RATIO, Dimension, Quantity, describe
from notchbook.reading.recipe import Between, Crosses, LineRule, Parallel, PieceRule, Spot, Text

WorkOut = Callable[[Formula, Dimension | None], Quantity]

BESIDE = 8.0
"""How far a grain line stands from a line it would lie on, mm."""

_SLACK = 0.01
"""A line may meet the stitching line so near to its own ends, mm."""


def inner_line(rule: LineRule, piece: PieceRule, flat: Flat, work_out: WorkOut) -> InnerLine:
    """A line of a piece. Raises ContentError where it can't be drawn inside the piece."""
    hand = _Hand(rule, piece, flat, work_out)
    if rule.name in flat.edges:
        what = f"“{rule.name}” is an edge of piece “{piece.name}”, and its line is called so too."
        raise fault(rule.place, what, "Give the line another name.")
    match rule.drawn:
        case Parallel():
            path: Path | None = hand.parallel(rule.drawn)
        case Between(start, end):
            path = hand.between(start, end)
        case Crosses(spots):
            points = tuple(hand.spot(spot) for spot in spots)
            return InnerLine(rule.name, rule.title.value, rule.kind, None, points)
    return InnerLine(rule.name, rule.title.value, rule.kind, path)


class _Hand:
    """What is needed to draw one line."""

    def __init__(self, rule: LineRule, piece: PieceRule, flat: Flat, work_out: WorkOut) -> None:
        self.rule = rule
        self.piece = piece
        self.flat = flat
        self.work_out = work_out
        self.name = f"Line “{rule.name}” of piece “{piece.name}”"

    def edge(self, named: Text) -> Edge:
        edges = self.flat.edges
        if named.value not in edges:
            what = f"Piece “{self.piece.name}” has no edge called “{named}”."
            raise fault(named.place, what, suggestion(named.value, edges))
        return edges[named.value]

    def parallel(self, drawn: Parallel) -> Path:
        edge = self.edge(drawn.edge)
        inside = self.work_out(drawn.inside, LENGTH).value
        if inside < CLOSE:
            what = f"{self.name} would run {mm(inside)} inside edge “{edge.name}”."
            remedy = f"Make it {mm(CLOSE)} or more: nearer lines can't be told from the edge."
            raise fault(drawn.inside.place, what, remedy)
        loop = next(loop for loop in self.flat.loops if edge in loop)
        distances = {each.name: -inside if each is edge else 0.0 for each in loop}
        too_far = fault(
            drawn.inside.place,
            f"{self.name} would run {mm(inside)} inside edge “{edge.name}”, "
            "and the piece has no room for it there.",
            "Make “inside” smaller, or the piece larger.",
        )
        try:
            path = stretch(*moved_loop(loop, distances), {edge.name})
        except AllowanceError:
            raise too_far from None
        path = _without_steps(path, edge)
        if drawn.start is not None or drawn.end is not None:
            path = self._between(path, edge, inside, drawn)
        if not path.segments or self._leaves(path):
            raise too_far
        return path

    def _between(self, path: Path, edge: Edge, inside: float, drawn: Parallel) -> Path:
        """The parallel from one place of its edge to another; on a closed edge also across its
        start."""
        length = edge.length()
        start = self.along(edge, drawn.start) if drawn.start else 0.0
        end = self.along(edge, drawn.end) if drawn.end else length
        closed = edge.path.closed
        if (not closed and end < start) or abs(end - start) < CLOSE:
            what = f"{self.name} would run from {mm(start)} to {mm(end)} along “{edge.name}”."
            place = (drawn.start or drawn.end or drawn.inside).place
            raise fault(place, what, "Let it end farther along the edge than it begins.")
        first = self._found(path, edge, inside, start, drawn.start)
        last = self._found(path, edge, inside, end, drawn.end)
        if first < last:
            return _part(path, first, last)
        tail = _part(path, first, (len(path.segments) - 1, 1.0))
        return Path((*tail.segments, *_part(path, (0, 0.0), last).segments))

    def _found(
        self, path: Path, edge: Edge, inside: float, along: float, said: Formula | None
    ) -> tuple[int, float]:
        """Where the parallel passes a place of its edge: which segment, and the share of it."""
        if along < _SLACK:
            return 0, 0.0
        if along > edge.length() - _SLACK:
            return len(path.segments) - 1, 1.0
        foot, way = edge.places([along])[0]
        spot = foot + way * 1j * inside
        probe = Line(spot - way * 1j * CLOSE / 3, spot + way * 1j * CLOSE / 3)
        found = [(k, t) for k, each in enumerate(path.segments) for t, _ in meet(each, probe)]
        if not found:
            what = f"{self.name} does not reach so far: {mm(along)} along edge “{edge.name}”."
            place = said.place if said else self.rule.place
            raise fault(place, what, "Begin and end it farther from the ends of the edge.")
        return found[0]

    def between(self, start: Spot, end: Spot) -> Path:
        a, b = self.spot(start), self.spot(end)
        if abs(b - a) < CLOSE:
            what = f"{self.name} is only {mm(abs(b - a))} long."
            raise fault(end.place, what, "Let it end farther from where it begins.")
        path = polyline(a, b)
        if self._leaves(path):
            what = f"{self.name} leaves the piece on its way."
            raise fault(self.rule.place, what, "Choose places with nothing but cloth between.")
        return path

    def spot(self, spot: Spot) -> Point:
        """A place in the piece."""
        edge = self.edge(spot.edge)
        foot, way = edge.places([self.along(edge, spot.at)])[0]
        if spot.inside is None:
            return foot
        inside = self.work_out(spot.inside, LENGTH).value
        point = foot + way * 1j * inside
        if inside < 0 or (inside and not _within(self.flat.outline(), point)):
            what = (
                f"{self.name} would have a place {mm(inside)} inside edge “{edge.name}”, "
                "which is not in the piece."
            )
            raise fault(spot.inside.place, what, "Change “inside”, or start from another edge.")
        return point

    def along(self, edge: Edge, formula: Formula) -> float:
        """How far along an edge a share of it, or a length, is, mm."""
        return along(formula, edge.length(), f"edge “{edge.name}”", self.work_out)

    def _leaves(self, path: Path) -> bool:
        outline = self.flat.outline()
        ends = () if path.closed else (path.start, path.end)
        walls = [(hull(each), each) for loop in outline for each in loop.segments]
        for segment in path.segments:
            box = hull(segment)
            for other, wall in walls:
                if apart(box, other):
                    continue
                for share, _ in meet(segment, wall):
                    if all(abs(segment.point(share) - end) > _SLACK for end in ends):
                        return True
        middle = path.segments[len(path.segments) // 2].point(0.5)
        return not _within(outline, middle)


def grain_beside(flat: Flat, lines: Iterable[InnerLine]) -> Flat:
    """The piece with its grain line moved aside where a straight line of the piece runs along it:
    one drawn on the other could not be told apart."""
    start, end = flat.grain
    way, outline = unit(end - start), flat.outline()
    for line in lines:
        for segment in line.path.segments if line.path else ():
            if not isinstance(segment, Line):
                continue
            ends = [(p - start) * way.conjugate() for p in (segment.start, segment.end)]
            near, far = sorted(p.real for p in ends)
            beside = max(abs(p.imag) for p in ends) < BESIDE / 2
            if beside and near < abs(end - start) and far > 0:
                for aside in (BESIDE, -BESIDE, BESIDE / 2, BESIDE / 4):
                    shift = way * 1j * aside
                    if all(_within(outline, point + shift) for point in flat.grain):
                        return replace(flat, grain=(start + shift, end + shift))
    return flat


def along(formula: Formula, length: float, of: str, work_out: WorkOut) -> float:
    """A place along something ``length`` mm long, told as a share of it or as a length from its
    start, in mm from there. ContentError where it is neither, or not there."""
    found = work_out(formula, None)
    if found.dimension not in (LENGTH, RATIO):
        what = f"“{formula.text}” is {describe(found.dimension)}, and a place along {of} is wanted."
        raise fault(formula.place, what, "Write a share such as 0.5, or a length from its start.")
    told = found.value * length if found.dimension == RATIO else found.value
    if not -1e-6 <= told <= length + 1e-6:
        what = f"“{formula.text}” comes to {mm(told)}, and {of} is {mm(length)} long."
        if found.dimension == RATIO:
            what = f"“{formula.text}” comes to {plain(found.value)}, which is no share of {of}."
        raise fault(formula.place, what, f"Write a share from 0 to 1, or up to {mm(length)}.")
    return min(max(told, 0.0), length)


def _without_steps(path: Path, edge: Edge) -> Path:
    """A parallel without the steps across to neighbours that run on smoothly."""
    segments = list(path.segments)
    if not edge.path.closed:
        if len(segments) > 1 and abs(segments[0].start - edge.path.start) < _SLACK:
            del segments[0]
        if len(segments) > 1 and abs(segments[-1].end - edge.path.end) < _SLACK:
            del segments[-1]
    return Path(tuple(segments))


def _part(path: Path, first: tuple[int, float], last: tuple[int, float]) -> Path:
    found: list[Segment] = []
    for k in range(first[0], last[0] + 1):
        t0 = first[1] if k == first[0] else 0.0
        t1 = last[1] if k == last[0] else 1.0
        if t1 - t0 > 1e-9:
            found.append(path.segments[k].part(t0, t1))
    return Path(tuple(found))


def _within(outline: Sequence[Path], point: Point) -> bool:
    """Whether a point lies in the cloth."""
    return inside((side for loop in outline for side in _level_with(loop, point)), point)


def _level_with(loop: Path, point: Point) -> Iterator[tuple[Point, Point]]:
    """As many sides of a loop, as straight lines, as a level ray from a point to the right may
    cross."""
    x, y = point.real, point.imag
    before = loop.start
    for segment in loop.segments:
        _, top, right, foot = hull(segment)
        if top - _SLACK < y < foot + _SLACK and x < right + _SLACK:
            yield from pairwise((before, *segment.points()))
        before = segment.point(1)
