"""Cubic Béziers laid along a curve: through points, or along a parametric curve within a bound."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import pairwise

from notchbook.drafting.geometry.path import Path
from notchbook.drafting.geometry.segments import Cubic, Line
from notchbook.drafting.geometry.vector import TOUCH, Point, cross, dot, unit

End = tuple[Point, complex]
"""Where a piece of a curve begins or ends: the point and the derivative there."""

Curve = Callable[[float], End]
"""A parametric curve: the point at a parameter, and the derivative by the parameter."""

_DEEPEST = 16
_NARROW = 1e-3


def fit(at: Curve, t0: float, t1: float, tolerance: float = 0.01, pieces: int = 4) -> Path:
    """The curve ``at`` from parameter ``t0`` to ``t1`` as cubics within ``tolerance`` mm.

    ``pieces`` is how many to begin with (a closed curve needs three at least); one that misses the
    curve is halved. See ``laid`` for what a piece is. ValueError where the curve jumps, or has a
    corner that can't be followed.
    """
    ts = [t0 + (t1 - t0) * k / pieces for k in range(pieces + 1)]
    found: list[Cubic] = []
    for (t, start), (u, end) in pairwise([(t, at(t)) for t in ts]):
        _halve(at, t, u, start, end, tolerance, _DEEPEST, found)
    return Path(tuple(found))


def _halve(
    at: Curve,
    t0: float,
    t1: float,
    start: End,
    end: End,
    tolerance: float,
    depth: int,
    found: list[Cubic],
) -> None:
    t = (t0 + t1) / 2
    middle = at(t)
    piece = laid(start, end, middle[0], t1 - t0)
    q, leave, arrive, r = piece.start, piece.leave, piece.arrive, piece.end
    # The miss is at its largest a little beside the quarters, up to a quarter more than there.
    within = 0.8 * tolerance
    if (
        abs((q + r + 3 * (leave + arrive)) / 8 - middle[0]) <= within
        and _near((27 * (q + leave) + 9 * arrive + r) / 64, at, (t0 + t) / 2, t1 - t0, within)
        and _near((q + 9 * leave + 27 * (arrive + r)) / 64, at, (t + t1) / 2, t1 - t0, within)
    ):
        found.append(piece)
        return
    if depth == 0:
        raise ValueError("The curve has a corner or a cusp, which no smooth curve can follow.")
    _halve(at, t0, t, start, middle, tolerance, depth - 1, found)
    _halve(at, t, t1, middle, end, tolerance, depth - 1, found)


def _near(point: Point, at: Curve, t: float, step: float, within: float) -> bool:
    """Whether ``point`` lies on the curve near parameter ``t``. The piece and the curve may keep
    slightly different time, so a point that misses is measured again, square to the curve, from
    where the curve passes it."""
    here, along = at(t)
    gap = point - here
    if abs(gap) <= within:
        return True
    late = dot(gap, along) / max(dot(along, along), TOUCH * TOUCH)
    if abs(late) > abs(step) / 20:
        return False
    here, along = at(t + late)
    return abs(cross(point - here, along)) <= within * abs(along)


def laid(start: End, end: End, middle: Point, step: float) -> Cubic:
    """The cubic that leaves and arrives along the curve and passes through its ``middle`` halfway.

    With ends q and r, tangents q′ and r′ and handles a·q′ and −b·r′, halfway lies at
    ``(q + r) / 2 + 3/8 (a q′ − b r′)``, which is solved for a and b. The miss grows as the sixth
    power of a piece's length (an eighth of an oval of 200 mm misses by 0.0005 mm), against the
    fourth for the usual a = b = ``step`` ÷ 3, to which it falls back where the curve is too
    straight, or bends both ways, for the equation to say anything.
    """
    (q, dq), (r, dr) = start, end
    third = step / 3
    wedge = cross(dq, dr)
    if abs(wedge) > _NARROW * abs(dq) * abs(dr):
        reach = (8 * middle - 4 * (q + r)) / 3
        a, b = cross(reach, dr) / wedge, cross(reach, dq) / wedge
        if 0.5 < a / third < 2 and 0.5 < b / third < 2:
            return Cubic(q, q + dq * a, r - dr * b, r)
    return Cubic(q, q + dq * third, r - dr * third, r)


def through(
    points: Sequence[Point],
    closed: bool = False,
    start_tangent: complex | None = None,
    end_tangent: complex | None = None,
) -> Path:
    """A smooth curve through ``points``: the cubic spline over the chords' lengths, which turns
    evenly (direction and curvature run on through every point).

    Ends without a tangent are left free (no curvature there, as a bent ruler lies); a tangent given
    is a direction of travel. A ``closed`` curve returns to the first point, which is not repeated
    in ``points``. Two points and no tangents give a straight line.

    The derivatives m at the points solve, for chords of length h and slopes s = Δp ÷ h,
    ``h[i]·m[i−1] + 2·(h[i−1] + h[i])·m[i] + h[i−1]·m[i+1] = 3·(h[i]·s[i−1] + h[i−1]·s[i])``,
    which says that the second derivative does not jump (de Boor, *A Practical Guide to Splines*,
    chapter IV); a free end has ``2·m[0] + m[1] = 3·s[0]``.

    ValueError for too few points, or for two alike in a row.
    """
    if len(points) < (3 if closed else 2):
        raise ValueError(
            "A closed curve needs three points at least."
            if closed
            else "A curve needs two points at least."
        )
    ring = [*points, points[0]] if closed else list(points)
    chords = [abs(b - a) for a, b in pairwise(ring)]
    if min(chords) < TOUCH:
        at = next(i for i, chord in enumerate(chords) if chord < TOUCH)
        raise ValueError(f"Points {at + 1} and {at + 2} of the curve are the same point.")
    if len(points) == 2 and start_tangent is None and end_tangent is None:
        return Path((Line(points[0], points[1]),))
    slopes = [(b - a) / h for (a, b), h in zip(pairwise(ring), chords, strict=True)]
    if closed:
        slants = _closed_slants(chords, slopes)
    else:
        slants = _open_slants(chords, slopes, start_tangent, end_tangent)
    return Path(
        tuple(
            Cubic(a, a + m * h / 3, b - n * h / 3, b)
            for (a, b), (m, n), h in zip(pairwise(ring), pairwise(slants), chords, strict=True)
        )
    )


def _open_slants(
    h: list[float], s: list[complex], start: complex | None, end: complex | None
) -> list[complex]:
    below, middle, above, right = [0.0], [1.0], [0.0], [0j]
    if start is None:
        middle[0], above[0], right[0] = 2.0, 1.0, 3 * s[0]
    else:
        right[0] = unit(start)
    for i in range(1, len(h)):
        below.append(h[i])
        middle.append(2 * (h[i - 1] + h[i]))
        above.append(h[i - 1])
        right.append(3 * (h[i] * s[i - 1] + h[i - 1] * s[i]))
    free = end is None
    below.append(1.0 if free else 0.0)
    middle.append(2.0 if free else 1.0)
    above.append(0.0)
    right.append(3 * s[-1] if end is None else unit(end))
    return _tridiagonal(below, middle, above, right)


def _closed_slants(h: list[float], s: list[complex]) -> list[complex]:
    count = len(h)
    below = [h[i] for i in range(count)]
    middle = [2 * (h[i - 1] + h[i]) for i in range(count)]
    above = [h[i - 1] for i in range(count)]
    right = [3 * (h[i] * s[i - 1] + h[i - 1] * s[i]) for i in range(count)]
    # The corners of the cyclic system (below[0], above[-1]) are taken out as the product of two
    # vectors and put back afterwards (Sherman and Morrison).
    gamma = -middle[0]
    middle[0] -= gamma
    middle[-1] -= below[0] * above[-1] / gamma
    spike = [0j] * count
    spike[0], spike[-1] = complex(gamma), complex(above[-1])
    x = _tridiagonal(below, middle, above, right)
    z = _tridiagonal(below, middle, above, spike)
    share = below[0] / gamma
    factor = (x[0] + share * x[-1]) / (1 + z[0] + share * z[-1])
    slants = [a - factor * b for a, b in zip(x, z, strict=True)]
    return [*slants, slants[0]]


def _tridiagonal(
    below: list[float], middle: list[float], above: list[float], right: list[complex]
) -> list[complex]:
    """A tridiagonal system solved by elimination (``below[0]`` and ``above[-1]`` do not count)."""
    slope, value = [above[0] / middle[0]], [right[0] / middle[0]]
    for i in range(1, len(right)):
        pivot = middle[i] - below[i] * slope[-1]
        slope.append(above[i] / pivot)
        value.append((right[i] - below[i] * value[-1]) / pivot)
    for i in range(len(right) - 2, -1, -1):
        value[i] -= slope[i] * value[i + 1]
    return value
