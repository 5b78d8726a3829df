"""Draws by hand: follows a shape's moves as a person with ruler, string and pencil would, and says
whether flat piece, form and moves are one thing. Knows nothing of how shapes are drafted."""

from __future__ import annotations

import cmath
import math
from collections.abc import Callable, Mapping
from itertools import pairwise

from scipy.interpolate import CubicSpline

from notchbook.drafting.geometry.path import Arc, Cubic, Line, Path, Point, Segment, dot
from notchbook.drafting.moves import Curve, Dot, Loop, Move, Offset, Rule, Swing
from notchbook.drafting.shape import Level, Shape

Stroke = Callable[[float], Point]
"""A drawn line: where the pencil is at share 0 to 1."""

FITTED = 0.02
"""What a fitted curve may miss by, mm."""


def follow(moves: tuple[Move, ...]) -> Mapping[str, list[Stroke]]:
    """The strokes for every edge. Fails where a move says one thing and does another."""
    marks: dict[str, Point] = {}
    drawn: dict[str, list[Stroke]] = {}
    for move in moves:
        match move:
            case Dot(label, at, origin, across, down):
                assert label not in marks
                here = marks[origin] + complex(across, down) if marks else at
                assert bool(origin) == bool(marks)
                assert abs(here - at) < 1e-6
                marks[label] = here
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
            case Curve(through):
                stroke = _bent([marks[label] for label in through])
        assert math.isclose(_measure(stroke), move.length, rel_tol=2e-5, abs_tol=1e-6)
        if move.edge:
            drawn.setdefault(move.edge, []).append(stroke)
    return drawn


def check(shape: Shape) -> None:
    """Flat piece, form and moves agree, and the flat piece is a piece."""
    check_flat(shape)
    check_form(shape)
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


def check_form(shape: Shape) -> None:
    """Sewing changes no edge's length, and edges that meet in the flat meet in space."""
    if shape.form is None:
        return
    assert set(shape.form.edges) == set(shape.flat.edges)
    for name, edge in shape.flat.edges.items():
        become = shape.form.edges[name]
        flat = edge.path.length()
        if isinstance(become, Level):
            allowed = FITTED if _fitted(edge.path) else 1e-6 * flat
            assert abs(become.path.length() - flat) <= allowed
            assert become.path.closed and edge.round
        else:
            assert abs(math.dist(become.start, become.end) - flat) <= 1e-6 * flat
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
    """How far a point lies from a path."""
    return min(_distance(point, segment) for segment in path.segments)


def _distance(point: Point, segment: Segment) -> float:
    if isinstance(segment, Arc):
        turn = cmath.phase((point - segment.centre) / (segment.start - segment.centre))
        for k in (-1, 0, 1):
            if 0 <= (turn + math.tau * k) / segment.sweep <= 1:
                return abs(abs(point - segment.centre) - segment.radius)
    ends = min(abs(point - segment.start), abs(point - segment.end))
    if isinstance(segment, Line):
        t = dot(point - segment.start, segment.tangent(0)) / segment.length()
        return abs(point - segment.point(min(max(t, 0), 1)))
    if isinstance(segment, Cubic) and ends < 2 * segment.length():
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
    return edge.start, edge.end  # type: ignore[attr-defined]


def _measure(stroke: Stroke) -> float:
    """Chords at two spacings tell how much chords are short of the curve (Richardson)."""
    points = [stroke(k / 400) for k in range(401)]
    fine = sum(abs(b - a) for a, b in pairwise(points))
    coarse = sum(abs(b - a) for a, b in pairwise(points[::2]))
    return fine + (fine - coarse) / 3


def _ruled(a: Point, b: Point) -> Stroke:
    return lambda t: a + (b - a) * t


def _swung(centre: Point, start: Point, sweep: float) -> Stroke:
    return lambda t: centre + (start - centre) * cmath.exp(1j * sweep * t)


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


def _bent(points: list[Point]) -> Stroke:
    chords = [0.0]
    for a, b in pairwise(points):
        chords.append(chords[-1] + abs(b - a))
    spline = CubicSpline(chords, [(p.real, p.imag) for p in points], bc_type="natural")
    return lambda t: complex(*spline(t * chords[-1]))
