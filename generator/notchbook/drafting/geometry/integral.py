"""Integrals of smooth functions: Gauss's nodes, and a running integral."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable
from typing import TypeVar

# Gauss's rules on −1…1 (Abramowitz and Stegun, table 25.4): the weight of the middle, and node and
# weight of every pair of nodes beside it.
FIVE = (
    0.5688888888888889,
    (
        (0.5384693101056831, 0.4786286704993665),
        (0.9061798459386640, 0.2369268850561891),
    ),
)
SEVEN = (
    0.4179591836734694,
    (
        (0.4058451513773972, 0.3818300505051189),
        (0.7415311855993945, 0.2797053914892766),
        (0.9491079123427585, 0.1294849661688697),
    ),
)

_DEEPEST = 24

N = TypeVar("N", float, complex)


def running(
    f: Callable[[float], N], start: float, end: float, at_start: N, within: float
) -> Callable[[float], N]:
    """The integral of a smooth ``f`` from ``start`` to any parameter, ``at_start`` at the start.

    ``f`` is tabled as quartics, each through five of its values at equal steps (over the whole of
    one that is Boole's rule), so that what a value costs does not depend on ``f``. The range is
    halved until no quartic's last term and a quarter of the one before it add more than ``within``:
    what is left out is smaller by far (either alone may happen to vanish where ``f`` still bends).
    Beyond the ends the outermost quartics run on.
    """
    begins: list[float] = []
    table: list[tuple[float, N, N, N, N, N, N]] = []

    total: list[N] = [at_start]

    def lay(begin: float, step: float, values: tuple[N, N, N, N, N], depth: int) -> None:
        """Add the stretch of four steps from ``begin``, where ``f`` has five known values."""
        p, q, r, s, t = values
        # The quartic's coefficients by steps from the middle, each integrated.
        d = (2 * q - p - 2 * s + t) * step / 48
        e = (p - 4 * q + 6 * r - 4 * s + t) * step / 120
        if depth and 32 * abs(e) + 4 * abs(d) > within:
            half = step / 2
            first, second = f(begin + half), f(begin + 3 * half)
            third, fourth = f(begin + 5 * half), f(begin + 7 * half)
            lay(begin, half, (p, first, q, second, r), depth - 1)
            lay(begin + 2 * step, half, (r, third, s, fourth, t), depth - 1)
            return
        a = r * step
        b = (p - 8 * q + 8 * s - t) * step / 24
        c = (16 * q - p - 30 * r + 16 * s - t) * step / 72
        before = total[0] + 2 * (a + 4 * c + 16 * e)
        begins.append(begin)
        table.append((step, before - 4 * b - 16 * d, a, b, c, d, e))
        total[0] += 4 * (a + 4 * c + 16 * e)

    step = (end - start) / 32
    ends = [f(start + step * k) for k in range(33)]
    for k in range(0, 32, 4):
        p, q, r, s, t = ends[k : k + 5]
        lay(start + step * k, step, (p, q, r, s, t), _DEEPEST)

    def integral(t: float) -> N:
        k = max(bisect_right(begins, t) - 1, 0)
        step, o, a, b, c, d, e = table[k]
        x = (t - begins[k]) / step - 2
        return o + x * (a + x * (b + x * (c + x * (d + x * e))))

    return integral
