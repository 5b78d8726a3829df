"""Integrals of smooth functions by Gauss's rule: nodes, and a running integral."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable, Sequence
from typing import TypeVar

# Nodes and weights on −1…1 (Abramowitz and Stegun, table 25.4).
FIVE = (
    (-0.9061798459386640, 0.2369268850561891),
    (-0.5384693101056831, 0.4786286704993665),
    (0.0, 0.5688888888888889),
    (0.5384693101056831, 0.4786286704993665),
    (0.9061798459386640, 0.2369268850561891),
)
SEVEN = (
    (-0.9491079123427585, 0.1294849661688697),
    (-0.7415311855993945, 0.2797053914892766),
    (-0.4058451513773972, 0.3818300505051189),
    (0.0, 0.4179591836734694),
    (0.4058451513773972, 0.3818300505051189),
    (0.7415311855993945, 0.2797053914892766),
    (0.9491079123427585, 0.1294849661688697),
)

_DEEPEST = 24

N = TypeVar("N", float, complex)


def running(
    f: Callable[[float], N], start: float, end: float, within: float
) -> Callable[[float], N]:
    """The integral of a smooth ``f`` from ``start`` to any parameter up to ``end``.

    The range is halved until five nodes agree with seven to ``within`` on every stretch, whose
    sums are kept; seven miss by far less than that. Afterwards a value takes seven evaluations.
    """
    begins: list[float] = [start]
    sums: list[N] = [0 * f(start)]
    quarter = (end - start) / 8
    for k in range(8):
        _gather(f, start + k * quarter, start + (k + 1) * quarter, within, _DEEPEST, begins, sums)

    def integral(t: float) -> N:
        stretch = max(bisect_right(begins, t) - 1, 0)
        begin = begins[stretch]
        return sums[stretch] + _sum(f, begin, t, SEVEN)

    return integral


def tabled(
    f: Callable[[float], complex], start: float, end: float, at_start: complex, parts: int
) -> Callable[[float], complex]:
    """As ``running``, from the value ``at_start``, for an ``f`` so smooth that on each of equal
    ``parts`` it is the quartic through five of its values: what a value costs does not depend on
    ``f``. Over a whole part that is Boole's rule. Beyond the ends the outermost parts run on."""
    quarter = (end - start) / (4 * parts)
    values = [f(start + k * quarter) * quarter for k in range(4 * parts + 1)]
    table: list[tuple[complex, ...]] = []
    total = at_start
    for k in range(0, 4 * parts, 4):
        p, q, r, s, t = values[k : k + 5]
        # The quartic's coefficients by quarters from the middle, each integrated.
        a = r
        b = (p - 8 * q + 8 * s - t) / 24
        c = (-p + 16 * q - 30 * r + 16 * s - t) / 72
        d = (-p + 2 * q - 2 * s + t) / 48
        e = (p - 4 * q + 6 * r - 4 * s + t) / 120
        half = 2 * (a + 4 * c + 16 * e)
        table.append((total + half - 4 * b - 16 * d, a, b, c, d, e))
        total += 2 * half

    def integral(t: float) -> complex:
        share = (t - start) / (4 * quarter)
        k = min(max(int(share), 0), parts - 1)
        x = 4 * (share - k) - 2
        o, a, b, c, d, e = table[k]
        return o + x * (a + x * (b + x * (c + x * (d + x * e))))

    return integral


def _gather(
    f: Callable[[float], N],
    start: float,
    end: float,
    within: float,
    depth: int,
    begins: list[float],
    sums: list[N],
) -> None:
    fine = _sum(f, start, end, SEVEN)
    if depth and abs(fine - _sum(f, start, end, FIVE)) > within:
        middle = (start + end) / 2
        _gather(f, start, middle, within, depth - 1, begins, sums)
        _gather(f, middle, end, within, depth - 1, begins, sums)
        return
    begins.append(end)
    sums.append(sums[-1] + fine)


def _sum(
    f: Callable[[float], N], start: float, end: float, nodes: Sequence[tuple[float, float]]
) -> N:
    half, middle = (end - start) / 2, (end + start) / 2
    (node, weight), *others = nodes
    total = weight * f(middle + half * node)
    for node, weight in others:
        total += weight * f(middle + half * node)
    return half * total
