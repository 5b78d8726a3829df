"""Sides: where the wrong side of a cloth is seen on a solid, as the hatch it has everywhere else.

Which side of a surface lies outside follows from the middle of the whole thing: it is the one that
is turned away from it. A brim has no outside in this sense; the side that is worn uppermost is it.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Collection, Iterable, Sequence
from itertools import pairwise

from notchbook.composing.drawing import Stroke
from notchbook.composing.solids.assembly import Part, Ply, Solid
from notchbook.composing.solids.surface import Surface
from notchbook.composing.solids.view import Scene
from notchbook.drafting.geometry.develop import Point3
from notchbook.drafting.geometry.path import Path, polyline
from notchbook.drafting.geometry.polygon import box_round
from notchbook.drafting.geometry.vector import Point

APART = 1.7
"""Between two strokes of the hatch, mm on the page: as the wash of a wrong side has it."""

BARE = 2.4
"""How far round a word the hatch stays away, mm on the page."""

STEP = 0.5
"""How finely a stroke is followed, mm on the page; where it ends is then found by halving."""


def middle_of(solids: Iterable[Solid]) -> Point3:
    """The middle of the box round some solids."""
    points = [p for solid in solids for p in solid.points]
    x, y, z = ((min(v) + max(v)) / 2 for v in zip(*points, strict=True))
    return x, y, z


def is_flat(solid: Solid) -> bool:
    """Whether it lies flat."""
    heights = [z for _, _, z in solid.points]
    return max(heights) - min(heights) < 1.0


def hanging(solid: Solid, wrong: Collection[Ply]) -> frozenset[Ply]:
    """All plies of a solid if one of them is ``wrong`` side out, for what hangs on it is too."""
    own = frozenset(part.ply for part in solid.parts)
    return own if own & frozenset(wrong) else frozenset()


def hatched(
    solid: Solid,
    whole: Scene,
    scale: float,
    wrong: Collection[Ply],
    middle: Point3,
    bare: Sequence[Point] = (),
) -> list[Stroke]:
    """The hatch of all that shows its wrong side: the outside of the plies that are ``wrong`` side
    out, and the inside of the others; ``whole`` is its scene. ``middle`` is that of the thing which
    something flat belongs to; anything else has its own. Places that are ``bare`` are left for
    words."""
    middle = middle if is_flat(solid) else middle_of([solid])
    outer = {k: outwards(part, middle) for k, part in enumerate(solid.parts)}
    turned = {k: part.ply in wrong for k, part in enumerate(solid.parts)}

    def shows(at: Point) -> bool:
        if bare and any(abs(at - place) < BARE for place in bare):
            return False
        found = whole.uppermost(at / scale)
        return found is not None and (outer[found[0]] == found[1]) == turned[found[0]]

    points = [p * scale for p, _ in whole.view.all_seen(solid.points)]
    paths = _strokes(points, shows)
    return [Stroke(tuple(paths), "leader")] if paths else []


def outwards(part: Part, middle: Point3) -> bool:
    """Whether the rows of a part, followed to the right of the way from each to the next, turn
    their face outwards."""
    total = sum(_outward(each, middle) for each in part.surfaces)
    return total > 0


def _outward(each: Surface, middle: Point3) -> float:
    rows = each.rows
    total = 0.0
    brim = _is_brim(each)
    for row, following in pairwise(rows):
        for j in range(len(row) - 1):
            a, b, c = row[j], row[j + 1], following[j + 1]
            x, y, z = _cross(_from(a, b), _from(a, c))
            if brim:
                total += z
                continue
            total += x * (a[0] - middle[0]) + y * (a[1] - middle[1]) + z * (a[2] - middle[2])
    return total


def _is_brim(each: Surface) -> bool:
    """Whether it lies round a hole, and wider than it is high."""
    first, last = each.rows[0], each.rows[-1]
    if not each.closed or min(map(_wide, (first, last))) < 1.0:
        return False
    return abs(_wide(first) - _wide(last)) / 2 > abs(first[0][2] - last[0][2])


def _wide(row: Iterable[Point3]) -> float:
    across = [x for x, _, _ in row]
    return max(across) - min(across)


def _from(a: Point3, b: Point3) -> Point3:
    return b[0] - a[0], b[1] - a[1], b[2] - a[2]


def _cross(u: Point3, v: Point3) -> Point3:
    return (
        u[1] * v[2] - u[2] * v[1],
        u[2] * v[0] - u[0] * v[2],
        u[0] * v[1] - u[1] * v[0],
    )


def _strokes(points: list[Point], shows: Callable[[Point], bool]) -> list[Path]:
    """Slanting strokes, rising to the right, wherever ``shows`` says so."""
    box = box_round(points)
    way = complex(1, -1) / math.sqrt(2)
    aside = complex(1, 1) / math.sqrt(2)
    foot = complex(box.low.real, box.high.imag)
    step = STEP / math.sqrt(2)
    found: list[Path] = []
    for k in range(-math.ceil(box.height / APART), math.ceil(box.width / APART) + 1):
        base = foot + aside * k * APART
        first: Point | None = None
        # Where the stroke is in the box; the steps before and after it are not.
        low, high = (box.low - base) / step, (box.high - base) / step
        begin, end = max(low.real, -high.imag), min(high.real, -low.imag)
        before, seen = base + way * (math.ceil(begin) - 2) * STEP, False
        for n in range(math.ceil(begin) - 1, math.floor(end) + 2):
            at = base + way * n * STEP
            now = shows(at)
            if now != seen:
                stop = _between(before, at, seen, shows)
                if first is None:
                    first = stop
                elif abs(stop - first) > 0.3:
                    found.append(polyline(first, stop))
                    first = None
                else:
                    first = None
            before, seen = at, now
    return found


def _between(a: Point, b: Point, seen: bool, shows: Callable[[Point], bool]) -> Point:
    """Where what is seen at one point ends on the way to another."""
    for _ in range(4):
        middle = (a + b) / 2
        if shows(middle) == seen:
            a = middle
        else:
            b = middle
    return (a + b) / 2
