"""Seeing: surfaces and lines in space, projected, with what lies behind left out.

The projection is parallel. A surface is cut into triangles, which are sorted into the squares of a
grid by where they are seen; a point of a line is hidden if a triangle of the square it is seen in
covers it and is nearer by more than a little. Lines are followed in small steps, and where one
disappears is found by halving.
"""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right
from collections import defaultdict
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

Triangle = tuple[float, float, float, float, float, float, float, float, float, int]
"""Two shares of a seen point, each as a + b x + c y; the third is what they leave of 1. Then how
near it is, as a + b x + c y in place of the third; last the number of its part."""


@dataclass(slots=True)
class Scene:
    """Triangles by the squares of the grid."""

    view: View
    low: Point
    cell: float
    squares: defaultdict[tuple[int, int], list[Triangle]] = field(
        default_factory=lambda: defaultdict(list)
    )

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

    def uppermost(self, at: Point) -> tuple[int, bool] | None:
        """The part that is seen at a point, and whether it turns the eye the side that its rows,
        followed to the right of the way from each to the next, turn it; none where nothing is."""
        x, y = at.real, at.imag
        square = (int((x - self.low.real) // self.cell), int((y - self.low.imag) // self.cell))
        best, found = -math.inf, None
        for a, b, c, d, e, f, g, h, i, part in self.squares.get(square, ()):
            u, v = a + b * x + c * y, d + e * x + f * y
            if min(u, v, 1 - u - v) < -SLIP:
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
    found = Scene(view, box.low, max(box.width, box.height, 1.0) / CELLS)
    cell, left, above = found.cell, found.low.real, found.low.imag

    def squared(seen: Seen) -> _Corner:
        x, y = seen[0].real, seen[0].imag
        return x, y, seen[1], int((x - left) // cell), int((y - above) // cell)

    for part, rows in seen:
        squares = [list(map(squared, row)) for row in rows]
        for row, following in pairwise(squares):
            for (a, b), (d, c) in zip(pairwise(row), pairwise(following), strict=True):
                _add(found, a, b, c, part)
                _add(found, a, c, d, part)
    return found


_Corner = tuple[float, float, float, int, int]
"""Where a point is seen, how near it is, and the column and row of its square."""


def _add(scene: Scene, a: _Corner, b: _Corner, c: _Corner, part: int) -> None:
    (px, py, dp, pc, pr), (qx, qy, dq, qc, qr), (rx, ry, dr, rc, rr) = a, b, c
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
    squares = scene.squares
    if pc == qc == rc:
        for y in range(min(pr, qr, rr), max(pr, qr, rr) + 1):
            squares[pc, y].append(made)
        return
    first, last = min(pc, qc, rc), max(pc, qc, rc)
    if pr == qr == rr:
        for x in range(first, last + 1):
            squares[x, pr].append(made)
        return
    top, foot = min(pr, qr, rr), max(pr, qr, rr)
    cell, left, above = scene.cell, scene.low.real, scene.low.imag
    columns = [left + x * cell for x in range(first, last + 1)]
    rows = [above + y * cell for y in range(top, foot + 1)]
    for y, (begin, end) in enumerate(_reached(made, columns, rows, cell), start=top):
        for x in range(first + begin, first + end):
            squares[x, y].append(made)


def _reached(
    made: Triangle, columns: Sequence[float], rows: Sequence[float], cell: float
) -> Iterator[tuple[int, int]]:
    """The squares of each row that a triangle may reach into, none of its sides having the whole
    square beyond: from one number to before another. A side has those to its left or its right."""
    a1, b1, c1, a2, b2, c2 = made[:6]
    sides = []
    for a, b, c in ((a1, b1, c1), (a2, b2, c2), (1 - a1 - a2, -b1 - b2, -c1 - c2)):
        # The least it may be beyond, squares of a row apart; the rest depends on the row alone.
        across = [a + b * (x + cell) for x in columns] if b > 0 else [-a - b * x for x in columns]
        sides.append((b > 0, across, c, cell if c > 0 else 0.0))
    for row in rows:
        begin, end = 0, len(columns)
        for rising, across, c, more in sides:
            down = c * (row + more)
            if rising:
                begin = max(begin, bisect_left(across, -down))
            else:
                end = min(end, bisect_right(across, down))
        yield begin, end


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
