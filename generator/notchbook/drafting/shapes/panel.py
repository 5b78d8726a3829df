"""Panel: an outline of the author's own, from points and named edges.

Points lie within 20 m of the corner they are measured from, and those next to each other in an
edge 0.1 mm apart at least. An outline may not touch or cross itself. The panel has no form of its
own.

Edges: the ones named under ``edges``, and those of the holes. Every edge starts at its first point
and the last one ends where the first began. Edges given anticlockwise are turned round, all of
them, so that the cloth lies on the right of travel: an edge then starts at its last point. One that
is an outline alone is round.

Parameters:

- ``points`` by name, so far across from the left and so far down from the top (``[3 cm, 0 mm]``),
  or built from other points: see ``drafting/panels/points.py``;
- ``edges``, which join the points, end to end round the piece, each in one of these ways, or in
  several after each other, in a list:

  - a list of points, or ``line:`` and such a list: straight from point to point;
  - ``arc: [a, m, b]``: a circular arc from a to b through m; ``arc: [a, b]`` with ``rise:`` or
    ``radius:``, which bulges to the left of the way from a to b (out of a piece whose edges go
    round clockwise) and is hollow where the number is negative;
  - ``curve: [a, b, c, …]``: a smooth curve through all of them, as a thin ruler bent round pins
    would lie: a cubic spline over the chords. ``leaving:`` and ``arriving:`` give its direction of
    travel at its ends, an angle (0 deg is across, 90 deg down), or a point it sets out towards or
    comes in from; without, it has no curvature there;
  - ``circle: c`` with ``radius:``: a whole circle about c, from the bottom on.

- ``holes``: cut-outs by name, each one closed edge, or edges of its own names end to end;
- ``darts`` by name, which take width out of an edge: ``{edge: waist, at: 9 cm, width: 3 cm,
  depth: 10 cm}``, or ``point: t`` for ``depth``; ``at`` may be a share; ``count: 4`` instead puts
  so many evenly along the edge; ``press: end`` lays the fold towards the edge's last point,
  otherwise it lies towards the first. The length of the edge is what is sewn. How a dart is drawn:
  ``drafting/panels/darts.py``.
- ``mirror: [a, b]`` draws the whole from a half: the edges run from a point on the line from a to b
  to another point on it, and go back mirrored. An edge that ends on the line and its mirror image
  are one edge; the image of any other, ``side``, is ``other_side``. Darts and holes are mirrored
  too, but for a circle about a point on the line.
- ``grain: [a, b]`` lays the grain line between two points, whether or not they are part of an edge;
  otherwise it runs straight down the middle of the piece, where that is longest within the cloth.

Example::

    spat:
      title: Spat
      shape: panel
      points:
        top: [0 mm, 0 mm]
        toe: {from: top, go: 26 cm, towards: 90 deg}
        side: {from: top, across: 15 cm, down: 5 mm}
        ankle: [11 cm, 13 cm]
        heel: [14 cm, 20 cm]
        foot: {from: toe, across: 5 cm}
        eye: {from: side, across: -25 mm, down: 25 mm}
      mirror: [top, toe]
      edges:
        upper: {curve: [top, side], leaving: 0 deg}
        back: {curve: [side, ankle, heel]}
        lower: {curve: [heel, toe], arriving: foot}
      holes:
        eyelet: {circle: eye, radius: 3 mm}
      darts:
        tuck: {edge: upper, at: 1/2, width: 12 mm, depth: 6 cm}
      allowance: {eyelet: 0 mm, other_eyelet: 0 mm}
      cut: {shell: {pairs: 1}}
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from itertools import pairwise

from notchbook.drafting.geometry.box import bounds
from notchbook.drafting.geometry.crossing import first_crossing
from notchbook.drafting.geometry.meet import hull, meet, neighbours
from notchbook.drafting.geometry.path import Path
from notchbook.drafting.geometry.vector import TOUCH, Point
from notchbook.drafting.limits import MOST, mm
from notchbook.drafting.panels.darts import DartRule, check_room, darted
from notchbook.drafting.panels.half import whole_of
from notchbook.drafting.panels.moves import moves_of
from notchbook.drafting.panels.reading import read_panel
from notchbook.drafting.panels.runs import APART, Loop, edge_path
from notchbook.drafting.shape import Dart, Edge, Flat, Length, Refusal, Shape
from notchbook.drafting.signature import Value
from notchbook.reading.recipe import Table


def draft(
    *,
    points: Mapping[str, tuple[Length, Length]],
    edges: Loop,
    holes: Mapping[str, Loop] | None = None,
    darts: Sequence[DartRule] = (),
    mirror: tuple[str, str] | None = None,
    grain: tuple[str, str] | None = None,
) -> Shape:
    """The piece these edges enclose. Every point that is named is among ``points``."""
    at = {name: complex(across, down) for name, (across, down) in points.items()}
    for name, point in at.items():
        if not (abs(point.real) <= MOST and abs(point.imag) <= MOST):
            raise Refusal(
                f"Point “{name}” lies {mm(point.real)} across and {mm(point.imag)} down.",
                f"Keep points within {MOST / 1000:g} m.",
                "points",
            )
    loops = {"": edges, **(holes or {})}
    rules = tuple(darts)
    if mirror:
        loops, at, rules = whole_of(loops, at, rules, mirror)
    named = [name for loop in loops.values() for name in loop]
    for name in named:
        if named.count(name) > 1:
            raise Refusal(
                f"Two edges are called “{name}” once it is mirrored.",
                "Give one of them another name.",
                "mirror",
            )
    for name, loop in loops.items():
        _check_ends(loop, at, "holes" if name else "edges")
    drawn = [
        _loop({edge: edge_path(edge, runs, at) for edge, runs in loop.items()}, rules, bool(name))
        for name, loop in loops.items()
    ]
    made = tuple(loop for loop, _ in drawn)
    found = tuple(dart for _, own in drawn for dart in own)
    _check_holes(made)
    check_room(made, found)
    line = (at[grain[0]], at[grain[1]]) if grain else _down_the_middle(made)
    if abs(line[1] - line[0]) < APART:
        raise Refusal("Its grain line has no length.", "Name two points that differ.", "grain")
    return Shape(Flat(made, line, found), None, tuple(moves_of(loops, at, rules, made, found)))


def _check_ends(loop: Loop, at: Mapping[str, Point], parameter: str) -> None:
    runs = [(name, run) for name, edge in loop.items() for run in edge]
    if len(runs) == 1 and runs[0][1].kind == "circle":
        return
    for (before, first), (name, second) in zip(runs, (*runs[1:], runs[0]), strict=True):
        if "circle" in (first.kind, second.kind):
            raise Refusal(
                f"“{name if second.kind == 'circle' else before}” is a whole circle, which no "
                "other edge can go on from.",
                "Draw an arc, or let the circle stand alone.",
                parameter,
            )
        end, start = first.points[-1], second.points[0]
        if abs(at[end] - at[start]) > TOUCH:
            raise Refusal(
                f"Edge “{name}” starts at “{start}”, but “{before}”, the edge before it, "
                f"ends at “{end}”.",
                "Name the edges in order round the piece, end to end; the last one ends where the "
                "first one starts.",
                parameter,
            )


def _loop(
    paths: dict[str, Path], rules: Sequence[DartRule], hole: bool
) -> tuple[tuple[Edge, ...], tuple[Dart, ...]]:
    """The edges of one loop, the way round they belong, with their darts."""
    _check_outline(paths)
    area = sum(path.area() for path in paths.values())
    own = [rule for rule in rules if rule.edge in paths]
    if abs(area) < 1.0:
        raise Refusal("Its edges enclose nothing.", "Put its points further apart.", "edges")
    if (area < 0) != hole:
        own = [rule.turned_round(paths[rule.edge].length()) for rule in own]
        paths = {name: path.reversed() for name, path in reversed(paths.items())}
    edges: list[Edge] = []
    darts: list[Dart] = []
    for name, path in paths.items():
        edge, found = darted(name, path, [rule for rule in own if rule.edge == name])
        edges.append(edge if hole or not path.closed else replace(edge, round=True, begins=None))
        darts.extend(found)
    if darts:
        _check_outline({edge.name: edge.path for edge in edges}, " once its darts are drawn")
    return tuple(edges), tuple(darts)


def _check_outline(paths: Mapping[str, Path], when: str = "") -> None:
    segments = [(name, segment) for name, path in paths.items() for segment in path.segments]
    found = first_crossing([segment for _, segment in segments], closed=True)
    if found is None:
        return
    first, second, place = segments[found[0]][0], segments[found[1]][0], found[2]
    which = (
        f"Edge “{first}” crosses or touches itself"
        if first == second
        else f"Edges “{first}” and “{second}” cross or touch"
    )
    raise Refusal(
        f"{which}{when}, {mm(place.real)} across and {mm(place.imag)} down.",
        "Move a point there, or change the order in which the edges go round.",
        "edges",
    )


def _check_holes(loops: Sequence[Sequence[Edge]]) -> None:
    """Holes lie in the cloth, away from the outline and from each other."""
    parts = [
        (k, edge.name, segment)
        for k, loop in enumerate(loops)
        for edge in loop
        for segment in edge.path.segments
    ]
    for i, j in neighbours([hull(segment) for _, _, segment in parts]):
        (k, first, a), (other, second, b) = parts[i], parts[j]
        if k != other and (met := meet(a, b)):
            place = a.point(met[0][0])
            raise Refusal(
                f"Edges “{first}” and “{second}” cross or touch, {mm(place.real)} across and "
                f"{mm(place.imag)} down.",
                "Move the hole, or make it smaller.",
                "holes",
            )
    for hole in loops[1:]:
        spot = hole[0].path.start
        inside = [_around(loop, spot) for loop in loops if loop is not hole]
        if inside[0] and not any(inside[1:]):
            continue
        where = "in another hole" if inside[0] else "outside the piece"
        raise Refusal(
            f"The hole at “{hole[0].name}” lies {where}.", "Move it into the cloth.", "holes"
        )


def _around(loop: Sequence[Edge], spot: Point) -> bool:
    return sum(y > spot.imag for y in _upright([loop], spot.real)) % 2 == 1


def _upright(loops: Sequence[Sequence[Edge]], x: float) -> list[float]:
    """How far down an upright line at ``x`` crosses some loops, in order."""
    found: list[float] = []
    for loop in loops:
        points = Path(tuple(s for edge in loop for s in edge.path.segments)).points()
        found.extend(
            a.imag + (b.imag - a.imag) * (x - a.real) / (b.real - a.real)
            for a, b in pairwise((*points[:-1], points[0]))
            if (a.real <= x) != (b.real <= x)
        )
    return sorted(found)


def _down_the_middle(loops: Sequence[Sequence[Edge]]) -> tuple[Point, Point]:
    """The longest upright line half way across that stays on the cloth, short of the outline."""
    x = bounds([edge.path for edge in loops[0]]).centre.real
    crossed = _upright(loops, x)
    stretches = zip(crossed[::2], crossed[1::2], strict=True)
    low, high = max(stretches, key=lambda stretch: stretch[1] - stretch[0])
    short = 0.15 * (high - low)
    return complex(x, low + short), complex(x, high - short)


def read_parameters(table: Table, value: Value) -> dict[str, object]:
    """The keyword arguments of ``draft`` from a recipe's table.

    Raises ContentError with every problem found.
    """
    return read_panel(table, value)
