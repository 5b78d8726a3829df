"""The points of a panel: each is worked out when first asked for, from numbers or from others.

- ``[3 cm, 0 mm]``: so far across from the left and so far down from the top;
- ``{from: A, across: 2 cm, down: 5 cm}``: so far from another point;
- ``{from: A, go: 24 cm, towards: 90 deg}``: so far in a direction. 0 deg is across, away from the
  left, and angles grow clockwise: 90 deg is down. ``towards: B`` looks at a point, and
  ``turned: 90 deg`` then turns away from it, clockwise;
- ``{along: [A, B], at: 1/3}``: on straight lines from point to point; ``along: hem`` on an edge;
  ``at`` a share or a distance from its start;
- ``{meet: […, …], nearest: B}``: where two things meet, of several places that nearest to a point.
  A list ``[A, B]`` is the endless line through two points, ``{from: A, towards: 30 deg}`` the one
  through a point in a direction, ``{circle: C, radius: 8 cm}`` a circle, ``{edge: hem}`` an edge;
- ``{mirror: B, across: [A, C]}``: mirrored across the line through two points.
"""

from __future__ import annotations

import cmath
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from itertools import pairwise
from typing import TypeVar

from notchbook.drafting.geometry.path import Path, circle, polyline
from notchbook.drafting.geometry.stretch import across
from notchbook.drafting.geometry.vector import Point, unit
from notchbook.drafting.limits import LEAST, MOST, mm
from notchbook.drafting.panels.meets import Figure, capital, endless, missed, places
from notchbook.drafting.panels.runs import APART, Run, edge_path
from notchbook.drafting.shape import Refusal
from notchbook.drafting.signature import Value
from notchbook.problems import ContentError, Place, Problem, fault, suggestion
from notchbook.reading.quantity import LENGTH, RATIO
from notchbook.reading.recipe import Entry, Scalar, Series, Table

T = TypeVar("T")

FORMS: Mapping[str, tuple[frozenset[str], frozenset[str], str]] = {
    "across": (frozenset({"from", "across", "down"}), frozenset({"across", "down"}),
               "{from: A, across: 2 cm, down: 5 cm}"),
    "from": (frozenset({"from", "go", "towards", "turned"}), frozenset({"turned"}),
             "{from: A, go: 24 cm, towards: B}"),
    "along": (frozenset({"along", "at"}), frozenset(), "{along: [A, B], at: 1/3}"),
    "meet": (frozenset({"meet", "nearest"}), frozenset({"nearest"}),
             "{meet: [[A, B], {circle: C, radius: 8 cm}], nearest: B}"),
    "mirror": (frozenset({"mirror", "across"}), frozenset(), "{mirror: B, across: [A, C]}"),
}  # fmt: skip
"""The ways to build a point: their keys, those that may be left out, and an example."""
_WAYS = ("across", "down")
_RAY = {"from", "towards", "turned"}
_DEEPEST = 60
"""How many points may hang from each other in a row."""

NOTHING = ContentError([])
"""Raised where something failed that has been reported."""


def names(entry: Entry) -> tuple[Scalar, ...]:
    """The scalars of a list; none where it is no list of scalars."""
    listed = entry.entries if isinstance(entry, Series) else ()
    found = tuple(each for each in listed if isinstance(each, Scalar))
    return found if len(found) == len(listed) else ()


