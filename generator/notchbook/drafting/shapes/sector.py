"""Sector: part of a flat ring, for capes, circle skirts and collars.

A whole circle is cut so that its inner edge has the girth of the opening; with only a share of a
circle the same girth needs a larger radius. The opening is an arc of radius opening ÷ (2π × share),
common practice: girth ÷ 6.28 for a full circle, ÷ 4.71 for three quarters, ÷ 3.14 for a half. The
hem is an arc about the same centre, ``length`` further out, and longer by 2π × share × length.

Hung by its opening, a share below 1 lies in a cone, of which it is the development: a point σ from
the centre comes to lie σ × share from the axis, so that the cone is √(1 − share²) times as high as
the cloth is long. A full circle lies flat on the table, and more than one ripples.

The centre is the origin, up the page. The middle of the piece runs straight down from it and so
does the grain, so that both straight edges lie alike on the bias; it is centre back of a cape,
whose straight edges are its two fronts. Turned round, they are the back seam of a skirt. The right
side of the cloth is seen.

Parameters:

- ``opening``, the girth of the whole opening, from 1 mm to 20 m;
- ``length``, down the cloth, from 1 mm to 20 m;
- ``share`` of a full circle that all parts make together: 1, 3/4, 1/2 …, from 1/50 to 4;
- ``parts``, of how many equal pieces (1 to 24) it is made; this is one of them, with its share of
  the opening. One piece may take 350° at most: the two straight edges of a full circle fall on one
  line, and their allowances on the cloth beyond. Cut it in two parts, or cut a ring and slit it.

Edges, clockwise: ``right`` (from the opening down to the hem), ``hem`` (from right to left),
``left`` (up again) and ``opening`` (from left to right). None is round by itself, since a cape
stays open; a seam with a band that is, closes them. Of several parts the left edge of one meets
the right edge of the next, and hem and opening go into a seam once for each.

In space a piece alone goes once round its cone; one of several lies in the middle of the back. Its
volume is its share of what the cone encloses. More than a full circle has no form.

By hand: straight down from the centre, and two arcs about it to either side, measured along the
curve.

Example::

    capelet:
      title: Capelet
      shape: sector
      opening: 42 cm
      length: 35 cm
      share: 3/4
      cut: {shell: 1}
"""

from __future__ import annotations

import cmath
import math

from notchbook.drafting.geometry.arcs import arc_path
from notchbook.drafting.geometry.path import polyline
from notchbook.drafting.limits import MOST, check_lengths, check_ratio, mm, plain
from notchbook.drafting.moves import Dot, Move, Rule, Swing
from notchbook.drafting.shape import (
    Curve,
    Edge,
    Flat,
    Form,
    Length,
    Ratio,
    Refusal,
    Shape,
    Straight,
)

WIDEST = math.radians(350)
"""The widest piece. A wider one leaves no room on the cloth for the allowances of its ends."""
MOST_PARTS = 24
FINE = 0.005
"""How far straight lines between the points of an edge in space may miss it, mm."""


def draft(*, opening: Length, length: Length, share: Ratio, parts: int = 1) -> Shape:
    """One part, about the origin."""
    check_lengths(opening=opening, length=length)
    check_ratio("share", share, 1 / 50, 4)
    if not 1 <= parts <= MOST_PARTS:
        raise Refusal(
            f"It can't be made of {plain(parts)} parts.",
            f"Make it of 1 part or more, and {MOST_PARTS} at most.",
            "parts",
        )
    angle = math.tau * share / parts
    if angle > WIDEST:
        raise Refusal(
            f"Laid flat, it would take {plain(math.degrees(angle))}° of a circle, and beyond "
            f"{math.degrees(WIDEST):.0f}° there is no room for the allowances of its two ends.",
            f"Cut it in parts, “parts: {math.ceil(math.tau * share / WIDEST)}”"
            + (", or cut a ring and slit it." if abs(share - 1) < 0.03 else "."),
            "share",
        )
    near = opening / (math.tau * share)
    far = near + length
    if far > MOST:
        raise Refusal(
            f"Its hem is an arc with a radius of {mm(far)}.",
            "Take a larger share of a circle, or draft a strip.",
            "share",
        )
    return _sector(near, far, angle, share)


def _sector(near: float, far: float, angle: float, share: float) -> Shape:
    first, last = (math.pi - angle) / 2, (math.pi + angle) / 2
    right, left = cmath.rect(1, first), cmath.rect(1, last)
    edges = (
        Edge("right", polyline(near * right, far * right)),
        Edge("hem", arc_path(far, first, angle)),
        Edge("left", polyline(far * left, near * left)),
        Edge("opening", arc_path(near, last, -angle)),
    )
    long = far - near
    grain = (near + 0.15 * long) * 1j, (near + 0.85 * long) * 1j
    form = _form(near, far, angle, share) if share <= 1 else None
    return Shape(Flat((edges,), grain), form, _moves(near, far, angle))


def _form(near: float, far: float, angle: float, share: float) -> Form:
    """On the cone, an angle on the cloth is 1 ÷ share times as large about the axis."""
    round_ = angle / share
    height = (far - near) * math.sqrt(max(1 - share * share, 0.0))

    def level(slant: float, high: float) -> tuple[tuple[float, float, float], ...]:
        """From the right edge round by the left of the back to the left edge."""
        radius = slant * share
        widest = 2 * math.acos(max(1 - FINE / radius, 0.0))
        count = math.ceil(round_ / min(widest, 0.5))
        turns = (round_ * (k / count - 0.5) for k in range(count + 1))
        return tuple((-radius * math.sin(t), -radius * math.cos(t), high) for t in turns)

    hem, opening = level(far, 0.0), level(near, height)
    low, high = far * share, near * share
    volume = height / 3 * (low * low + low * high + high * high) * round_ / 2
    return Form(
        {
            "right": Straight(opening[0], hem[0]),
            "hem": Curve(hem),
            "left": Straight(hem[-1], opening[-1]),
            "opening": Curve(opening[::-1]),
        },
        volume,
    )


def _moves(near: float, far: float, angle: float) -> tuple[Move, ...]:
    half, long = angle / 2, far - near
    return (
        Dot("A", 0),
        Dot("B", near * 1j, "A", down=near),
        Dot("C", far * 1j, "A", down=far),
        Swing("A", 0, near, near * 1j, half, near * half, "D", "opening"),
        Swing("A", 0, near, near * 1j, -half, near * half, "E", "opening"),
        Swing("A", 0, far, far * 1j, half, far * half, "F", "hem"),
        Swing("A", 0, far, far * 1j, -half, far * half, "G", "hem"),
        Rule("D", "F", long, "left"),
        Rule("E", "G", long, "right"),
    )
