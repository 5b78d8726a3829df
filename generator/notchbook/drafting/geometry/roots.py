"""Where a cubic polynomial in Bernstein form, as one coordinate of a Bézier is, changes sign."""

from __future__ import annotations

import math
from itertools import pairwise


def roots(a: float, b: float, c: float, d: float) -> list[float]:
    """The shares in 0…1 at which the cubic Bernstein polynomial a, b, c, d changes sign, to 1e-9.

    Between the turning points of the polynomial (a quadratic's roots) it only rises or only falls,
    so bisection finds each root there.
    """

    def value(t: float) -> float:
        s = 1 - t
        return s * s * s * a + 3 * s * s * t * b + 3 * s * t * t * c + t * t * t * d

    # Derivative ÷ 3 = p t² + 2 q t + r.
    p, q, r = d - 3 * c + 3 * b - a, c - 2 * b + a, b - a
    bends: list[float] = []
    if abs(p) > 1e-12:
        under = q * q - p * r
        if under > 0:
            bends = sorted([(-q - math.sqrt(under)) / p, (-q + math.sqrt(under)) / p])
    elif q:
        bends = [-r / (2 * q)]
    stops = [0.0, *(t for t in bends if 0 < t < 1), 1.0]
    found: list[float] = []
    for low, high in pairwise(stops):
        before, after = value(low), value(high)
        if (before < 0) == (after < 0):
            continue
        while high - low > 1e-10:
            t = (low + high) / 2
            low, high = (t, high) if (value(t) < 0) == (before < 0) else (low, t)
        found.append((low + high) / 2)
    return found
