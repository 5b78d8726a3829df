"""A panel drawn by hand: its points marked, its edges drawn one by one, its darts folded."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from itertools import count, pairwise

from notchbook.drafting.geometry.segments import Arc
from notchbook.drafting.geometry.vector import Point
from notchbook.drafting.moves import Curve, Dot, Move, Rule, Swing, Tuck
from notchbook.drafting.panels.darts import DartRule
from notchbook.drafting.panels.runs import Loop, Run, edge_path, path_of
from notchbook.drafting.shape import Dart, Edge


def moves_of(
    loops: Mapping[str, Loop],
    at: Mapping[str, Point],
    rules: Sequence[DartRule],
    made: Sequence[Sequence[Edge]],
    darts: Sequence[Dart],
) -> Iterator[Move]:
    """Mark the points from the first one, then draw edge by edge. The centre of an arc is marked
    where it is needed, with the next letter that is no point's name."""
    runs = [run for loop in loops.values() for edge in loop.values() for run in edge]
    marked = list(dict.fromkeys(point for run in runs for point in run.points))
    first = marked[0]
    origin = at[first]

    def dot(label: str, point: Point) -> Dot:
        return Dot(label, point, first, (point - origin).real, (point - origin).imag)

    yield Dot(first, origin)
    for label in marked[1:]:
        yield dot(label, at[label])
    letters = (label for label in map(_letter, count()) if label not in at)
    drawn = {edge.name: edge for loop in made for edge in loop}
    points = {dart.name: dart.point for dart in darts}
    for loop in loops.values():
        for name, edge in loop.items():
            own = sorted((rule for rule in rules if rule.edge == name), key=lambda rule: rule.at)
            for run in edge:
                # With darts, what is drawn first is not yet the edge.
                yield from _run(name, run, at, letters, dot, "" if own else name)
            if not own:
                continue
            path = drawn[name].path
            length = path.length()
            feet = edge_path(name, tuple(edge), at).places([rule.at for rule in own])
            for rule, (foot, _) in zip(own, feet, strict=True):
                yield Tuck(
                    rule.name,
                    name,
                    rule.at,
                    rule.width,
                    abs(points[rule.name] - foot),
                    rule.press,
                    points[rule.name],
                    path,
                    length,
                    edge=name if rule is own[-1] else "",
                )


def _run(
    name: str,
    run: Run,
    at: Mapping[str, Point],
    letters: Iterator[str],
    dot: Callable[[str, Point], Dot],
    edge: str,
) -> Iterator[Move]:
    if run.kind == "line":
        for a, b in pairwise(run.points):
            yield Rule(a, b, abs(at[b] - at[a]), edge)
        return
    path = path_of(name, run, at)
    length = path.length()
    if run.kind == "curve":
        yield Curve(run.points, length, edge, run.leaving, run.arriving)
        return
    arc = path.segments[0]
    assert isinstance(arc, Arc)
    sweep = math.copysign(length / arc.radius, arc.sweep)
    if run.kind == "circle":
        yield dot(next(letters), path.start)
        label, end = run.points[0], ""
    else:
        label, end = next(letters), run.points[-1]
        yield dot(label, arc.centre)
    yield Swing(label, arc.centre, arc.radius, arc.start, sweep, length, end, edge)


def _letter(k: int) -> str:
    """A, B … Z, A1, B1 …"""
    return chr(ord("A") + k % 26) + (str(k // 26) if k >= 26 else "")
