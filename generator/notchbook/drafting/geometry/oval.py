"""Ovals: ellipses by girth and ratio, and their fit with cubics.

Nobody measures an oval by its axes: the tape gives the girth, the eye (or two rulers) the ratio of
length to breadth. The perimeter of an ellipse has no elementary form, but Gauss's arithmetic-
geometric mean gives it to full precision in four or five steps, and since it grows in proportion
to the axes, axes of a given girth follow without any search.
"""

from __future__ import annotations

import cmath
import math

from notchbook.drafting.geometry.path import Path
from notchbook.drafting.geometry.segments import Cubic
from notchbook.drafting.geometry.vector import Point

PIECES = 8
"""Cubics in a fitted ellipse. Each is the affine image of an eighth of a circle, whose best cubic
with true end tangents misses the circle by 4.2 millionths of its radius: 0.02 mm is passed only
beyond a half length of 4.7 m."""


def perimeter(half_length: float, half_breadth: float) -> float:
    """Perimeter of an ellipse, mm, from its half axes.

    With a₀, b₀ the half axes, aₙ₊₁ = (aₙ + bₙ)/2, bₙ₊₁ = √(aₙbₙ), cₙ₊₁ = (aₙ − bₙ)/2 and M their
    common limit, it is 2π/M · ((a₀² + b₀²)/2 − Σ 2ⁿ⁻¹ cₙ²), n ≥ 1 (Gauss; Abramowitz and Stegun,
    17.6.3 and 17.6.4).

    >>> round(perimeter(8.5 / 2, 6.5 / 2), 2)
    23.67
    """
    a, b = half_length, half_breadth
    square = (a * a + b * b) / 2
    weight = 1.0
    while abs(a - b) > 1e-9 * a:
        gap = (a - b) / 2
        a, b = (a + b) / 2, math.sqrt(a * b)
        square -= weight * gap * gap
        weight *= 2
    return 2 * math.tau / (a + b) * square


def axes(girth: float, ratio: float) -> tuple[float, float]:
    """Half length and half breadth, mm, of the ellipse of perimeter ``girth`` whose length is
    ``ratio`` times its breadth.

    >>> [round(2 * half, 1) for half in axes(576, 1.3)]
    [206.4, 158.8]
    """
    half_breadth = girth / perimeter(ratio, 1.0)
    return half_breadth * ratio, half_breadth


def oval(centre: Point, half_length: float, half_breadth: float, begin: float = 0.0) -> Path:
    """An ellipse, its length along y, clockwise from the end down the page, or from the eccentric
    angle ``begin`` past it (the angle on the circle that the ellipse is a stretched image of).

    The fit is scaled (by 2 millionths) so that it measures what the ellipse does.
    """
    step = math.tau / PIECES
    handle = 4 / 3 * math.tan(step / 4)
    on_circle = [cmath.rect(1.0, math.pi / 2 + begin + step * k) for k in range(PIECES + 1)]

    def piece(k: int, length: float, breadth: float) -> Cubic:
        start, end = on_circle[k], on_circle[k + 1]
        corners = (start, start + 1j * handle * start, end - 1j * handle * end, end)
        return Cubic(*(centre + complex(breadth * p.real, length * p.imag) for p in corners))

    # From an end on, every quarter mirrors the last; from elsewhere, only halves do.
    parts = 2 if begin else 4
    measured = sum(piece(k, half_length, half_breadth).length() for k in range(PIECES // parts))
    scale = perimeter(half_length, half_breadth) / (parts * measured)
    return Path(tuple(piece(k, half_length * scale, half_breadth * scale) for k in range(PIECES)))
