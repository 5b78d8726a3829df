"""Inking: a solid's lines on the page, as one hand draws them: its outline heavy, edges lighter,
seams and folds fine."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from itertools import pairwise

from notchbook.composing.drawing import Stroke
from notchbook.composing.solids.assembly import Line, Solid
from notchbook.composing.solids.contours import contours
from notchbook.composing.solids.surface import length
from notchbook.composing.solids.view import (
    ROUNDING,
    SLACK,
    Scene,
    Seen,
    View,
    runs,
    scene,
)
from notchbook.drafting.geometry.path import Path
from notchbook.drafting.geometry.segments import Cubic, Segment
from notchbook.drafting.geometry.segments import Line as Straight
from notchbook.drafting.geometry.vector import Point, cross, dot, unit

STRAY = 0.12
"""How far points of a curve may lie from the line through those that are kept, mm on paper; the
curve drawn through these is nearer by far."""

CORNER = math.radians(25)
"""What turns more from point to point is a corner."""

PENS = {"edge": "solid-edge", "seam": "solid-seam", "fold": "solid-fold"}


def scene_of(solid: Solid, view: View) -> Scene:
    """A solid's surfaces as they are seen. Linings and the like lie along others and hide no more
    than these do, except to someone who looks in from below."""
    shown = [
        (k, each)
        for k, part in enumerate(solid.parts)
        if view.above < 0 or not part.inner
        for each in part.surfaces
    ]
    return scene(shown, view)


def inked(
    solid: Solid,
    whole: Scene,
    scale: float,
    *,
    dotted: bool = False,
    hides: Callable[[Seen], bool] | None = None,
) -> list[Stroke]:
    """A solid in its scene, its origin at that of the page. ``dotted``: what is hidden is drawn
    too. ``hides`` says what else stands in front of it."""
    view = whole.view
    shown = {k for k, part in enumerate(solid.parts) if view.above < 0 or not part.inner}
    lines = [*(line for line in solid.lines if line.parts & shown), *_contours(solid, view)]
    found: dict[str, list[Path]] = {}
    for line in lines:
        slack = ROUNDING if line.kind == "contour" else SLACK
        for run in runs(line.points, line.parts, whole, slack, hides):
            if run.hidden and (not dotted or line.kind in ("contour", "fold")):
                continue
            role = "solid-outline" if run.outline else PENS.get(line.kind, "solid-edge")
            path = smooth([p * scale for p in run.points])
            if path:
                found.setdefault("solid-hidden" if run.hidden else role, []).append(path)
    order = ("solid-hidden", "solid-fold", "solid-seam", "solid-edge", "solid-outline")
    return [Stroke(tuple(found[role]), role) for role in order if role in found]


def _contours(solid: Solid, view: View) -> list[Line]:
    """Of what lies outside; linings and the like turn away where it does."""
    heights = [z for _, _, z in solid.points]
    least = 0.05 * (max(heights) - min(heights))
    inner = frozenset(k for k, part in enumerate(solid.parts) if part.inner)
    return [
        Line(points, "contour", inner | {k})
        for k, part in enumerate(solid.parts)
        if not part.inner
        for each in part.surfaces
        for points in contours(each, view)
        if length(points) > least
    ]


def smooth(points: Sequence[Point]) -> Path | None:
    """A curve through points that lie close together, in as few cubics as it takes, its corners
    kept; none where there is nothing to see."""
    kept = [points[0]]
    for p in points[1:]:
        if abs(p - kept[-1]) > 0.02:
            kept.append(p)
    if len(kept) < 2 or sum(abs(b - a) for a, b in pairwise(kept)) < 0.3:
        return None
    segments: list[Segment] = []
    start = 0
    for k in range(1, len(kept)):
        if k == len(kept) - 1 or _turn(kept[k - 1], kept[k], kept[k + 1]) > CORNER:
            segments += _fitted(kept[start : k + 1])
            start = k
    return Path(tuple(segments))


def _turn(a: Point, b: Point, c: Point) -> float:
    return abs(math.atan2(cross(b - a, c - b), dot(b - a, c - b)))


def _fitted(points: Sequence[Point]) -> list[Segment]:
    chosen = _chosen(points, 0, len(points) - 1)
    if len(chosen) == 2:
        return [Straight(points[0], points[-1])]
    ways = [_way(points, k) for k in chosen]
    found: list[Segment] = []
    for (j, way), (k, after) in pairwise(zip(chosen, ways, strict=True)):
        a, b = points[j], points[k]
        third = abs(b - a) / 3
        # As long as the curve's handles would be on a circle.
        bend = abs(math.atan2(cross(way, after), dot(way, after))) / 2
        third /= math.cos(min(bend, 1.2) / 2) ** 2
        found.append(Cubic(a, a + way * third, b - after * third, b))
    return found


def _way(points: Sequence[Point], k: int) -> complex:
    """The direction of a curve at one of its points, as of the circle through it and the next."""
    last = len(points) - 1
    if k in (0, last):
        step = 1 if k == 0 else -1
        a, b, c = points[k], points[k + step], points[k + 2 * step]
        u, v = unit(b - a), unit(c - a)
        return unit(u * u / v) * step
    u, v = unit(points[k] - points[k - 1]), unit(points[k + 1] - points[k])
    return unit(u * abs(points[k + 1] - points[k]) + v * abs(points[k] - points[k - 1]))


def _chosen(points: Sequence[Point], first: int, last: int) -> list[int]:
    """Numbers of the points that say enough (after Douglas and Peucker)."""
    a, b = points[first], points[last]
    long = abs(b - a)
    far, at = 0.0, first
    for k in range(first + 1, last):
        p = points[k] - a
        away = abs(cross(b - a, p)) / long if long > 1e-9 else abs(p)
        if away > far:
            far, at = away, k
    if far < STRAY:
        return [first, last]
    return [*_chosen(points, first, at)[:-1], *_chosen(points, at, last)]
