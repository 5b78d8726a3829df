"""Surfaces: a piece in space as rows of points, derived from the curves its edges become.

Cloth is ruled, so that two curves say it all: a tube, a cone cut off, a brim or a cape runs
straight from one round edge to the other, a whole cone from its rim to its tip, a disc lies within
its edge, and a gore goes across from its right edge to its left.

Two kinds of piece have no form of their own and stand up all the same. A strip whose ends are sewn
together is a tube. And where a round flat edge is taken in to a shorter one by pleats, gathers or
darts, the cloth swells: a flat dome, rising from the middle of the thing's height round to the edge
that holds it. How it swells nobody can say; but from its middle to the edge it measures what the
cloth does, and it is nowhere longer round than the cloth is there. With ρ its largest radius, r the
edge's and R the cloth's, it is drawn as two quarters of ellipses, ρ by ¼ ρ above and ρ − r by
⅗ (ρ − r) below, and ρ is what makes the meridian R.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import accumulate, pairwise

from notchbook.drafting.draft import Piece
from notchbook.drafting.geometry.develop import Point3
from notchbook.drafting.geometry.path import Path
from notchbook.drafting.shape import Curve, Form, Level, Straight
from notchbook.drafting.shapes import tube

Line3 = tuple[Point3, ...]
Space = Level | Straight | Curve

AROUND = 72
"""Points round a closed edge: 0.1 mm of a head's curve lie between it and their chords."""

ALONG = 12
"""Points along a gore's rounding, at least."""

TAKEN_IN = 0.97
"""An edge that is sewn to one shorter than this share of it is taken in."""


@dataclass(frozen=True, slots=True)
class Surface:
    """Rows of as many points each. ``closed``: every row comes round to its start. ``edges`` are
    the curves of the edges, ``folds`` lines to be drawn that are no edge."""

    rows: tuple[Line3, ...]
    edges: Mapping[str, Line3]
    closed: bool
    folds: tuple[Line3, ...] = ()
    soft: bool = False
    caps: Mapping[str, float] = field(default_factory=dict)
    """Heights of round edges that several copies make together: a gore's base and top."""

    @property
    def middle(self) -> float:
        """The mean of its lowest and highest point."""
        heights = [z for row in self.rows for _, _, z in row]
        return (min(heights) + max(heights)) / 2


def surface(piece: Piece, folded: bool = False) -> Surface | None:
    """A piece as it stands on the table once its own seam is sewn; none for one without a form.
    A ``folded`` strip is folded along its middle."""
    if piece.shape == "strip":
        return _band(piece, folded)
    form = piece.form
    if form is None:
        return None
    if {"left", "right"} <= form.edges.keys() and all(
        isinstance(form.edges[side], Curve) for side in ("left", "right")
    ):
        return _gore(form)
    rails = [name for name, curve in form.edges.items() if not isinstance(curve, Straight)]
    edges = {name: line(curve) for name, curve in form.edges.items()}
    first = edges[rails[0]]
    if len(rails) == 2:
        rows: tuple[Line3, ...] = (first, _facing(edges[rails[1]], first))
    else:
        straight = next((c for c in form.edges.values() if isinstance(c, Straight)), None)
        tip = straight.start if straight else centre(first)
        if straight and math.dist(straight.start, first[0]) < math.dist(straight.end, first[0]):
            tip = straight.end
        rows = (first, (tip,) * len(first))
    return Surface(rows, edges, closed=math.dist(first[0], first[-1]) < 1e-6)


def flat_round(piece: Piece) -> str | None:
    """The one edge of a piece that lies round it, for what may be taken in to a shorter edge."""
    loops = piece.flat.loops
    return loops[0][0].name if len(loops) == 1 and len(loops[0]) == 1 else None


def _band(piece: Piece, folded: bool) -> Surface | None:
    edges = piece.flat.edges
    form = tube.draft(girth=edges["top"].length(), height=edges["right"].length()).form
    assert form is not None
    curves = {name: line(curve) for name, curve in form.edges.items()}
    low, top = curves["bottom"], _facing(curves["top"], curves["bottom"])
    if folded:
        high = edges["right"].length() / 2
        top = tuple((x, y, high) for x, y, _ in top)
        curves = {"top": top, "bottom": top, "left": (low[0], top[0]), "right": (top[0], low[0])}
        return Surface((low, top), curves, True, (low,))
    return Surface((low, top), curves, True)


