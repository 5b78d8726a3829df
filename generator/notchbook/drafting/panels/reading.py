"""What a recipe says of a panel, read into the arguments of its ``draft``."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from functools import partial
from typing import Literal, TypeVar

from notchbook.drafting.limits import plain
from notchbook.drafting.panels.darts import DartRule
from notchbook.drafting.panels.points import Points
from notchbook.drafting.panels.runs import Run
from notchbook.drafting.signature import Value
from notchbook.problems import ContentError, Problem, fault, suggestion
from notchbook.reading.quantity import LENGTH, RATIO
from notchbook.reading.recipe import Entry, Scalar, Series, Table

T = TypeVar("T")

KEYS = ("points", "edges", "holes", "darts", "mirror", "grain")
_KINDS = ("line", "arc", "curve", "circle")
_BESIDE = {
    "line": (),
    "arc": ("rise", "radius"),
    "curve": ("leaving", "arriving"),
    "circle": ("radius",),
}
"""What may stand beside the points of each kind of run."""
_DART = ("edge", "at", "count", "width", "depth", "point", "press")
MOST_DARTS = 48
"""Darts in one edge."""


def read_panel(table: Table, value: Value) -> dict[str, object]:
    """The keyword arguments of a panel from a recipe's table.

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
            what = f"A panel has nothing called “{key}”."
            problems.append(Problem(place, what, suggestion(key, KEYS)))
    given = attempt(partial(_entries, table, "points", "a: [30 mm, 0 mm]"))
    edges = attempt(partial(_entries, table, "edges", "hem: [a, b]")) or {}
    holes = attempt(partial(_holes, table)) or {}
    everywhere = {name: entry for loop in (edges, *holes.values()) for name, entry in loop.items()}
    points = Points(given or {}, everywhere, _edge, value)
    if given is None:
        # Names of points mean nothing, which has been said once.
        raise ContentError(problems)
    for name in given:
        attempt(partial(points.work_out, name))
    twice = set(edges)
    for hole in holes.values():
        for name in hole.keys() & twice:
            what = f"Two edges of this panel are called “{name}”."
            problems.append(Problem(hole[name].place, what, "Give one of them another name."))
        twice.update(hole)
    made = {
        loop: {name: attempt(partial(_edge, name, entry, points)) for name, entry in run.items()}
        for loop, run in (("", edges), *holes.items())
    }
    found: dict[str, object] = {"edges": made.pop("")}
    if holes:
        found["holes"] = made
    if "darts" in table.entries:
        listed = attempt(partial(_entries, table, "darts", _EXAMPLE)) or {}
        darts = [attempt(partial(_darts, name, each, points)) for name, each in listed.items()]
        found["darts"] = tuple(dart for each in darts for dart in each or ())
    for key in ("mirror", "grain"):
        if key in table.entries:
            entry = table.entries[key]
            found[key] = attempt(partial(_names, key, entry, points, 2, 2))
    problems.extend(points.problems)
    if not problems:
        for name, entry in given.items():
            if name not in points.used:
                what = f"Nothing uses point “{name}”."
                problems.append(Problem(entry.place, what, "Delete it, or draw an edge to it."))
    if problems or points.failed:
        raise ContentError(problems)
    found["points"] = {name: (point.real, point.imag) for name, point in points.at.items()}
    return found


def _entries(table: Table, key: str, example: str) -> Mapping[str, Entry]:
    entry = table.entries.get(key)
    if isinstance(entry, Table) and entry.entries:
        return entry.entries
    place = table.place if entry is None else entry.place
    what = f"A panel needs “{key}”, each under its name."
    raise fault(place, what, f"Write them below “{key}:”, such as “{example}”.")


def _holes(table: Table) -> dict[str, Mapping[str, Entry]]:
    """Each hole's edges; one that is drawn in one run is called as the hole is."""
    if "holes" not in table.entries:
        return {}
    found: dict[str, Mapping[str, Entry]] = {}
    for name, entry in _entries(table, "holes", "eye: {circle: a, radius: 2 cm}").items():
        several = isinstance(entry, Table) and not entry.entries.keys() & set(_KINDS)
        found[name] = entry.entries if several and isinstance(entry, Table) else {name: entry}
    return found


def _edge(name: str, entry: Entry, points: Points) -> tuple[Run, ...]:
    """An edge's runs: a list of tables is several, anything else is one."""
    if isinstance(entry, Series) and any(not isinstance(each, Scalar) for each in entry.entries):
        return tuple(_run(name, each, points) for each in entry.entries)
    return (_run(name, entry, points),)


