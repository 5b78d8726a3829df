"""Draws by hand: follows a shape's moves as a person with ruler, string and pencil would, and says
whether flat piece, form and moves are one thing. Knows nothing of how shapes are drafted."""

from __future__ import annotations

import cmath
import math
from collections.abc import Callable, Mapping
from itertools import pairwise
from operator import itemgetter

from scipy.interpolate import CubicSpline

from notchbook.drafting.geometry.path import Path
from notchbook.drafting.geometry.segments import Arc, Cubic, Line, Segment
from notchbook.drafting.geometry.vector import Point, dot
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
from notchbook.drafting.shape import Curve as SpaceCurve
from notchbook.drafting.shape import Level, Shape, Straight

Stroke = Callable[[float], Point]
"""A drawn line: where the pencil is at share 0 to 1."""

FITTED = 0.02
"""What a fitted curve may miss by, mm."""


def follow(moves: tuple[Move, ...]) -> Mapping[str, list[Stroke]]:
    """The strokes for every edge. Fails where a move says one thing and does another."""
    marks: dict[str, Point] = {}
    drawn: dict[str, list[Stroke]] = {}
    traced: dict[str, Path] = {}
    for move in moves:
        match move:
            case Dot(label, at, origin, across, down):
                assert label not in marks
                here = marks[origin] + complex(across, down) if marks else at
                assert bool(origin) == bool(marks)
                assert abs(here - at) < 1e-6
                marks[label] = here
                continue
            case Crossline(origin, down, points):
                for label, out in points:
                    assert label not in marks
                    marks[label] = marks[origin] + complex(out, down)
                continue
            case Strike(label, at, one, first, other, second, clockwise):
                assert label not in marks
                marks[label] = _struck(marks[one], first, marks[other], second, clockwise)
                assert abs(marks[label] - at) < 1e-4
                continue
            case Along(label, at, start, end, far):
                assert label not in marks
                line = marks[end] - marks[start]
                marks[label] = marks[start] + line / abs(line) * far
                assert abs(marks[label] - at) < 1e-4
                continue
            case Rule(start, end):
                stroke = _ruled(marks[start], marks[end])
            case Swing(about, centre, radius, start, sweep):
                assert abs(marks[about] - centre) < 1e-6
                assert any(abs(start - mark) < 1e-6 for mark in marks.values())
                assert abs(abs(start - centre) - radius) < 1e-6 * max(radius, 1)
                stroke = _swung(centre, start, sweep)
                if move.end:
                    marks.setdefault(move.end, stroke(1))
                    assert abs(marks[move.end] - stroke(1)) < 1e-6
            case Loop(centre, along, apart, string):
                stroke = _looped(centre, along, apart, string)
            case Offset(of, distance):
                [source] = drawn[of]
                stroke = _beside(source, distance)
            case Tuck(path=path):
                # What folding does to an edge is tested with the darts.
                if move.edge:
                    drawn[move.edge] = [segment.point for segment in path.segments]
                continue
            case Trace(of=of, path=path) | Inwards(of=of, path=path):
                assert math.isclose(path.length(), move.length, abs_tol=1e-6)
                if isinstance(move, Inwards):
                    _check_inside(path, [traced[name] for name in move.of], move.distance)
                elif move.whole:
                    traced[move.of] = path
                if move.edge:
                    drawn[move.edge] = [segment.point for segment in path.segments]
                continue
            case Curve(through):
                ways = (move.leaving, move.arriving)
                stroke = _bent([marks[label] for label in through], *ways)
        assert math.isclose(_measure(stroke), move.length, rel_tol=2e-5, abs_tol=1e-6)
        if move.edge:
            drawn.setdefault(move.edge, []).append(stroke)
    return drawn


def check(shape: Shape, eased: Mapping[str, float] | None = None) -> None:
    """Flat piece, form and moves agree, and the flat piece is a piece. ``eased`` says by how much
    (mm) an edge is longer than the curve it is eased into."""
    check_flat(shape)
    check_form(shape, eased)
    check_moves(shape)