def _gore(form: Form) -> Surface:
    """From the right edge to the left, straight, or along the circle where its base is one."""
    right, left = (_points(form.edges[side]) for side in ("right", "left"))
    right = right[::-1]
    count = min(len(left) - 1, 20)
    left, right = resampled(left, count), resampled(right, count)
    bent = all(isinstance(form.edges.get(end), Straight | None) for end in ("base", "top"))
    across = 1 if bent else 8
    rows = tuple(_across(a, b, across, bent) for a, b in zip(right, left, strict=True))
    edges = {"right": right, "left": left}
    caps = {}
    for name, row in (("base", rows[0]), ("top", rows[-1])):
        if name in form.edges:
            edges[name], caps[name] = row, row[0][2]
    return Surface(rows, edges, closed=False, caps=caps)


def _across(a: Point3, b: Point3, count: int, straight: bool) -> Line3:
    if straight or math.hypot(a[0], a[1]) < 1e-9:
        return tuple(between(a, b, k / count) for k in range(count + 1))
    first, last = complex(a[0], a[1]), complex(b[0], b[1])
    turn = (last / first) ** (1 / count)
    around = [first * turn**k for k in range(count + 1)]
    return tuple((p.real, p.imag, a[2]) for p in around)


def taken_in(reach: float, held: Line3) -> Surface:
    """A round piece of radius ``reach`` that is taken in to a level closed edge ``held``."""
    middle = centre(held)
    radius = length(held) / math.tau
    wide = _swell(reach, radius)
    low, high = 0.6 * (wide - radius), 0.25 * wide
    turns = [math.pi / 2 * k / ALONG for k in range(ALONG + 1)]
    profile = [(wide - (wide - radius) * (1 - math.sin(t)), low * (1 - math.cos(t))) for t in turns]
    profile += [(wide * math.cos(t), low + high * math.sin(t)) for t in turns[1:]]
    rows = tuple(
        tuple(
            (
                middle[0] + (x - middle[0]) * r / radius,
                middle[1] + (y - middle[1]) * r / radius,
                middle[2] + z,
            )
            for x, y, _ in held
        )
        for r, z in profile
    )
    folds = tuple(
        tuple(rows[k][j] for k in range(ALONG - 1 - (j // 3) % 2 * 3))
        for j in range(0, len(held) - 1, 3)
    )
    return Surface(rows, {}, True, folds, soft=True)


def _swell(reach: float, radius: float) -> float:
    low, high = radius, reach
    for _ in range(40):
        wide = (low + high) / 2
        long = _quarter(wide, 0.25 * wide) + _quarter(wide - radius, 0.6 * (wide - radius))
        low, high = (wide, high) if long < reach else (low, wide)
    return low


def _quarter(a: float, b: float) -> float:
    """A quarter of an ellipse's girth (Ramanujan's first approximation, to 0.02 % here)."""
    return math.pi / 4 * (3 * (a + b) - math.sqrt((3 * a + b) * (a + 3 * b)))


def bent_to(made: Surface, edge: str, around: Line3) -> Surface:
    """Cloth that stands, or a disc, whose level round edge is sewn to a round edge of another
    shape, such as a round cone to an oval opening: every level cut takes that shape, its girth and
    middle kept."""
    own = made.edges[edge]
    middle, other = centre(own), centre(around)
    heights = [{round(z, 3) for _, _, z in row} for row in made.rows]
    ring = heights[0] == heights[-1] and length(made.rows[-1]) > 0
    if any(len(each) > 1 for each in heights) or ring:
        return made
    same = _facing(around, own)
    share = length(own) / length(around)
    if len(same) != len(own):
        return made
    ideal = [complex(x - other[0], y - other[1]) * share + complex(*middle[:2]) for x, y, _ in same]
    if max(abs(p - complex(*q[:2])) for p, q in zip(ideal, own, strict=True)) < 1e-3:
        return made

    def bent(row: Line3) -> Line3:
        at, ratio = centre(row), length(row) / length(around)
        x0, y0, z0 = at
        return tuple(
            (x0 + (x - other[0]) * ratio, y0 + (y - other[1]) * ratio, z0) for x, y, _ in same
        )

    rows = tuple(bent(row) for row in made.rows)
    edges = {name: _nearest_row(points, made.rows, rows) for name, points in made.edges.items()}
    return replace(made, rows=rows, edges=edges)


def _nearest_row(points: Line3, old: Sequence[Line3], new: Sequence[Line3]) -> Line3:
    """Where an edge has gone with its surface: a whole row, or the line between starts of rows."""
    for before, after in zip(old, new, strict=True):
        if len(points) == len(before) and abs(points[0][2] - before[0][2]) < 1e-6:
            turned = len(points) > 3 and math.dist(points[3], before[3]) > 1e-3
            return after[::-1] if turned else after
    starts = {round(row[0][2], 6): row[0] for row in new}
    return tuple(starts.get(round(p[2], 6), p) for p in points)


# Curves.


def line(curve: Space) -> Line3:
    """A curve in space as points, equally far apart along it."""
    if isinstance(curve, Straight):
        return (curve.start, curve.end)
    if isinstance(curve, Level):
        return _level(curve.path, curve.height)
    return resampled(curve.points, AROUND)


def _level(path: Path, height: float) -> Line3:
    ends = path.ends()
    places = path.places([ends[-1] * k / AROUND for k in range(AROUND + 1)], ends)
    found = [(p.real, p.imag, height) for p, _ in places]
    if path.closed:
        found[-1] = found[0]
    return tuple(found)


def _points(curve: Space) -> Line3:
    return curve.points if isinstance(curve, Curve) else line(curve)


def resampled(points: Sequence[Point3], count: int) -> Line3:
    """So many equal stretches of a line of points."""
    ends = [0.0, *accumulate(math.dist(a, b) for a, b in pairwise(points))]
    found = [points[0]]
    index = 0
    for k in range(1, count):
        at = ends[-1] * k / count
        while ends[index + 1] < at:
            index += 1
        share = (at - ends[index]) / (ends[index + 1] - ends[index])
        found.append(between(points[index], points[index + 1], share))
    return (*found, points[-1])


def _facing(other: Line3, first: Line3) -> Line3:
    """The second edge the way round that the first one runs."""
    there, back = other, other[::-1]
    quarter = len(first) // 4
    return min(there, back, key=lambda line: math.dist(line[quarter], first[quarter]))


def between(a: Point3, b: Point3, share: float) -> Point3:
    """A point on the way from one to another."""
    (x, y, z), (u, v, w) = a, b
    return x + (u - x) * share, y + (v - y) * share, z + (w - z) * share


def centre(points: Line3) -> Point3:
    """The middle of a closed line of points equally far apart."""
    found = points[:-1] if len(points) > 2 and math.dist(points[0], points[-1]) < 1e-6 else points
    x, y, z = (math.fsum(values) / len(found) for values in zip(*found, strict=True))
    return x, y, z


def length(points: Line3) -> float:
    return math.fsum(math.dist(a, b) for a, b in pairwise(points))


@dataclass(frozen=True, slots=True)
class Place3:
    """Where a piece goes in space: turned over about the line from back to front if ``over``, then
    turned about its upright axis, then shifted."""

    over: bool = False
    cosine: float = 1.0
    sine: float = 0.0
    shift: Point3 = (0.0, 0.0, 0.0)

    def point(self, p: Point3) -> Point3:
        """A point of the piece, in its place."""
        return self.line((p,))[0]

    def line(self, points: Line3) -> Line3:
        """A line of them."""
        c, s, (right, back, up) = self.cosine, self.sine, self.shift
        if self.over:
            points = tuple((-x, y, -z) for x, y, z in points)
        return tuple((x * c - y * s + right, x * s + y * c + back, z + up) for x, y, z in points)


def placed(made: Surface, place: Place3) -> Surface:
    """A surface in its place."""
    return replace(
        made,
        rows=tuple(place.line(row) for row in made.rows),
        edges={name: place.line(points) for name, points in made.edges.items()},
        folds=tuple(place.line(points) for points in made.folds),
    )
