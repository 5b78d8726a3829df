"""Fit: how far a cap, a crown or a point comes down over a head, and how much room stands above.

A tape says nothing of a head but its girth G. So the head above the line where it was measured is
taken for half an ellipsoid: its level cuts are ovals of one ratio, of girth G √(1 − (y ÷ H)²) at
the height y. H = 0.18 G is how far the crown of the head lies above the line: 103 mm on 57 cm (from
memory of how deep milliners make a close crown, and rounded). Below the line it grows no wider.

Cloth takes the shape of what it is drawn over, so that girths are compared and not outlines: at
every height the piece has to measure as much round as the head there. By r = girth ÷ 2π the head
is the ellipse (r ÷ R)² + (y ÷ H)² = 1 with R = G ÷ 2π, and the inside of the piece a run of
straight lines from its lower edge up. Where its middle lies aside by c, as a leaning cone's does,
only r − c is of use. Its top counts as closed level, as for its volume. Pushed down from above, its
lower edge d above the line, a piece stops where it first touches:

- a corner, r < R at the height z in the piece, at d = H √(1 − (r ÷ R)²) − z;
- a line r = a − m z, where r + m y = a + m d is a tangent of the ellipse: a + m d = √(R² + m²H²),
  touching at y = m H² ÷ √(R² + m²H²), if that lies on it.

The largest of these is how far it rides up, and nought if all lie below the line. For a cone of
height h on r₀ that is √((h R ÷ r₀)² + H²) − h; on a sphere, with r₀ = R = H and slant s, it is
s − √(s² − R²).

What it can't know: hair, how soft the cloth is, and heads that are high or flat for their girth,
which differ by some 10 mm either way.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from notchbook.drafting.shape import Section

CROWN = 0.18
"""The height of a head above the line where it is measured, as a share of its girth there."""

SMALLEST, LARGEST = 100.0, 3000.0
"""Girths that may be meant for a head's or a body's, mm."""


def rides_up(inside: Sequence[Section], girth: float, crown: float | None = None) -> float:
    """How far above the measured line the lower edge comes to rest, mm. ``girth`` is the head's,
    mm, and ``crown`` its height above the line where that is known."""
    return max(_rest(inside, girth, CROWN * girth if crown is None else crown), 0.0)


def stands_off(inside: Sequence[Section], girth: float, crown: float | None = None) -> float:
    """The room left above the crown of the head once the piece rests, mm."""
    high = CROWN * girth if crown is None else crown
    line = _line(inside)
    return max(line[-1][1] + max(_rest(inside, girth, high), 0.0) - high, 0.0)


def _rest(inside: Sequence[Section], girth: float, high: float) -> float:
    """Where it first touches, as the height of its lower edge above the measured line, mm; negative
    if it would go further down."""
    wide = girth / math.tau
    line = _line(inside)
    found = [high * math.sqrt(1 - (r / wide) ** 2) - z for r, z in line if r < wide]
    for (r0, z0), (r1, z1) in pairwise(line):
        if z1 <= z0 or r1 >= r0:
            continue  # Level, or wider further up: its ends touch first.
        m = (r0 - r1) / (z1 - z0)
        reach = math.hypot(wide, m * high)
        d = (reach - r0) / m - z0
        if z0 <= m * high * high / reach - d <= z1:
            found.append(d)
    return max(found)


def _line(inside: Sequence[Section]) -> list[tuple[float, float]]:
    """The inside from its lower edge up, as radius and height, mm, to where it meets the axis."""
    line = [(section.girth / math.tau - section.aside, section.height) for section in inside]
    found = [line[0]]
    for (r0, z0), (r1, z1) in pairwise(line):
        if r1 < 0:
            share = r0 / (r0 - r1)
            found.append((0.0, z0 + (z1 - z0) * share))
            return found
        found.append((r1, z1))
    if found[-1][0] > 0:
        found.append((0.0, found[-1][1]))
    return found
