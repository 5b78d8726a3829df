"""The profile of a surface of revolution: how far it is from its axis at every height.

A profile is a path in a plane of its own, radius across (the real part of its points) and height up
(the imaginary part), mm, from the base to the top. It is made of lines and cubics only, so that it
may be stretched across and stays what it is.

An author gives its points as ``[radius, height]``:

- ``profile: [[92 mm, 0 mm], [80 mm, 60 mm], [0 mm, 110 mm]]``: straight from point to point;
- ``profile: {curve: [a, b, c, …]}``: a smooth curve through all of them;
- ``profile: {arc: [a, m, b]}``: a circular arc from a to b through m;
- a list of such stretches, ``[{line: [a, b]}, {curve: [c, d]}]``: each sets out where the one
  before it ended, and needs no first point for that. A curve sets out in the direction in which
  the stretch before it came in.

A curve that starts or ends on the axis does so level, so that the top is round; a pointed top ends
with a line or an arc. A profile may touch its axis at its two ends only and never loses height.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise, product
from typing import Annotated, Literal

from notchbook.drafting.geometry.arcs import arc_through, as_cubics
from notchbook.drafting.geometry.box import bounds
from notchbook.drafting.geometry.fit import through
from notchbook.drafting.geometry.path import Path
from notchbook.drafting.geometry.segments import Arc, Cubic, Line, Segment
from notchbook.drafting.geometry.vector import TOUCH, Point, dot
from notchbook.drafting.limits import LEAST, MOST, mm
from notchbook.drafting.shape import Refusal
from notchbook.drafting.signature import Value
from notchbook.problems import fault, suggestion
from notchbook.reading.quantity import LENGTH
from notchbook.reading.recipe import Entry, Scalar, Series, Table

KINDS = ("line", "arc", "curve")
APART = 0.1
"""Points nearer than this, mm, are taken for one by mistake."""


@dataclass(frozen=True, slots=True)
class Stretch:
    """A part of a profile through some points, each its radius and its height."""

    kind: Literal["line", "arc", "curve"]
    points: tuple[Point, ...]


def quarter(radius: float, height: float) -> Path:
    """A quarter of an ellipse, upright at the base and level on the axis: the profile of a cap.

    The affine image of a quarter circle in four cubics.
    """
    cubics = as_cubics(Arc(0, 1.0, 0.0, math.pi / 2))
    found = [
        Cubic(*(complex(p.real * radius, p.imag * height) for p in _corners(cubic)))
        for cubic in cubics
    ]
    return _ended_on_the_axis(found)


def path_of(stretches: Sequence[Stretch]) -> Path:
    """The profile these stretches make, or a ``Refusal`` that says why they make none."""
    found: list[Line | Cubic] = []
    for stretch in stretches:
        points = stretch.points
        if found:
            end = found[-1].end
            points = (end, *(points[1:] if abs(points[0] - end) < APART else points))
        _check_points(stretch.kind, points)
        found.extend(_laid(stretch.kind, points, found[-1].tangent(1) if found else None))
    path = _ended_on_the_axis(found)
    _check(path)
    return path


def stretched(path: Path, across: float) -> Path:
    """The profile with every radius ``across`` times as large."""

    def out(point: Point) -> Point:
        return complex(point.real * across, point.imag)

    return Path(
        tuple(
            Cubic(*map(out, _corners(segment)))
            if isinstance(segment, Cubic)
            else Line(out(segment.start), out(segment.end))
            for segment in path.segments
        )
    )


def squares(path: Path) -> float:
    """∫ r² dz from end to end, mm³: π times that is the volume the surface encloses.

    Closed form: in Bernstein's polynomials, of which cubics are made, a product's coefficients are
    the products of its factors', and every one of degree 8 has the integral 1 ÷ 9.
    """
    total = 0.0
    for segment in path.segments:
        corners = _corners(segment)
        climbs = [3 * (q - p).imag for p, q in pairwise(corners)]
        for (i, p), (j, q), (k, climb) in product(
            enumerate(corners), enumerate(corners), enumerate(climbs)
        ):
            weight = math.comb(3, i) * math.comb(3, j) * math.comb(2, k) / math.comb(8, i + j + k)
            total += weight / 9 * p.real * q.real * climb
    return total


def _corners(segment: Segment) -> tuple[Point, Point, Point, Point]:
    """The four points that a cubic is made of; a line is one, too."""
    if isinstance(segment, Cubic):
        return segment.start, segment.leave, segment.arrive, segment.end
    third = (segment.end - segment.start) / 3
    return segment.start, segment.start + third, segment.end - third, segment.end


def _laid(
    kind: str, points: tuple[Point, ...], direction: complex | None
) -> Iterator[Line | Cubic]:
    if kind == "line":
        yield from (Line(a, b) for a, b in pairwise(points))
    elif kind == "arc":
        yield from _arc(*points)
    else:
        on_axis = [abs(point.real) < TOUCH for point in (points[0], points[-1])]
        start = 1 + 0j if on_axis[0] else direction
        end = -1 + 0j if on_axis[1] else None
        for segment in through(points, start_tangent=start, end_tangent=end).segments:
            assert isinstance(segment, Line | Cubic)
            yield segment


def _arc(a: Point, m: Point, b: Point) -> list[Cubic]:
    arc = arc_through(a, m, b)
    if arc is None:
        raise Refusal(
            f"The three points of its arc to {_said(b)} lie on one straight line, or nearly.",
            "Move the middle point to the side, or use “line”.",
            "profile",
        )
    return as_cubics(arc)


def _ended_on_the_axis(segments: Sequence[Line | Cubic]) -> Path:
    """The path, its two ends exactly on the axis where they are meant to be."""

    def snapped(point: Point) -> Point:
        return complex(0.0, point.imag) if abs(point.real) < TOUCH else point

    found = list(segments)
    for at in (0, -1):
        segment = found[at]
        if isinstance(segment, Line):
            found[at] = Line(snapped(segment.start), snapped(segment.end))
        else:
            found[at] = Cubic(
                snapped(segment.start), segment.leave, segment.arrive, snapped(segment.end)
            )
    return Path(tuple(found))


# What is no profile.


def _said(point: Point) -> str:
    return f"[{mm(point.real)}, {mm(point.imag)}]"


def _check_points(kind: str, points: tuple[Point, ...]) -> None:
    wanted = {"line": 2, "arc": 3, "curve": 2}[kind]
    if len(points) < wanted or (kind == "arc" and len(points) > 3):
        raise Refusal(
            f"The “{kind}” in its profile goes through {len(points)} "
            f"{'point' if len(points) == 1 else 'points'}.",
            "Give an arc three points, a line or a curve two or more; where one follows "
            "another stretch, its first point is where that ended.",
            "profile",
        )
    for point in points:
        if not (0 <= point.real <= MOST and abs(point.imag) <= MOST):
            raise Refusal(
                f"Its profile has a point {_said(point)}: {mm(point.real)} from its axis, "
                f"{mm(point.imag)} up.",
                f"Give each point a radius from 0 mm to {MOST / 1000:g} m, and then its height.",
                "profile",
            )
    for a, b in pairwise(points):
        if abs(b - a) < APART:
            raise Refusal(
                f"Two points of its profile lie within {mm(APART)} of each other, at {_said(a)}.",
                "Leave out one of them.",
                "profile",
            )


def _check(path: Path) -> None:
    """It crosses or touches its axis nowhere between its ends, and never comes down again."""
    for a, b in pairwise(path.segments):
        if a.end.real < LEAST:
            raise Refusal(
                f"Its profile comes to its axis at a height of {mm(a.end.imag)} and goes on.",
                f"Keep it {mm(LEAST)} from its axis at least, but for its two ends.",
                "profile",
            )
        if dot(a.tangent(1), b.tangent(0)) < -0.999:
            raise Refusal(
                f"Its profile doubles straight back at {_said(a.end)}.",
                "Give its points in their order from the base to the top.",
                "profile",
            )
    for segment in path.segments:
        box = bounds((Path((segment,)),))
        if box.low.real < -TOUCH:
            where = mm((segment.start.imag + segment.end.imag) / 2)
            raise Refusal(
                f"Its profile crosses its axis, near a height of {where}.",
                "Move its points out there, or set one more between them.",
                "profile",
            )
        low, high = segment.start.imag, segment.end.imag
        if box.low.imag < low - 1e-3 or box.high.imag > high + 1e-3:
            raise Refusal(
                f"Its profile doubles back: near a height of {mm((low + high) / 2)} it comes "
                "down again.",
                "Let each point be as high as the one before it or higher; a curve that swings "
                "over wants one more point there.",
                "profile",
            )
    if path.length() < 2 * LEAST:
        raise Refusal("Its profile has no length.", "Set its points further apart.", "profile")
    if max(path.start.real, path.end.real, *(s.point(0.5).real for s in path.segments)) < LEAST:
        raise Refusal("Its profile is nothing but its axis.", "Give it a radius.", "profile")


# Reading.


def read_profile(name: str, entry: Entry, value: Value) -> tuple[Stretch, ...]:
    """The stretches a recipe gives. Raises ContentError where they are not as described above."""
    if isinstance(entry, Series) and entry.entries:
        if all(isinstance(each, Table) for each in entry.entries):
            return tuple(_stretch(each, value) for each in entry.entries)
        return (Stretch("line", _points(entry, value)),)
    return (_stretch(entry, value),)


Profile = Annotated[tuple[Stretch, ...], read_profile]
"""What a shape's parameter is annotated with to be read as a profile."""


