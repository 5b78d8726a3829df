"""Gores in space: all copies of one pattern, and their level cuts where they are sewn to a round
edge."""

from __future__ import annotations

import cmath
import math
from dataclasses import replace

from notchbook.composing.solids.surface import Line3, Place3, Surface, centre, placed


def copies_of(made: Surface, count: int) -> list[Surface]:
    """All copies of a gore: turned round the axis where together they fill the turn; mirrored
    where, on an oval, they are of several kinds."""
    wide = max(made.rows, key=lambda row: abs(complex(*row[0][:2])))
    right, left = complex(*wide[0][:2]), complex(*wide[-1][:2])
    extent = cmath.phase(left / right)
    if abs(abs(extent) * count - math.tau) < 0.01:
        turns = [extent * k for k in range(count)]
        return [placed(made, Place3(False, math.cos(t), math.sin(t))) for t in turns]
    middle = right + left
    ways = [(1, 1), (-1, 1), (1, -1), (-1, -1)]
    found: list[Surface] = []
    seen: list[complex] = []
    for x, y in ways:
        at = complex(middle.real * x, middle.imag * y)
        if len(found) < count and all(abs(at - one) > 1.0 for one in seen):
            seen.append(at)
            found.append(_mirrored(made, x, y))
    return found


def _mirrored(made: Surface, x: int, y: int) -> Surface:
    def line(points: Line3) -> Line3:
        return tuple((p[0] * x, p[1] * y, p[2]) for p in points)

    rows = tuple(line(row)[:: x * y] for row in made.rows)
    return replace(made, rows=rows, edges={name: line(p) for name, p in made.edges.items()})


def rounded(gore: Surface, around: Line3) -> Surface:
    """A gore whose level cuts take the shape of the round edge it is sewn to: each is as long
    round as the polygon it was."""
    middle = centre(around)
    axis = complex(middle[0], middle[1])
    turns = [cmath.phase(complex(x, y) - axis) for x, y, _ in around[:-1]]
    order = sorted(range(len(turns)), key=turns.__getitem__)
    reaches = [abs(complex(*around[k][:2]) - axis) for k in order]
    sorted_turns = [turns[k] for k in order]

    def reach(turn: float) -> float:
        turn = cmath.phase(cmath.rect(1, turn))
        for k, after in enumerate(sorted_turns):
            if turn <= after:
                before = sorted_turns[k - 1] - (math.tau if k == 0 else 0)
                share = (turn - before) / (after - before) if after > before else 0.0
                return reaches[k - 1] + (reaches[k] - reaches[k - 1]) * share
        return reaches[-1]

    base = gore.rows[0]
    right, left = (complex(*base[k][:2]) - axis for k in (0, -1))
    first, extent = cmath.phase(right), cmath.phase(left / right)
    columns = 8
    rays = []
    for k in range(columns + 1):
        turn = first + extent * k / columns
        rays.append(cmath.rect(reach(turn), turn))
    rows = []
    for row in gore.rows:
        share = abs(complex(*row[0][:2]) - axis) / abs(right)
        rows.append(
            tuple(((axis + ray * share).real, (axis + ray * share).imag, row[0][2]) for ray in rays)
        )
    edges = {"right": tuple(row[0] for row in rows), "left": tuple(row[-1] for row in rows)}
    for name in gore.caps:
        height = gore.edges[name][0][2]
        edges[name] = rows[0] if abs(height - gore.rows[0][0][2]) < 1e-6 else rows[-1]
    edges.setdefault("base", rows[0])
    return replace(gore, rows=tuple(rows), edges=edges)
