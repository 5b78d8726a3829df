"""A standing thing cut down its middle, from centre back to centre front.

On the page the back is on the left, and up is up; all in mm of the thing.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import pairwise

from notchbook.composing.figures.track import Points, distinct
from notchbook.composing.solids.assembly import Part, Ply, assembled
from notchbook.drafting.draft import Draft
from notchbook.drafting.geometry.develop import Point3
from notchbook.drafting.geometry.vector import Point

_NEAR = 1e-6


@dataclass(frozen=True, slots=True)
class Meridian:
    """Where the cut meets a ply: at the ``back`` and at the ``front``, each from its lower end; and
    where it meets its round ``edges``, at the back and at the front."""

    back: Points
    front: Points
    edges: Mapping[str, tuple[Point, Point]]


def meridians(draft: Draft) -> dict[Ply, Meridian]:
    """Every ply of the finished thing that stands, cut through."""
    return {
        part.ply: found
        for solid in assembled(draft, draft.seams)
        for part in solid.parts
        if (found := _cut(part))
    }


def _cut(part: Part) -> Meridian | None:
    back, front = (_side(part, sign) for sign in (-1, 1))
    if len(back) < 2 or len(front) < 2:
        return None
    edges: dict[str, tuple[Point, Point]] = {}
    for name in part.surfaces[0].edges:
        met = [p for each in part.surfaces for p in _met(each.edges[name])]
        low, high = (choose(met, key=lambda p: p[1], default=None) for choose in (min, max))
        if low and high and high[1] - low[1] > 1.0:
            edges[name] = complex(low[1], -low[2]), complex(high[1], -high[2])
    return Meridian(back, front, edges)


def _side(part: Part, sign: int) -> Points:
    """One half: of every row the point that lies in the plane of the cut on this side."""
    rows: dict[int, list[Point3]] = {}
    for surface in part.surfaces:
        for number, row in enumerate(surface.rows):
            rows.setdefault(number, []).extend(_met(row))
    found = []
    for _, points in sorted(rows.items()):
        own = [p for p in points if p[1] * sign >= -_NEAR] or points
        if own:
            _, y, z = max(own, key=lambda p: p[1] * sign)
            found.append(complex(y, -z))
    # Lowest first: a page's y runs down.
    way = distinct(found)
    return way if not way or way[0].imag >= way[-1].imag else way[::-1]


def _met(row: tuple[Point3, ...]) -> Iterator[Point3]:
    """Where a row meets the plane x = 0."""
    for a, b in pairwise(row):
        if abs(a[0]) < _NEAR:
            yield a
        elif a[0] * b[0] < 0:
            t = a[0] / (a[0] - b[0])
            yield 0.0, a[1] + (b[1] - a[1]) * t, a[2] + (b[2] - a[2]) * t
    if abs(row[-1][0]) < _NEAR:
        yield row[-1]
