"""Polygons round a head: the plan of a thing made of flat sides, round or oval, of given girth."""

from __future__ import annotations

import math
from itertools import accumulate, pairwise

from notchbook.drafting.geometry.vector import Point

EVEN = 1e-12
"""How alike the sides of a polygon on an oval are made, as a share of a side."""


def polygon(count: int, ratio: float) -> list[Point]:
    """The ``count + 1`` corners (the last is the first) of a polygon with equal sides inscribed in
    an ellipse whose length, front to back, is ``ratio`` times its breadth; its girth is 2π, that of
    a circle of radius 1.

    In plan: x to the right, y to the front. It starts at centre back and goes round by the left.

    On a circle the corners stand evenly. On an ellipse they are moved until they do: each step
    measures the sides and sets the corners at even shares of the girth so far, along the angle by
    which the ellipse is drawn. It converges like a geometric series.
    """
    angles = [-math.pi / 2 - math.tau * k / count for k in range(count + 1)]
    corners = [complex(math.cos(t), ratio * math.sin(t)) for t in angles]
    for _ in range(200):
        sides = [abs(b - a) for a, b in pairwise(corners)]
        if max(sides) - min(sides) < EVEN * max(sides):
            break
        angles = _even(angles, sides)
        corners = [complex(math.cos(t), ratio * math.sin(t)) for t in angles]
    girth = math.fsum(abs(b - a) for a, b in pairwise(corners))
    return [corner * math.tau / girth for corner in corners]


def _even(angles: list[float], sides: list[float]) -> list[float]:
    """The angles at even shares of the sides' sum, drawn out straight between the old ones."""
    ends = [0.0, *accumulate(sides)]
    found, k = [angles[0]], 0
    for number in range(1, len(sides)):
        wanted = ends[-1] * number / len(sides)
        while ends[k + 1] < wanted:
            k += 1
        share = (wanted - ends[k]) / sides[k]
        found.append(angles[k] + (angles[k + 1] - angles[k]) * share)
    return [*found, angles[-1]]
