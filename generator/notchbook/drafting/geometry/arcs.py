"""Circular arcs about a centre, through three points, and as cubics where they are stretched."""

from __future__ import annotations

import cmath
import math
from itertools import pairwise

from notchbook.drafting.geometry.path import Path, circle
from notchbook.drafting.geometry.segments import Arc, Cubic
from notchbook.drafting.geometry.vector import Point, cross

FLATTEST = 100_000.0
"""The largest radius, mm, of an arc that is told from a straight line."""
WIDEST = math.pi / 8
"""The largest angle that is laid in one cubic: it misses by 7e-8 of the radius."""


def arc_through(a: Point, m: Point, b: Point) -> Arc | None:
    """The arc from a through m to b; none where they lie on one line, or nearly, or two are alike.

    With u = m − a and v = b − a its centre lies at a − i(|u|²v − |v|²u) ÷ 2(u × v).
    """
    u, v = m - a, b - a
    wedge = cross(u, v)
    if abs(u) * abs(v) * abs(v - u) >= 2 * FLATTEST * abs(wedge):
        return None
    centre = a - 1j * (abs(u) ** 2 * v - abs(v) ** 2 * u) / (2 * wedge)
    turn = cmath.phase((b - centre) / (a - centre))
    sweep = turn % math.tau if wedge > 0 else -(-turn % math.tau)
    return Arc(centre, abs(a - centre), cmath.phase(a - centre), sweep)


def arc_path(radius: float, begin: float, sweep: float) -> Path:
    """About the origin, in two halves where one would be more than half a circle."""
    if abs(sweep) <= math.pi:
        return Path((Arc(0, radius, begin, sweep),))
    return circle(0, radius, begin, sweep)


def as_cubics(arc: Arc) -> list[Cubic]:
    """The arc in cubics of equal angles, each with the handles 4/3 tan(φ/4) along its tangents."""
    count = math.ceil(abs(arc.sweep) / WIDEST - 1e-9)
    step = arc.sweep / count
    handle = 4j / 3 * math.tan(step / 4)
    spokes = [cmath.rect(arc.radius, arc.begin + step * k) for k in range(count + 1)]
    c = arc.centre
    return [
        Cubic(c + p, c + p + handle * p, c + q - handle * q, c + q) for p, q in pairwise(spokes)
    ]
