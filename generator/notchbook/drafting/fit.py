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

A cap of several pieces is one run of lines, each piece standing on the one below. A disc sewn to
the top closes it level. One that is fuller than what it closes, gathered or pleated into it, does
not: from the edge of radius r it reaches over the head to the middle, as far as its own radius ρ.
Drawn tight, that way is a tangent of the ellipse and the rest of the curve up to the crown. The
ellipse is a circle of radius 1 drawn out by R and H, and tangents stay tangents: from (u, v) = (r ÷
R, y ÷ H), the edge's place at rest, the tangent touches at the angle t = atan(u ÷ v) − acos(1 ÷
√(u² + v²)) off the axis. So soft a cap stops where that way is ρ, or where its edge does.

What it can't know: hair, how soft the cloth is, and heads that are high or flat for their girth,
which differ by some 10 mm either way.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from notchbook.drafting.geometry.integral import running
from notchbook.drafting.limits import mm
from notchbook.drafting.shape import Refusal, Section

CROWN = 0.18
"""The height of a head above the line where it is measured, as a share of its girth there."""

SMALLEST, LARGEST = 100.0, 3000.0
"""Girths that may be meant for a head's or a body's, mm."""

FULL = 1.02
"""An edge so many times as long as what it is sewn to is gathered or pleated, and not eased."""

Inside = Sequence[Section]

_UPWARDS = "Name the pieces from the head line upwards, as they are sewn to each other."


def stacked(pieces: Sequence[tuple[str, Inside]]) -> Inside:
    """The inside of several pieces, named and from the lowest up, as that of one. Where they lean,
    they lean one way. Raises Refusal where one does not fit on the one below."""
    found: list[Section] = []
    below = ""
    for name, inside in pieces:
        top = found[-1] if found else inside[0]
        if top.girth < 1:
            what = f"Nothing can stand on piece “{below}”, which is closed at its top."
            raise Refusal(what, _UPWARDS, name)
        ratio = inside[0].girth / top.girth
        if ratio < 1 / FULL or (ratio > FULL and not _closes(inside)):
            what = (
                f"Piece “{below}” is {mm(top.girth)} round at its top and piece “{name}” "
                f"{mm(inside[0].girth)} at its lower edge, so that they don't meet."
            )
            raise Refusal(what, _UPWARDS, name)
        found += [
            Section(each.height + top.height, each.girth, each.aside + top.aside) for each in inside
        ]
        below = name
    return found


def rides_up(inside: Inside, girth: float, crown: float | None = None) -> float:
    """How far above the measured line the lower edge comes to rest, mm. ``girth`` is the head's,
    mm, and ``crown`` its height above the line where that is known."""
    return _rest(inside, girth, CROWN * girth if crown is None else crown)


def stands_off(inside: Inside, girth: float, crown: float | None = None) -> float:
    """The room left above the crown of the head once the piece rests, mm: none where its top is
    gathered or pleated, which lies on the head."""
    high = CROWN * girth if crown is None else crown
    return max(_line(inside)[-1][1] + _rest(inside, girth, high) - high, 0.0)


def _rest(inside: Inside, girth: float, high: float) -> float:
    """Where it first touches, as the height of its lower edge above the measured line, mm; nought
    if it would go further down."""
    wide = girth / math.tau
    line = _line(inside)
    soft = len(inside) > 2 and _closes(inside[-2:]) and inside[-2].girth > FULL * inside[-3].girth
    if soft:
        del line[-2:]
    found = [high * math.sqrt(1 - (r / wide) ** 2) - z for r, z in line if r < wide]
    for (r0, z0), (r1, z1) in pairwise(line):
        if z1 <= z0 or r1 >= r0:
            continue  # Level, or wider further up: its ends touch first.
        m = (r0 - r1) / (z1 - z0)
        reach = math.hypot(wide, m * high)
        d = (reach - r0) / m - z0
        if z0 <= m * high * high / reach - d <= z1:
            found.append(d)
    least = max([0.0, *found])
    return _drawn_over(line[-1], inside[-2].girth / math.tau, wide, high, least) if soft else least


def _closes(inside: Inside) -> bool:
    """Whether it is a disc, or the end of a run that is one."""
    return inside[0].height == inside[-1].height and not inside[-1].girth


def _drawn_over(
    edge: tuple[float, float], reach: float, wide: float, high: float, least: float
) -> float:
    """How high a cap rests, ``least`` or more, whose top reaches so far from its edge, which is at
    a radius and a height, over an ellipse with these half axes, mm."""
    r, z = edge
    curve = running(
        lambda t: math.hypot(wide * math.cos(t), high * math.sin(t)), 0.0, math.pi / 2, 0.0, 1e-6
    )

    def way(y: float) -> float:
        if y >= high:
            return r
        u, v = r / wide, y / high
        t = math.atan2(u, v) - math.acos(1 / max(math.hypot(u, v), 1.0))
        return math.hypot(r - wide * math.sin(t), y - high * math.cos(t)) + curve(t)

    if way(z + least) <= reach:
        return least
    low, up = least, high - z
    for _ in range(40):
        middle = (low + up) / 2
        low, up = (low, middle) if way(z + middle) <= reach else (middle, up)
    return up


def _line(inside: Inside) -> list[tuple[float, float]]:
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
