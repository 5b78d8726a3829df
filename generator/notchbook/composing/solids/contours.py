"""Contours: the lines along which a rounded surface turns away from the eye."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence

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
    normals = list(_normals(rows, k, closed))
    return [
        near / size if (size := math.hypot(*normal)) > 1e-12 else 1.0
        for normal, (_, near) in zip(normals, view.all_seen(normals), strict=True)
    ]


def _normals(rows: Sequence[Line3], k: int, closed: bool) -> Iterator[Point3]:
    """Square to a surface at each point of a row of its grid; of no length where that can't be
    told."""
    alongs = _alongs(rows[k], closed)
    ups = map(_from, rows[max(k - 1, 0)], rows[min(k + 1, len(rows) - 1)])
    if any(math.hypot(*along) < 1e-6 for along in alongs):  # a tip: as its neighbours
        near = _alongs(rows[k - 1 if k else k + 1], closed)
        alongs = [
            other if math.hypot(*along) < 1e-6 else along
            for along, other in zip(alongs, near, strict=True)
        ]
    for (x, y, z), (u, v, w) in zip(alongs, ups, strict=True):
        yield y * w - z * v, z * u - x * w, x * v - y * u


def _alongs(row: Line3, closed: bool) -> list[Point3]:
    """From the point before each of a row to the point after it."""
    if closed:
        return list(map(_from, (row[-2], *row[:-1]), (*row[1:-1], *row[:2])))
    return list(map(_from, (row[0], *row[:-1]), (*row[1:], row[-1])))


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