@dataclass(slots=True)
class Points:
    """The state of reading one panel: its points and edges as the recipe gives them, and what has
    been worked out so far. ``read_edge`` makes an edge's runs from
    its entry.

    What fails is kept in ``problems`` once; whoever asks for it then is told ``NOTHING``.
    """

    entries: Mapping[str, Entry]
    edges: Mapping[str, Entry]
    read_edge: Callable[[str, Entry, Points], tuple[Run, ...]]
    value: Value
    at: dict[str, Point] = field(default_factory=dict)
    used: set[str] = field(default_factory=set)
    problems: list[Problem] = field(default_factory=list)
    failed: set[str] = field(default_factory=set)
    asking: list[str] = field(default_factory=list)

    def point(self, name: Scalar, user: str = "") -> Point:
        """The point a name stands for. ``user`` is the point that asks, which does not count as
        used by itself."""
        if name.text not in self.entries:
            what = f"There is no point called “{name.text}”."
            raise fault(name.place, what, suggestion(name.text, self.entries))
        if name.text != user:
            self.used.add(name.text)
        self.work_out(name.text)
        return self.at[name.text]

    def work_out(self, name: str) -> None:
        """Put a point among those known."""
        if name not in self.at:
            entry = self.entries[name]
            self.at[name] = self._ask(name, entry.place, lambda: self._point(name, entry))

    def path(self, name: Scalar) -> Path:
        """The path of an edge as it is drawn, without its darts."""
        if name.text not in self.edges:
            what = f"There is no edge called “{name.text}”."
            raise fault(name.place, what, suggestion(name.text, self.edges))
        entry = self.edges[name.text]

        def run() -> Path:
            made = self.read_edge(name.text, entry, self)
            try:
                return edge_path(name.text, made, self.at)
            except Refusal as refusal:
                raise fault(entry.place, refusal.what, refusal.remedy) from None

        return self._ask(f"edge {name.text}", entry.place, run)

    def _ask(self, key: str, place: Place, work: Callable[[], T]) -> T:
        if key in self.failed:
            raise NOTHING
        if key in self.asking or len(self.asking) >= _DEEPEST:
            circle_ = [*self.asking[self.asking.index(key) :], key] if key in self.asking else []
            self.failed.update(self.asking)
            if not circle_:
                what = f"More than {_DEEPEST} points hang from each other in a row here."
                raise fault(place, what, "Build some of them from numbers.")
            what = f"These need each other in a circle: {' → '.join(circle_)}."
            raise fault(place, what, "Give one of them a place that does not need the others.")
        self.asking.append(key)
        try:
            return work()
        except ContentError as error:
            self.problems.extend(error.problems)
            self.failed.add(key)
            raise NOTHING from None
        finally:
            self.asking.pop()

    # Points.

    def _point(self, name: str, entry: Entry) -> Point:
        if isinstance(entry, Table):
            found = self._built(name, entry)
        else:
            across_, down = self._pair(name, entry)
            found = complex(self.value(across_, LENGTH), self.value(down, LENGTH))
        if not (abs(found.real) <= MOST and abs(found.imag) <= MOST):
            what = f"Point “{name}” lies {mm(found.real)} across and {mm(found.imag)} down."
            raise fault(entry.place, what, f"Keep points within {MOST / 1000:g} m.")
        return found

    def _pair(self, name: str, entry: Entry) -> tuple[Scalar, Scalar]:
        listed = names(entry)
        if len(listed) == 2:
            return listed[0], listed[1]
        what = f"Point “{name}” needs two lengths: across from the left and down from the top."
        raise fault(entry.place, what, f"Write it as “{name}: [30 mm, 0 mm]”.")

    def _built(self, name: str, table: Table) -> Point:
        keys = table.entries.keys()
        form = next((form for form in FORMS if form in keys), "")
        if form == "across" and "mirror" in keys:
            form = "mirror"
        if form == "from" and "down" in keys:
            form = "across"
        if not form:
            what = f"This does not say where point “{name}” lies."
            raise fault(table.place, what, f"Write it as “{name}: {FORMS['from'][2]}”.")
        known, spare, example = FORMS[form]
        for key in keys:
            if key not in known:
                what = f"A point built like this has nothing called “{key}”."
                raise fault(table.keys[key], what, suggestion(key, known))
        for key in sorted(known - spare - keys):
            what = f"Point “{name}” has no “{key}”."
            raise fault(table.place, what, f"Write it as “{name}: {example}”.")
        match form:
            case "across":
                start = self.point(self.word(table, "from"), name)
                steps = [self._length(table, key) if key in keys else 0.0 for key in _WAYS]
                return start + complex(*steps)
            case "from":
                start = self.point(self.word(table, "from"), name)
                return start + self._length(table, "go") * self.way(table, "towards", start, name)
            case "along":
                path, words = self._along(table, name)
                return path.point_at(self.share(table.entries["at"], path.length(), words))
            case "mirror":
                a, b = self._two(table.entries["across"], name)
                return across(self.point(self.word(table, "mirror"), name), a, b)
        return self._meeting(table, name)

    def word(self, table: Table, key: str) -> Scalar:
        """The name that stands under a key."""
        entry = table.entries[key]
        if not isinstance(entry, Scalar):
            raise fault(entry.place, f"“{key}” takes one name here.", f"Write it as “{key}: A”.")
        return entry

    def _length(self, table: Table, key: str) -> float:
        return self.value(self.word(table, key), LENGTH)

    def way(self, table: Table, key: str, start: Point, user: str = "") -> complex:
        """A direction: an angle, or from ``start`` towards a point, and perhaps turned."""
        told = self.word(table, key)
        turned = 0.0
        if "turned" in table.entries:
            turned = self.value(self.word(table, "turned"), RATIO)
        if told.text not in self.entries:
            return cmath.rect(1, self.value(told, RATIO) + turned)
        point = self.point(told, user)
        if abs(point - start) < APART:
            what = f"Point “{told.text}” lies where the direction to it starts."
            raise fault(told.place, what, "Name another point, or give an angle.")
        return unit(point - start) * cmath.rect(1, turned)

    def share(self, entry: Entry, length: float, words: str) -> float:
        """A distance along something ``length`` mm long, from a share of it or from a length."""
        if not isinstance(entry, Scalar):
            raise fault(entry.place, "“at” takes one value here.", "Write 1/3, or 9 cm.")
        try:
            along = self.value(entry, RATIO) * length
        except ContentError:
            along = self.value(entry, LENGTH)
        if not -1e-6 <= along <= length + 1e-6:
            what = f"“at” comes to {mm(along)}, and {words} is {mm(length)} long."
            raise fault(entry.place, what, f"Give a share from 0 to 1, or up to {mm(length)}.")
        return min(max(along, 0.0), length)

    def _along(self, table: Table, user: str) -> tuple[Path, str]:
        entry = table.entries["along"]
        if isinstance(entry, Scalar):
            return self.path(entry), f"edge “{entry.text}”"
        listed = names(entry)
        if len(listed) < 2:
            what = "“along” needs two points or more, or an edge."
            raise fault(entry.place, what, "Write it as “along: [A, B]” or “along: hem”.")
        found = [self.point(each, user) for each in listed]
        for (a, p), (b, q) in pairwise(zip(listed, found, strict=True)):
            if abs(q - p) < APART:
                what = f"Points “{a.text}” and “{b.text}” lie in the same place."
                raise fault(b.place, what, "Name two that differ.")
        return polyline(*found), "–".join(each.text for each in listed)

    def _two(self, entry: Entry, user: str = "") -> tuple[Point, Point]:
        """The two points of a line."""
        listed = names(entry)
        if len(listed) != 2:
            what = "A line needs the two points it runs through."
            raise fault(entry.place, what, "Write them in brackets, such as “[A, B]”.")
        a, b = (self.point(each, user) for each in listed)
        if abs(b - a) < APART:
            what = f"Points “{listed[0].text}” and “{listed[1].text}” lie in the same place."
            raise fault(entry.place, what, "Name two that differ.")
        return a, b

    # Where things meet.

    def _meeting(self, table: Table, user: str) -> Point:
        entry = table.entries["meet"]
        if not isinstance(entry, Series) or len(entry.entries) != 2:
            what = "“meet” needs two things: lines, circles or edges."
            raise fault(entry.place, what, "Write it as “meet: [[A, B], [C, D]]”.")
        first, second = (self._figure(each, user) for each in entry.entries)
        found = places(first, second)
        if not found:
            raise fault(entry.place, *missed(first, second))
        if "nearest" in table.entries:
            near = self.point(self.word(table, "nearest"), user)
            return min(found, key=lambda spot: (abs(spot - near), spot.real, spot.imag))
        if len(found) > 1:
            spots = " and at ".join(f"{mm(p.real)} across, {mm(p.imag)} down" for p in found[:2])
            what = f"{capital(first.words)} and {second.words} meet more than once: at {spots}."
            raise fault(entry.place, what, "Say which with “nearest:” and a point.")
        return found[0]

    def _figure(self, entry: Entry, user: str) -> Figure:
        keys = set(entry.entries) if isinstance(entry, Table) else set()
        if isinstance(entry, Table) and keys == {"line"}:
            entry = entry.entries["line"]
        if isinstance(entry, Series):
            a, b = self._two(entry, user)
            return endless("–".join(each.text for each in names(entry)), a, unit(b - a))
        if isinstance(entry, Table) and keys >= {"from", "towards"} and keys <= _RAY:
            start = self.word(entry, "from")
            at = self.point(start, user)
            return endless(f"from {start.text}", at, self.way(entry, "towards", at, user))
        if isinstance(entry, Table) and keys == {"circle", "radius"}:
            about, radius = self.word(entry, "circle"), self._length(entry, "radius")
            centre = self.point(about, user)
            if not LEAST <= radius <= MOST:
                what = f"The circle about {about.text} has a radius of {mm(radius)}."
                remedy = f"Make it {mm(LEAST)} or more and {MOST / 1000:g} m or less."
                raise fault(entry.keys["radius"], what, remedy)
            words = f"the circle about {about.text}"
            return Figure(words, circle(centre, radius).segments, None, centre, radius)
        if isinstance(entry, Table) and keys == {"edge"}:
            edge = self.word(entry, "edge")
            return Figure(f"edge “{edge.text}”", self.path(edge).segments)
        what = "This is no line, circle or edge that another can meet."
        remedy = "Write [A, B], {circle: C, radius: 8 cm}, {from: A, towards: B} or {edge: hem}."
        raise fault(entry.place, what, remedy)
