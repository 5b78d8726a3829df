"""Seeing: surfaces and lines in space, projected, with what lies behind left out.

The projection is parallel. A surface is cut into triangles, which are sorted into the squares of a
grid by where they are seen; a point of a line is hidden if a triangle of the square it is seen in
covers it and is nearer by more than a little. Lines are followed in small steps, and where one
disappears is found by halving.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from notchbook.composing.solids.surface import Line3, Surface, between
from notchbook.drafting.geometry.develop import Point3
from notchbook.drafting.geometry.path import Point, unit
from notchbook.drafting.geometry.polygon import box_round

CELLS = 48
"""Squares of the grid along the longer side."""


@dataclass(frozen=True, slots=True)
class View:
    """Where one looks from: ``round`` from the front towards the wearer's left, and ``above`` the
    level, radians."""

    round: float
    above: float

    def seen(self, p: Point3) -> tuple[Point, float]:
        """A point as it is seen (x right, y down the page), and how near it is, mm."""
        c, s, up, level = (
            math.cos(self.round), math.sin(self.round), math.sin(self.above), math.cos(self.above),
        )  # fmt: skip
        away = -s * p[0] + c * p[1]
        return (
            complex(-c * p[0] - s * p[1], up * away - level * p[2]),
            level * away + up * p[2],
        )


def degrees(round_: float, above: float) -> View:
    """A view by its angles in degrees."""
    return View(math.radians(round_), math.radians(above))


VIEWS = {
    "three-quarter": degrees(32, 20),
    "front": degrees(0, 9),
    "side": degrees(90, 9),
    "back": degrees(180, 9),
    "below": degrees(32, -32),
}
"""By the name that authors give them."""

Seen = tuple[Point, float]
"""A point as it is seen, and how near it is."""

State = tuple[bool, bool]
"""Whether a point of a line is hidden, and whether it is on the outline."""

Triangle = tuple[float, float, float, float, float, float, float, float, float, int]
"""Two shares of a seen point, each as a + b x + c y; the third is what they leave of 1. Then how
near it is, as a + b x + c y in place of the third; last the number of its part."""


@dataclass(slots=True)
class Scene:
    """Triangles by the squares of the grid."""

    view: View
    low: Point
    cell: float
    squares: dict[tuple[int, int], list[Triangle]] = field(default_factory=dict)

    def nearest(self, at: Point, own: frozenset[int], slack: float, near: float) -> bool:
        """Whether something is nearer than a point seen ``at``, which is so ``near``: by more than
        ``slack`` if it is a part of its ``own``, by a hair for others."""
        x, y = at.real, at.imag
        square = (int((x - self.low.real) // self.cell), int((y - self.low.imag) // self.cell))
        for a, b, c, d, e, f, g, h, i, part in self.squares.get(square, ()):
            u = a + b * x + c * y
            if u < -SLIP:
                continue
            v = d + e * x + f * y
            if v < -SLIP or u + v > 1 + SLIP:
                continue
            if g + h * x + i * y > near + (slack if part in own else HAIR):
                return True
        return False

    def covered(self, at: Point) -> bool:
        """Whether any surface is seen at a point."""
        return self.nearest(at, frozenset(), 0.0, -math.inf)


SLIP = 1e-6
"""Share of a triangle by which it reaches beyond its sides: no gap is left to its neighbour."""

HAIR = 0.25
"""A surface hides what lies further behind it than this, mm: more than chords stray from curves."""


def scene(surfaces: Sequence[tuple[int, Surface]], view: View) -> Scene:
    """All surfaces, each with the number of its part, as they are seen."""
    seen = [(part, [[view.seen(p) for p in row] for row in each.rows]) for part, each in surfaces]
    points = [p for _, rows in seen for row in rows for p, _ in row]
    box = box_round(points)
    found = Scene(view, box.low, max(box.width, box.height, 1.0) / CELLS)
    for part, rows in seen:
        for row, above in pairwise(rows):
            for k in range(len(row) - 1):
                a, b, c, d = row[k], row[k + 1], above[k + 1], above[k]
                _add(found, a, b, c, part)
                _add(found, a, c, d, part)
    return found


def _add(scene: Scene, a: Seen, b: Seen, c: Seen, part: int) -> None:
    (p, dp), (q, dq), (r, dr) = a, b, c
    px, py, qx, qy, rx, ry = p.real, p.imag, q.real, q.imag, r.real, r.imag
    twice = (px - rx) * (qy - ry) - (qx - rx) * (py - ry)
    if abs(twice) < 1e-6:
        return
    b1, c1 = (qy - ry) / twice, (rx - qx) / twice
    b2, c2 = (ry - py) / twice, (px - rx) / twice
    a1, a2 = -(b1 * rx + c1 * ry), -(b2 * rx + c2 * ry)
    g, h, i = (dp - dr, dq - dr, dr)
    made = (
        a1, b1, c1, a2, b2, c2,
        i + g * a1 + h * a2, g * b1 + h * b2, g * c1 + h * c2, part,
    )  # fmt: skip
    cell, low, squares = scene.cell, scene.low, scene.squares
    first = int((min(px, qx, rx) - low.real) // cell)
    last = int((max(px, qx, rx) - low.real) // cell)
    top = int((min(py, qy, ry) - low.imag) // cell)
    foot = int((max(py, qy, ry) - low.imag) // cell)
    slim = first == last or top == foot
    for x in range(first, last + 1):
        for y in range(top, foot + 1):
            if slim or _reaches(made, low.real + x * cell, low.imag + y * cell, cell):
                squares.setdefault((x, y), []).append(made)


def _reaches(made: Triangle, x: float, y: float, cell: float) -> bool:
    """Whether a triangle may reach into a square: none of its sides has the whole square beyond."""
    a1, b1, c1, a2, b2, c2 = made[:6]
    for a, b, c in ((a1, b1, c1), (a2, b2, c2), (1 - a1 - a2, -b1 - b2, -c1 - c2)):
        if a + b * (x + cell * (b > 0)) + c * (y + cell * (c > 0)) < 0:
            return False
    return True


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
    size = scene.cell * CELLS
    slack, beside = slack * size, 0.003 * size
    seen = [scene.view.seen(p) for p in _stepped(line, size / 90)]

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


def contours(each: Surface, view: View) -> list[Line3]:
    """The lines along which a surface turns away from the eye."""
    rows = each.rows
    facing = [[_facing(rows, k, j, each.closed, view) for j in range(len(rows[k]))]
              for k in range(len(rows))]  # fmt: skip
    pieces: list[tuple[Point3, Point3]] = []
    for k in range(len(rows) - 1):
        for j in range(len(rows[k]) - 1):
            corners = [(k, j), (k, j + 1), (k + 1, j + 1), (k + 1, j)]
            cuts = []
            for (r, s), (t, u) in zip(corners, corners[1:] + corners[:1], strict=True):
                f, g = facing[r][s], facing[t][u]
                if (f < 0) != (g < 0):
                    cuts.append(between(rows[r][s], rows[t][u], f / (f - g)))
            if len(cuts) == 2 and math.dist(*cuts) > 1e-9:
                pieces.append((cuts[0], cuts[1]))
    return _chained(pieces)


def _facing(rows: Sequence[Line3], k: int, j: int, closed: bool, view: View) -> float:
    """How far a surface faces the eye at a point of its grid, −1 to 1."""
    row = rows[k]
    last = len(row) - 1
    if closed:
        along = _from(row[(j - 1) % last], row[(j + 1) % last])
    else:
        along = _from(row[max(j - 1, 0)], row[min(j + 1, last)])
    if math.hypot(*along) < 1e-6:  # a tip: as its neighbours below or above
        near = k - 1 if k else k + 1
        other = rows[near]
        after, before = ((j + 1) % last, (j - 1) % last) if closed else (
            min(j + 1, last), max(j - 1, 0))  # fmt: skip
        along = _from(other[before], other[after])
    up = _from(rows[max(k - 1, 0)][j], rows[min(k + 1, len(rows) - 1)][j])
    x = along[1] * up[2] - along[2] * up[1]
    y = along[2] * up[0] - along[0] * up[2]
    z = along[0] * up[1] - along[1] * up[0]
    size = math.hypot(x, y, z)
    return view.seen((x, y, z))[1] / size if size > 1e-12 else 1.0


def _from(a: Point3, b: Point3) -> Point3:
    return b[0] - a[0], b[1] - a[1], b[2] - a[2]


def _chained(pieces: Iterable[tuple[Point3, Point3]]) -> list[Line3]:
    """Short lines put end to end."""

    def key(p: Point3) -> tuple[int, int, int]:
        return round(p[0] * 100), round(p[1] * 100), round(p[2] * 100)

    ends: dict[tuple[int, int, int], list[int]] = {}
    lines = list(pieces)
    for k, (a, b) in enumerate(lines):
        ends.setdefault(key(a), []).append(k)
        ends.setdefault(key(b), []).append(k)
    used: set[int] = set()
    found = []
    for k, (a, b) in enumerate(lines):
        if k in used:
            continue
        used.add(k)
        line = [a, b]
        for _ in range(2):
            while True:
                following = [n for n in ends[key(line[-1])] if n not in used]
                if not following:
                    break
                used.add(following[0])
                c, d = lines[following[0]]
                line.append(d if key(c) == key(line[-1]) else c)
            line.reverse()
        found.append(tuple(line))
    return found