def check_flat(shape: Shape) -> None:
    """Edges run end to end, the outline clockwise, holes anticlockwise."""
    for loop in shape.flat.loops:
        for before, after in zip((loop[-1], *loop[:-1]), loop, strict=True):
            assert abs(before.path.end - after.path.start) < 1e-6
        for edge in loop:
            for a, b in pairwise(edge.path.segments):
                assert abs(a.end - b.start) < 1e-6
    outline, *holes = shape.flat.outline()
    assert outline.area() > 0
    assert all(hole.area() < 0 for hole in holes)
    assert abs(shape.flat.grain[1] - shape.flat.grain[0]) > 0


def check_form(shape: Shape, eased: Mapping[str, float] | None = None) -> None:
    """Sewing changes no edge's length, and edges that meet in the flat meet in space."""
    if shape.form is None:
        return
    assert set(shape.form.edges) == set(shape.flat.edges)
    for name, edge in shape.flat.edges.items():
        become = shape.form.edges[name]
        flat = edge.path.length() - (eased or {}).get(name, 0.0)
        if isinstance(become, Level):
            allowed = FITTED if _fitted(edge.path) else 1e-6 * flat
            assert abs(become.path.length() - flat) <= allowed
            assert become.path.closed and edge.round
        else:
            fitted = isinstance(become, SpaceCurve) or any(
                _fitted(edge.path) for edge in shape.flat.edges.values()
            )
            allowed = FITTED if fitted else 1e-6 * flat
            assert abs(_length(become) - flat) <= allowed
    for loop in shape.flat.loops:
        for before, after in zip((loop[-1], *loop[:-1]), loop, strict=True):
            end = _in_space(shape.form.edges[before.name])[1]
            start = _in_space(shape.form.edges[after.name])[0]
            assert math.dist(end, start) < 1e-6 * max(1.0, *map(abs, start))
    if shape.form.seam:
        left, right = (_in_space(shape.form.edges[name]) for name in shape.form.seam)
        assert left == right[::-1]


def check_moves(shape: Shape) -> None:
    """What is drawn by hand is the outline: all of it, and nothing else."""
    drawn = follow(shape.moves)
    assert set(drawn) == set(shape.flat.edges)
    for name, strokes in drawn.items():
        path = shape.flat.edges[name].path
        allowed = FITTED if _fitted(path) else 1e-6 * max(1.0, path.length())
        for stroke in strokes:
            for k in range(41):
                assert distance(stroke(k / 40), path) <= allowed
        total = sum(move.length for move in shape.moves if getattr(move, "edge", "") == name)
        assert abs(total - path.length()) <= allowed


def distance(point: Point, path: Path) -> float:
    """How far a point lies from a path. Segments that begin and end too far away to be nearer than
    what was found are left out."""
    nearest = math.inf
    for ends, segment in sorted(
        ((_to_ends(point, segment), segment) for segment in path.segments), key=itemgetter(0)
    ):
        if ends - segment.length() < nearest:
            nearest = min(nearest, _distance(point, segment, ends))
    return nearest


def _to_ends(point: Point, segment: Segment) -> float:
    return min(abs(point - segment.start), abs(point - segment.end))


def _distance(point: Point, segment: Segment, ends: float) -> float:
    if isinstance(segment, Arc):
        turn = cmath.phase((point - segment.centre) / (segment.start - segment.centre))
        for k in (-1, 0, 1):
            if 0 <= (turn + math.tau * k) / segment.sweep <= 1:
                return abs(abs(point - segment.centre) - segment.radius)
    if isinstance(segment, Line):
        t = dot(point - segment.start, segment.tangent(0)) / segment.length()
        return abs(point - segment.point(min(max(t, 0), 1)))
    if isinstance(segment, Cubic):
        low, high = 0.0, 1.0
        for _ in range(50):
            third = (high - low) / 3
            a, b = low + third, high - third
            if abs(point - segment.point(a)) < abs(point - segment.point(b)):
                high = b
            else:
                low = a
        return min(ends, abs(point - segment.point((low + high) / 2)))
    return ends