def _stretch(entry: Entry, value: Value) -> Stretch:
    if isinstance(entry, Table) and len(entry.entries) == 1:
        [(kind, points)] = entry.entries.items()
        match kind:
            case "line" | "arc" | "curve":
                return Stretch(kind, _points(points, value))
        what = f"A profile has no “{kind}”."
        raise fault(entry.keys[kind], what, suggestion(kind, KINDS))
    what = "A profile is made of points, each with its radius and its height."
    remedy = "Write [[92 mm, 0 mm], [0 mm, 110 mm]], or {curve: […]} with such a list."
    raise fault(entry.place, what, remedy)


def _points(entry: Entry, value: Value) -> tuple[Point, ...]:
    if not isinstance(entry, Series) or not entry.entries:
        raise fault(entry.place, "Points are wanted here.", "Write [[92 mm, 0 mm], …].")
    found = []
    for point in entry.entries:
        pair = point.entries if isinstance(point, Series) else ()
        if len(pair) != 2 or not all(isinstance(part, Scalar) for part in pair):
            what = "A point of a profile is two lengths: its radius and its height."
            raise fault(point.place, what, "Write it as [92 mm, 0 mm].")
        radius, height = (value(part, LENGTH) for part in pair if isinstance(part, Scalar))
        found.append(complex(radius, height))
    return tuple(found)
