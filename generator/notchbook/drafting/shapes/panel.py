"""Panel: an outline of the author's own, from points and named edges.

``points`` puts every point so far across from the left and so far down from the top. ``edges``
joins them, end to end round the piece, each edge in one of these ways:

- a list of points, or ``line:`` and such a list: straight from point to point;
- ``arc: [a, m, b]``: a circular arc from a to b through m;
- ``curve: [a, b, c, …]``: a smooth curve through all of them, as a thin ruler bent round pins
  would lie: a cubic spline over the chords, without curvature at its two ends.

Every edge starts at its first point and the last edge ends where the first began. Edges given
anticlockwise are turned round, all of them, so that the cloth lies on the right of travel: an edge
then starts at its last point. None is round, and the panel has no form of its own.

``grain: [a, b]`` lays the grain line between two points, whether or not they are part of an edge;
otherwise it runs straight down the middle of the piece, where that is longest within the cloth.

Points lie within 20 m of the corner they are measured from, and those next to each other in an
edge 0.1 mm apart at least. An outline may not touch or cross itself.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Callable, Collection, Iterator, Mapping
from dataclasses import dataclass
from functools import partial
from itertools import count, pairwise
from typing import Literal, TypeVar

from notchbook.drafting.geometry.fit import through
from notchbook.drafting.geometry.meet import crosses_itself
from notchbook.drafting.geometry.path import TOUCH, Arc, Path, Point, bounds, cross, polyline
from notchbook.drafting.limits import MOST, mm
from notchbook.drafting.moves import Curve, Dot, Move, Rule, Swing
from notchbook.drafting.shape import Edge, Flat, Length, Refusal, Shape
from notchbook.drafting.signature import Value
from notchbook.problems import ContentError, Place, Problem, suggestion
from notchbook.reading.quantity import LENGTH
from notchbook.reading.recipe import Entry, Scalar, Series, Table

T = TypeVar("T")

KEYS = ("points", "edges", "grain")
APART = 0.1
"""Points of an edge nearer than this, mm, are taken for one by mistake."""
FLATTEST = 100_000.0
"""The largest radius, mm, of an arc that is told from a straight line."""


@dataclass(frozen=True, slots=True)
class Run:
    """How an edge runs through points, which it names."""

    kind: Literal["line", "arc", "curve"]
    points: tuple[str, ...]


def draft(
    *,
    points: Mapping[str, tuple[Length, Length]],
    edges: Mapping[str, Run],
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
    _check_ends(edges, at)
    paths = {name: _path(name, run, at) for name, run in edges.items()}
    whole = Path(tuple(segment for path in paths.values() for segment in path.segments))
    _check_outline(whole)
    moves = tuple(_moves(edges, paths, at))
    if whole.area() < 0:
        paths = {name: path.reversed() for name, path in reversed(paths.items())}
    loop = tuple(Edge(name, path) for name, path in paths.items())
    line = (at[grain[0]], at[grain[1]]) if grain else _down_the_middle(whole)
    if abs(line[1] - line[0]) < APART:
        raise Refusal("Its grain line has no length.", "Name two points that differ.", "grain")
    return Shape(Flat((loop,), line), None, moves)


def _check_ends(edges: Mapping[str, Run], at: Mapping[str, Point]) -> None:
    names = list(edges)
    for before, name in zip((names[-1], *names[:-1]), names, strict=True):
        end, start = edges[before].points[-1], edges[name].points[0]
        if abs(at[end] - at[start]) > TOUCH:
            raise Refusal(
                f"Edge “{name}” starts at “{start}”, but “{before}”, the edge before it, "
                f"ends at “{end}”.",
                "Name the edges in order round the piece, end to end; the last one ends where the "
                "first one starts.",
                "edges",
            )


def _check_outline(whole: Path) -> None:
    place = crosses_itself(whole)
    if place is not None:
        raise Refusal(
            f"Its outline crosses or touches itself {mm(place.real)} across and "
            f"{mm(place.imag)} down.",
            "Move a point there, or change the order in which the edges go round.",
            "edges",
        )
    if abs(whole.area()) < 1.0:
        raise Refusal("Its edges enclose nothing.", "Put its points further apart.", "edges")


def _path(name: str, run: Run, at: Mapping[str, Point]) -> Path:
    corners = [at[point] for point in run.points]
    for (a, p), (b, q) in pairwise(zip(run.points, corners, strict=True)):
        if abs(p - q) < APART:
            raise Refusal(
                f"Points “{a}” and “{b}” of edge “{name}” lie in the same place.",
                "Leave one of them out, or move it.",
                "edges",
            )
    match run.kind:
        case "line":
            return polyline(*corners)
        case "curve":
            return through(corners)
        case "arc":
            return _arc(name, *corners)


def _arc(name: str, a: Point, m: Point, b: Point) -> Path:
    """The arc from a through m to b. With u = m − a and v = b − a its centre lies at
    a − i(|u|²v − |v|²u) ÷ 2(u × v)."""
    u, v = m - a, b - a
    wedge = cross(u, v)
    if abs(v) < APART or abs(u) * abs(v) * abs(v - u) > 2 * FLATTEST * abs(wedge):
        raise Refusal(
            f"The three points of edge “{name}” lie on one straight line, or nearly.",
            "Move the middle point to the side, or use “line”.",
            "edges",
        )
    centre = a - 1j * (abs(u) ** 2 * v - abs(v) ** 2 * u) / (2 * wedge)
    turn = cmath.phase((b - centre) / (a - centre))
    sweep = turn % math.tau if wedge > 0 else -(-turn % math.tau)
    arc = Arc(centre, abs(a - centre), cmath.phase(a - centre), sweep)
    return Path((arc.part(0, 0.5), arc.part(0.5, 1)) if abs(sweep) > math.pi else (arc,))


def _down_the_middle(whole: Path) -> tuple[Point, Point]:
    """The longest upright line half way across that stays on the cloth, short of the outline."""
    x = bounds((whole,)).centre.real
    crossed = sorted(
        a.imag + (b.imag - a.imag) * (x - a.real) / (b.real - a.real)
        for a, b in pairwise(whole.points())
        if (a.real <= x) != (b.real <= x)
    )
    stretches = zip(crossed[::2], crossed[1::2], strict=True)
    low, high = max(stretches, key=lambda stretch: stretch[1] - stretch[0])
    short = 0.15 * (high - low)
    return complex(x, low + short), complex(x, high - short)


def _moves(
    edges: Mapping[str, Run], paths: Mapping[str, Path], at: Mapping[str, Point]
) -> Iterator[Move]:
    """Mark the points from the first one, then draw edge by edge. The centre of an arc is marked
    where it is needed, with the next letter that is no point's name."""
    marked = list(dict.fromkeys(point for run in edges.values() for point in run.points))
    first = marked[0]
    origin = at[first]

    def dot(label: str, point: Point) -> Dot:
        return Dot(label, point, first, (point - origin).real, (point - origin).imag)

    yield Dot(first, origin)
    for label in marked[1:]:
        yield dot(label, at[label])
    letters = (label for label in map(_letter, count()) if label not in at)
    for name, run in edges.items():
        if run.kind == "line":
            for a, b in pairwise(run.points):
                yield Rule(a, b, abs(at[b] - at[a]), name)
        elif run.kind == "curve":
            yield Curve(run.points, paths[name].length(), name)
        else:
            arc = paths[name].segments[0]
            assert isinstance(arc, Arc)
            label, length = next(letters), paths[name].length()
            sweep = math.copysign(length / arc.radius, arc.sweep)
            yield dot(label, arc.centre)
            yield Swing(
                label, arc.centre, arc.radius, arc.start, sweep, length, run.points[-1], name
            )