def _fitted(path: Path) -> bool:
    return not all(isinstance(segment, Line | Arc) for segment in path.segments)


def _in_space(
    edge: object,
) -> tuple[tuple[float, float, float], tuple[float, float, float]]:
    if isinstance(edge, Level):
        start, end = edge.path.start, edge.path.end
        return (start.real, start.imag, edge.height), (end.real, end.imag, edge.height)
    if isinstance(edge, SpaceCurve):
        return edge.points[0], edge.points[-1]
    assert isinstance(edge, Straight)
    return edge.start, edge.end


def _length(edge: Straight | SpaceCurve) -> float:
    points = edge.points if isinstance(edge, SpaceCurve) else (edge.start, edge.end)
    return sum(math.dist(a, b) for a, b in pairwise(points))


def _measure(stroke: Stroke) -> float:
    """Chords at two spacings tell how much chords are short of the curve (Richardson)."""
    points = [stroke(k / 400) for k in range(401)]
    fine = sum(abs(b - a) for a, b in pairwise(points))
    coarse = sum(abs(b - a) for a, b in pairwise(points[::2]))
    return fine + (fine - coarse) / 3


def _ruled(a: Point, b: Point) -> Stroke:
    return lambda t: a + (b - a) * t


def _struck(one: Point, first: float, other: Point, second: float, clockwise: bool) -> Point:
    """Where two arcs cross: by the law of cosines, the angle at ``one`` between both points."""
    apart = abs(other - one)
    cosine = (first * first + apart * apart - second * second) / (2 * first * apart)
    turn = math.acos(min(cosine, 1.0)) * (1 if clockwise else -1)
    return one + (other - one) / apart * cmath.rect(first, turn)


def _swung(centre: Point, start: Point, sweep: float) -> Stroke:
    return lambda t: centre + (start - centre) * cmath.exp(1j * sweep * t)


def _check_inside(path: Path, sources: list[Path], far: float) -> None:
    """A line lies so far inside what was traced: no nearer anywhere, and nearly everywhere no
    farther, as at a hollow corner it runs on straight."""
    points = [segment.point(k / 8) for segment in path.segments for k in range(9)]
    away = [min(distance(point, source) for source in sources) for point in points]
    assert min(away) > far - FITTED
    assert sum(gap < far + FITTED for gap in away) > len(away) / 3


def _looped(centre: Point, along: complex, apart: float, string: float) -> Stroke:
    pins = (centre + along * apart / 2, centre - along * apart / 2)

    def pencil(t: float) -> Point:
        """Pull the pencil outwards in one direction until the string is tight: Newton's method on
        the length of string, which grows ever faster, so that it is reached from above."""
        direction = cmath.exp(math.tau * 1j * t)
        out = string
        for _ in range(40):
            arms = [centre + direction * out - pin for pin in pins]
            over = sum(abs(arm) for arm in arms) + apart - string
            out -= over / sum(dot(arm / abs(arm), direction) for arm in arms)
            if over < 1e-9 * string:
                break
        return centre + direction * out

    return pencil


def _beside(source: Stroke, distance: float) -> Stroke:
    middle = sum(source(k / 8) for k in range(8)) / 8

    def pencil(t: float) -> Point:
        along = source(t + 1e-5) - source(t - 1e-5)
        square = along / abs(along) * 1j
        outwards = square if ((source(t) - middle) / square).real > 0 else -square
        return source(t) + outwards * distance

    return pencil


def _bent(
    points: list[Point], leaving: complex | None = None, arriving: complex | None = None
) -> Stroke:
    """A cubic spline over the chords; free at an end, or in a given direction of travel there."""
    chords = [0.0]
    for a, b in pairwise(points):
        chords.append(chords[-1] + abs(b - a))
    ends = tuple(
        (2, (0.0, 0.0)) if way is None else (1, (way.real, way.imag)) for way in (leaving, arriving)
    )
    spline = CubicSpline(chords, [(p.real, p.imag) for p in points], bc_type=ends)
    return lambda t: complex(*spline(t * chords[-1]))