def _run(name: str, entry: Entry, points: Points) -> Run:
    if isinstance(entry, Series):
        return Run("line", _names(name, entry, points, 2))
    kinds = [kind for kind in _KINDS if isinstance(entry, Table) and kind in entry.entries]
    if not isinstance(entry, Table) or not entry.entries:
        what = f"Edge “{name}” needs the points it runs through."
        remedy = f"Write “{name}: [a, b]” for straight lines, or “{name}: {{arc: [a, m, b]}}”."
        raise fault(entry.place, what, remedy)
    if not kinds:
        kind, place = next(iter(entry.keys.items()))
        raise fault(place, f"Edge “{name}” can't be a “{kind}”.", suggestion(kind, _KINDS))
    kind = kinds[0]
    for key, place in entry.keys.items():
        if key != kind and key not in _BESIDE[kind]:
            what = f"Edge “{name}” is drawn with “{kind}”, which has no “{key}”."
            raise fault(place, what, suggestion(key, (kind, *_BESIDE[kind])))
    told = entry.entries[kind]
    sizes = {
        key: points.value(points.word(entry, key), LENGTH)
        for key in ("rise", "radius")
        if key in entry.entries
    }
    match kind:
        case "line":
            return Run("line", _names(name, told, points, 2))
        case "arc" if sizes:
            ends = _names(name, told, points, 2, 2)
            if len(sizes) > 1:
                what = f"Edge “{name}” has a rise and a radius, and one follows from the other."
                raise fault(entry.place, what, "Give one of them.")
            return Run("arc", ends, sizes.get("rise"), sizes.get("radius"))
        case "arc":
            return Run("arc", _names(name, told, points, 3, 3))
        case "circle":
            centre = points.word(entry, "circle")
            points.point(centre)
            if not sizes:
                what = f"The circle “{name}” has no “radius”."
                raise fault(entry.place, what, "Write {circle: a, radius: 2 cm}.")
            return Run("circle", (centre.text,), radius=sizes["radius"])
    least = 2 if len(entry.entries) > 1 else 3
    through = _names(name, told, points, least)
    leaving = arriving = None
    if "leaving" in entry.entries:
        leaving = points.way(entry, "leaving", points.at[through[0]])
    if "arriving" in entry.entries:
        arriving = points.way(entry, "arriving", points.at[through[-1]])
        if points.word(entry, "arriving").text in points.entries:
            arriving = -arriving  # The curve comes from that point.
    return Run("curve", through, leaving=leaving, arriving=arriving)


def _names(
    name: str, entry: Entry, points: Points, least: int, most: int | None = None
) -> tuple[str, ...]:
    """A list of names of points, at least so many and at most so many."""
    listed = entry.entries if isinstance(entry, Series) else ()
    found = tuple(point for point in listed if isinstance(point, Scalar))
    enough = f"{least}" if most == least else f"{least} or more"
    if len(found) < len(listed) or not least <= len(found) <= (most or len(found)):
        what = f"“{name}” needs a list of {enough} names of points here."
        raise fault(entry.place, what, "Write them in brackets, such as “[a, b]”.")
    for point in found:
        points.point(point)
    return tuple(point.text for point in found)


_EXAMPLE = "tuck: {edge: waist, at: 1/2, width: 3 cm, depth: 10 cm}"


def _darts(name: str, entry: Entry, points: Points) -> Iterator[DartRule]:
    if not isinstance(entry, Table):
        what = f"Dart “{name}” needs its edge, its place there, its width and its depth."
        raise fault(entry.place, what, f"Write it as “{_EXAMPLE}”.")
    for key, place in entry.keys.items():
        if key not in _DART:
            what = f"A dart has nothing called “{key}”."
            raise fault(place, what, suggestion(key, _DART))
    for key, other in (("edge", ""), ("width", ""), ("at", "count"), ("depth", "point")):
        given = [each for each in (key, other) if each in entry.entries]
        if len(given) != 1:
            which = f"“{key}” or “{other}”" if other else f"“{key}”"
            what = f"Dart “{name}” needs {which}{', not both' if given else ''}."
            raise fault(entry.place, what, f"Write it as “{_EXAMPLE}”.")
    edge = points.word(entry, "edge")
    path = points.path(edge)
    length = path.length()

    def size(key: str) -> float | None:
        return points.value(points.word(entry, key), LENGTH) if key in entry.entries else None

    width = size("width")
    assert width is not None
    point = points.point(points.word(entry, "point")) if "point" in entry.entries else None
    rule = DartRule(name, edge.text, 0.0, width, size("depth"), point, _press(entry, points))
    if "at" in entry.entries:
        at = points.share(entry.entries["at"], length, f"edge “{edge.text}”")
        return iter([replace(rule, at=at)])
    count = _count(name, points.word(entry, "count"), points, point is not None)
    return (
        replace(rule, name=f"{name} {k + 1}", at=length * (k + 0.5) / count) for k in range(count)
    )


def _press(entry: Table, points: Points) -> Literal["start", "end"]:
    if "press" not in entry.entries:
        return "start"
    told = points.word(entry, "press")
    if told.text not in ("start", "end"):
        what = f"A dart can't be pressed towards “{told.text}”."
        remedy = "Write “start” or “end”: those of its edge, as its points are listed."
        raise fault(told.place, what, remedy)
    return "end" if told.text == "end" else "start"


def _count(name: str, told: Scalar, points: Points, aimed: bool) -> int:
    number = points.value(told, RATIO)
    if abs(number - round(number)) > 1e-9 or not 1 <= number <= MOST_DARTS:
        what = f"Dart “{name}” is to be made {plain(number)} times."
        raise fault(told.place, what, f"Write a whole number from 1 to {MOST_DARTS}.")
    if aimed and round(number) > 1:
        what = f"The {round(number)} darts “{name}” would all run to one point."
        raise fault(told.place, what, "Give them a “depth” instead.")
    return round(number)
