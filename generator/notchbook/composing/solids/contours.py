"""Contours: the lines along which a rounded surface turns away from the eye."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from notchbook.composing.solids.surface import Line3, Surface, between
from notchbook.composing.solids.view import View
from notchbook.drafting.geometry.develop import Point3


def contours(each: Surface, view: View) -> list[Line3]:
    """The lines along which a surface turns away from the eye."""
    rows = each.rows
    facing = [_facing(rows, k, each.closed, view) for k in range(len(rows))]
    pieces: list[tuple[Point3, Point3]] = []
    for k in range(len(rows) - 1):
        away = [[f < 0 for f in line] for line in facing[k : k + 2]]
        for j in range(len(rows[k]) - 1):
            if away[0][j] == away[0][j + 1] == away[1][j + 1] == away[1][j]:
                continue
            corners = [(k, j), (k, j + 1), (k + 1, j + 1), (k + 1, j)]
            cuts = []
            for (r, s), (t, u) in zip(corners, corners[1:] + corners[:1], strict=True):
                f, g = facing[r][s], facing[t][u]
                if (f < 0) != (g < 0):
                    cuts.append(between(rows[r][s], rows[t][u], f / (f - g)))
            if len(cuts) == 2 and math.dist(*cuts) > 1e-9:
                pieces.append((cuts[0], cuts[1]))
    return _chained(pieces)


def _facing(rows: Sequence[Line3], k: int, closed: bool, view: View) -> list[float]:
    """How far a surface faces the eye at each point of one of its rows, −1 to 1."""
    normals = [_normal(rows, k, j, closed) for j in range(len(rows[k]))]
    return [
        near / size if (size := math.hypot(*normal)) > 1e-12 else 1.0
        for normal, (_, near) in zip(normals, view.all_seen(normals), strict=True)
    ]


def _normal(rows: Sequence[Line3], k: int, j: int, closed: bool) -> Point3:
    """Square to a surface at a point of its grid; of no length where that can't be told."""
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
    return (
        along[1] * up[2] - along[2] * up[1],
        along[2] * up[0] - along[0] * up[2],
        along[0] * up[1] - along[1] * up[0],
    )


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