def _letter(k: int) -> str:
    """A, B … Z, A1, B1 …"""
    return chr(ord("A") + k % 26) + (str(k // 26) if k >= 26 else "")


def read_parameters(table: Table, value: Value) -> dict[str, object]:
    """The keyword arguments of ``draft`` from a recipe's table.

    Raises ContentError with every problem found.
    """
    problems: list[Problem] = []

    def attempt(read: Callable[[], T]) -> T | None:
        try:
            return read()
        except ContentError as error:
            problems.extend(error.problems)
            return None

    for key, place in table.keys.items():
        if key not in KEYS:
            problems.append(
                Problem(place, f"A panel has nothing called “{key}”.", suggestion(key, KEYS))
            )
    points = attempt(partial(_entries, table, "points", "a: [30 mm, 0 mm]"))
    edges = attempt(partial(_entries, table, "edges", "hem: [a, b]")) or {}
    found: dict[str, object] = {
        "points": {n: attempt(partial(_point, n, e, value)) for n, e in (points or {}).items()},
        "edges": {n: attempt(partial(_run, n, e, points)) for n, e in edges.items()},
    }
    if "grain" in table.entries:
        grain = table.entries["grain"]
        found["grain"] = attempt(partial(_names, "grain", grain, points, 2, 2))
    if problems:
        raise ContentError(problems)
    return found


def _fault(place: Place, what: str, remedy: str) -> ContentError:
    return ContentError([Problem(place, what, remedy)])


def _entries(table: Table, key: str, example: str) -> Mapping[str, Entry]:
    entry = table.entries.get(key)
    if isinstance(entry, Table) and entry.entries:
        return entry.entries
    place = table.place if entry is None else entry.place
    what = f"A panel needs “{key}”, each under its name."
    raise _fault(place, what, f"Write them below “{key}:”, such as “{example}”.")


def _point(name: str, entry: Entry, value: Value) -> tuple[float, float]:
    if isinstance(entry, Series) and len(entry.entries) == 2:
        across, down = entry.entries
        if isinstance(across, Scalar) and isinstance(down, Scalar):
            return value(across, LENGTH), value(down, LENGTH)
    what = f"Point “{name}” needs two lengths: across from the left and down from the top."
    raise _fault(entry.place, what, f"Write it as “{name}: [30 mm, 0 mm]”.")


def _run(name: str, entry: Entry, known: Collection[str] | None) -> Run:
    if isinstance(entry, Series):
        return Run("line", _names(name, entry, known, 2))
    if isinstance(entry, Table) and len(entry.entries) == 1:
        [(kind, points)] = entry.entries.items()
        match kind:
            case "line":
                return Run("line", _names(name, points, known, 2))
            case "arc":
                return Run("arc", _names(name, points, known, 3, 3))
            case "curve":
                return Run("curve", _names(name, points, known, 3))
        what = f"Edge “{name}” can't be a “{kind}”."
        raise _fault(entry.keys[kind], what, suggestion(kind, ("line", "arc", "curve")))
    what = f"Edge “{name}” needs the points it runs through."
    remedy = f"Write “{name}: [a, b]” for straight lines, or “{name}: {{arc: [a, m, b]}}”."
    raise _fault(entry.place, what, remedy)


def _names(
    name: str, entry: Entry, known: Collection[str] | None, least: int, most: int | None = None
) -> tuple[str, ...]:
    """A list of names of points, at least so many and at most so many. ``known`` is none where the
    points themselves are missing, which has been said."""
    listed = entry.entries if isinstance(entry, Series) else ()
    names = tuple(point.text for point in listed if isinstance(point, Scalar))
    enough = f"{least}" if most == least else f"{least} or more"
    if len(names) < len(listed) or not least <= len(names) <= (most or len(names)):
        what = f"“{name}” needs a list of {enough} names of points here."
        raise _fault(entry.place, what, "Write them in brackets, such as “[a, b]”.")
    for point in listed:
        if known is not None and isinstance(point, Scalar) and point.text not in known:
            what = f"There is no point called “{point.text}”."
            raise _fault(point.place, what, suggestion(point.text, known))
    return names
