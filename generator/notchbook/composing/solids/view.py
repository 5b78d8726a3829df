"""Seeing: surfaces and lines in space, projected, with what lies behind left out.

The projection is parallel. A surface is cut into triangles, which are sorted into the squares of a
grid by where they are seen, the nearest first; a point of a line is hidden if a triangle of the
square it is seen in covers it and is nearer by more than a little. Lines are followed in small
steps, and where one disappears is found by halving.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from notchbook.composing.solids.surface import Line3, Surface, between
from notchbook.drafting.geometry.develop import Point3
from notchbook.drafting.geometry.polygon import box_round
from notchbook.drafting.geometry.vector import Point, unit

FINE = 0.7
"""Squares of the grid along the longer side, for the root of how many points the surfaces have."""


@dataclass(frozen=True, slots=True)
class View:
    """Where one looks from: ``round`` from the front towards the wearer's left, and ``above`` the
    level, radians."""

    round: float
    above: float

    def seen(self, p: Point3) -> Seen:
        """A point as it is seen (x right, y down the page), and how near it is, mm."""
        return self.all_seen((p,))[0]

    def all_seen(self, points: Iterable[Point3]) -> list[Seen]:
        """Every one of some points as it is seen."""
        c, s, up, level = (
            math.cos(self.round), math.sin(self.round), math.sin(self.above), math.cos(self.above),
        )  # fmt: skip
        found = []
        for x, y, z in points:
            away = -s * x + c * y
            found.append((complex(-c * x - s * y, up * away - level * z), level * away + up * z))
        return found


def degrees(round_: float, above: float) -> View:
    """A view by its angles in degrees."""
    return View(math.radians(round_), math.radians(above))


VIEWS = {
    "three-quarter": degrees(32, 20),
    "front": degrees(0, 9),
    "side": degrees(90, 9),
    "back": degrees(180, 9),
    "behind": degrees(212, 20),
    "below": degrees(32, -32),
}
"""By the name that authors give them."""

Seen = tuple[Point, float]
"""A point as it is seen, and how near it is."""

State = tuple[bool, bool]
"""Whether a point of a line is hidden, and whether it is on the outline."""

Triangle = tuple[float, float, float, float, float, float, float, float, float, float, int]
"""Two shares of a seen point, each as a + b x + c y with x and y in squares of the grid; the third
is what they leave of 1. Then how near it is, as a + b x + c y, and at most; last the number of its
part."""

Squares = defaultdict[tuple[int, int], list[Triangle]]
"""Triangles by the column and row of each square that they reach into, the nearest first."""


@dataclass(slots=True)
class Scene:
    """Triangles by the squares of a grid, whose corner is ``low``. ``size`` is the longer side of
    what is seen and ``cell`` that of a square, mm."""

    view: View
    low: Point
    size: float
    cell: float
    squares: Squares = field(default_factory=lambda: defaultdict(list))

    def nearest(self, at: Point, own: frozenset[int], slack: float, near: float) -> bool:
        """Whether something is nearer than a point seen ``at``, which is so ``near``: by more than
        ``slack`` if it is a part of its ``own``, by a hair for others."""
        x, y = (at.real - self.low.real) / self.cell, (at.imag - self.low.imag) / self.cell
        for a, b, c, d, e, f, g, h, i, most, part in self.squares.get(
            (math.floor(x), math.floor(y)), ()
        ):
            if most <= near:
                break
            u = a + b * x + c * y
            if u < -SLIP:
                continue
            v = d + e * x + f * y
            if v < -SLIP or u + v > 1 + SLIP:
                continue
            if g + h * x + i * y > near + (slack if part in own else HAIR):
                return True
        return False

    def uppermost(self, at: Point) -> tuple[int, bool] | None:
        """The part that is seen at a point, and whether it turns the eye the side that its rows,
        followed to the right of the way from each to the next, turn it; none where nothing is."""
        x, y = (at.real - self.low.real) / self.cell, (at.imag - self.low.imag) / self.cell
        best, found = -math.inf, None
        for a, b, c, d, e, f, g, h, i, most, part in self.squares.get(
            (math.floor(x), math.floor(y)), ()
        ):
            if most < best:
                break
            u = a + b * x + c * y
            if u < -SLIP:
                continue
            v = d + e * x + f * y
            if v < -SLIP or u + v > 1 + SLIP:
                continue
            near = g + h * x + i * y
            if near > best:
                best, found = near, (part, b * f < c * e)
        return found

    def covered(self, at: Point) -> bool:
        """Whether any surface is seen at a point."""
        return self.nearest(at, frozenset(), 0.0, -math.inf)


SLIP = 1e-6
"""Share of a triangle by which it reaches beyond its sides: no gap is left to its neighbour."""

HAIR = 0.25
"""A surface hides what lies further behind it than this, mm: more than chords stray from curves."""


def scene(surfaces: Sequence[tuple[int, Surface]], view: View) -> Scene:
    """All surfaces, each with the number of its part, as they are seen."""
    seen = [(part, [view.all_seen(row) for row in each.rows]) for part, each in surfaces]
    points = [p for _, rows in seen for row in rows for p, _ in row]
    box = box_round(points)
    size = max(box.width, box.height, 1.0)
    found = Scene(view, box.low, size, size / max(FINE * math.sqrt(len(points)), 1.0))
    cell, left, above = found.cell, found.low.real, found.low.imag

    def squared(seen: Seen) -> _Corner:
        x, y = (seen[0].real - left) / cell, (seen[0].imag - above) / cell
        return x, y, seen[1], int(x), int(y)

    thin = 1e-6 / (cell * cell)
    triangles: list[tuple[Triangle, tuple[_Corner, _Corner, _Corner]]] = []
    for part, rows in seen:
        corners = [list(map(squared, row)) for row in rows]
        for row, following in pairwise(corners):
            for (a, b), (d, c) in zip(pairwise(row), pairwise(following), strict=True):
                for three in ((a, b, c), (a, c, d)):
                    if made := _triangle(*three, part, thin):
                        triangles.append((made, three))
    triangles.sort(key=lambda each: each[0][9], reverse=True)
    for made, three in triangles:
        _sort_in(found.squares, made, *three)
    return found


_Corner = tuple[float, float, float, int, int]
"""Where a point is seen, in squares, and how near it is; then the column and row of its square."""


def _triangle(a: _Corner, b: _Corner, c: _Corner, part: int, thin: float) -> Triangle | None:
    """A triangle; none if it is seen from its edge: no larger than half of ``thin`` squares."""
    (px, py, dp, _, _), (qx, qy, dq, _, _), (rx, ry, dr, _, _) = a, b, c
    twice = (px - rx) * (qy - ry) - (qx - rx) * (py - ry)
    if -thin < twice < thin:
        return None
    b1, c1 = (qy - ry) / twice, (rx - qx) / twice
    b2, c2 = (ry - py) / twice, (px - rx) / twice
    a1, a2 = -(b1 * rx + c1 * ry), -(b2 * rx + c2 * ry)
    g, h = dp - dr, dq - dr
    return (
        a1, b1, c1, a2, b2, c2,
        dr + g * a1 + h * a2, g * b1 + h * b2, g * c1 + h * c2, max(dp, dq, dr), part,
    )  # fmt: skip


def _sort_in(squares: Squares, made: Triangle, a: _Corner, b: _Corner, c: _Corner) -> None:
    """Keep a triangle in every square that it reaches into."""
    (px, py, _, pc, pr), (qx, qy, _, qc, qr), (rx, ry, _, rc, rr) = a, b, c
    first, last, top, foot = min(pc, qc, rc), max(pc, qc, rc), min(pr, qr, rr), max(pr, qr, rr)
    if top == foot or last - first < 2:
        # The whole box round it.
        for x in range(first, last + 1):
            for y in range(top, foot + 1):
                squares[x, y].append(made)
        return
    for y, (first, last) in enumerate(_reached((py, px), (qy, qx), (ry, rx)), start=top):
        for x in range(first, last + 1):
            squares[x, y].append(made)


def _reached(*corners: tuple[float, float]) -> Iterator[tuple[int, int]]:
    """The first and the last column that a triangle reaches into in each of its rows, of which
    there are several. Corners are in squares, down and across."""
    (py, px), (qy, qx), (ry, rx) = sorted(corners)
    top, foot = int(py), int(ry)
    # Its sides are followed from row to row: the longest, and the two others one after the other.
    long = (rx - px) / (ry - py)
    upper, lower = (qx - px) / (qy - py or 1.0), (rx - qx) / (ry - qy or 1.0)
    one = other = px
    for y in range(top, foot):
        met = px + long * (y + 1 - py)
        if qy > y + 1:
            bend = px + upper * (y + 1 - py)
            low, high = min(one, other, met, bend), max(one, other, met, bend)
        else:
            bend = qx + lower * (y + 1 - qy)
            corner = qx if qy >= y else bend
            low, high = min(one, other, met, bend, corner), max(one, other, met, bend, corner)
        yield int(low), int(high)
        one, other = met, bend
    corner = qx if qy >= foot else rx
    yield int(min(one, other, rx, corner)), int(max(one, other, rx, corner))


@dataclass(frozen=True, slots=True)
class Run:
    """A stretch of a line as it is seen, all of it visible or all of it hidden. ``outline``: there
    is nothing on one side of it."""

    points: tuple[Point, ...]
    hidden: bool
    outline: bool


SLACK = 0.0015
"""A part hides lines of its own that lie further behind it than this share of the whole."""

ROUNDING = 0.04
"""The same for lines along which it turns away: there depth grows as the root of what chords stray
from the curve."""


def runs(
    line: Line3,
    own: frozenset[int],
    scene: Scene,
    slack: float = SLACK,
    hides: Callable[[Seen], bool] | None = None,
) -> Iterator[Run]:
    """A line in the stretches in which it is seen. ``hides`` says what else is in front of it."""
    size = scene.size
    slack, beside = slack * size, 0.003 * size
    seen = scene.view.all_seen(_stepped(line, size / 90))

    def state(p: Seen, along: complex) -> State:
        hidden = scene.nearest(p[0], own, slack, p[1]) or bool(hides and hides(p))
        if hidden or not along:
            return hidden, False
        out = unit(along) * beside * 1j
        return False, not (scene.covered(p[0] + out) and scene.covered(p[0] - out))

    last = len(seen) - 1
    ways = [seen[min(k + 1, last)][0] - seen[max(k - 1, 0)][0] for k in range(last + 1)]
    states = [state(p, along) for p, along in zip(seen, ways, strict=True)]
    _settle(states)
    run = [seen[0][0]]
    for k in range(last):
        if states[k] != states[k + 1]:
            low, high = seen[k], seen[k + 1]
            for _ in range(7):
                half = (low[0] + high[0]) / 2, (low[1] + high[1]) / 2
                before = state(half, high[0] - low[0]) == states[k]
                low, high = (half, high) if before else (low, half)
            run.append(low[0])
            yield Run(tuple(run), *states[k])
            run = [low[0]]
        run.append(seen[k + 1][0])
    yield Run(tuple(run), *states[last])


def _settle(states: list[State]) -> None:
    """A single point that differs from both its neighbours, which agree, is a slip; and an end, at
    which nothing can be told, is as its neighbour."""
    for k in range(1, len(states) - 1):
        if states[k - 1] == states[k + 1] != states[k]:
            states[k] = states[k - 1]
    if len(states) > 2:
        states[0], states[-1] = states[1], states[-2]


def _stepped(line: Line3, step: float) -> Iterator[Point3]:
    yield line[0]
    for a, b in pairwise(line):
        count = max(1, math.ceil(math.dist(a, b) / step))
        for k in range(1, count + 1):
            yield between(a, b, k / count)
