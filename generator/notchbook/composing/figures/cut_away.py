"""An upper cloth without its far end, so that the lower one is seen."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from notchbook.composing.figures.track import Points
from notchbook.drafting.geometry.polygon import box_round
from notchbook.drafting.geometry.vector import Point, dot


def cut_away(
    outlines: Sequence[Points], share: float
) -> tuple[tuple[Points, ...], tuple[Points, ...]]:
    """What is left of a cloth without its far end, right or below: its loops cut off, and its edges
    with the lines along which it is cut."""
    box = box_round(outlines[0])
    way = 1 + 0j if box.width >= box.height else 1j
    far = max(dot(p, way) for p in outlines[0])
    near = min(dot(p, way) for p in outlines[0])
    limit = near + (far - near) * share
    loops: list[Points] = []
    edges: list[Points] = []
    crossings: list[Point] = []
    for loop in outlines:
        closed = (*loop, loop[0])
        kept: list[Point] = []
        run: list[Point] = []
        for a, b in pairwise(closed):
            inside_a, inside_b = dot(a, way) <= limit, dot(b, way) <= limit
            if inside_a:
                kept.append(a)
                run.append(a)
            if inside_a != inside_b:
                part = (limit - dot(a, way)) / (dot(b, way) - dot(a, way))
                at = a + (b - a) * part
                kept.append(at)
                run.append(at)
                crossings.append(at)
                if inside_a:
                    edges.append(tuple(run))
                    run = []
        if run and edges and abs(edges[0][0] - loop[0]) < 1e-9 and crossings:
            edges[0] = (*run, *edges[0])
        elif run:
            edges.append((*run, closed[-1]))
        if len(kept) > 2:
            loops.append(tuple(kept))
    across = way * 1j
    crossings.sort(key=lambda p: dot(p, across))
    for a, b in zip(crossings[::2], crossings[1::2], strict=False):
        steps = max(round(abs(b - a) / 1.6) * 2, 2)
        edges.append(tuple(
            a + (b - a) * k / steps + way * 0.5 * (k % 2) * (1 if k % 4 == 1 else -1)
            for k in range(steps + 1)
        ))  # fmt: skip
    return tuple(loops), tuple(edges)
