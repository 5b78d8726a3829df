"""Cone: a sector of a disc sewn into a cone, whole, kept short, or cut off at a given top.

Unrolled, every point of a right cone of slant s lies s from the apex, so the rim becomes an arc of
radius s. Its length is the rim's, so the sector's angle is rim ÷ s: half a disc when s = rim ÷ π.
With base radius r = rim ÷ 2π and height h, s² = r² + h² (Longfield, *Sheet Metal Drafting*, 1921,
chapter V). A cone cut off parallel to its rim keeps the angle: its top edge is an arc about the
same apex.

The apex is the origin, up the page; centre front runs straight down from it and so does the grain,
so that both seam edges are equally bias. The right side of the cloth is seen.

Edges, clockwise: ``right`` (down to the rim), ``rim`` (from the right seam edge to the left),
``left`` (up again) and, where the cone does not reach its apex, ``top`` (from left to right).
``left`` and ``right`` meet in the cone's own seam at centre back; ``rim`` and ``top`` become level
circles that start there.

Parameters, lengths from 1 mm to 20 m:

- ``rim``, the girth of the lower edge;
- ``height``, upright, or ``slant``, along the cloth: one of the two;
- ``keep``: only so much of the slant is made, measured from the rim upwards along the cloth. The
  height or slant stays that of the whole cone.
- ``top``: the girth of the top edge, smaller than the rim. The height or slant is then that of the
  finished piece, from rim to top. Not together with ``keep``.

Volumes, with r and q the radii of rim and top: πh(r² + rq + q²) ÷ 3.

By hand: centre front straight down from the apex, and an arc about the apex from there to either
side, half the rim long each, measured along the curve.
"""

from __future__ import annotations

import cmath
import math

from notchbook.drafting.geometry.path import Arc, Path, circle, polyline
from notchbook.drafting.limits import LEAST, check_lengths, check_one, mm
from notchbook.drafting.moves import Dot, Move, Rule, Swing
from notchbook.drafting.shape import Edge, Flat, Form, Length, Level, Refusal, Shape, Straight

WIDEST = math.radians(350)
"""The widest sector. A flatter cone leaves no room on the cloth to sew its seam."""

SLIGHTEST = 1 / 200
"""The least share of the rim by which a given top is smaller. Below it, it is a tube."""


def draft(
    *,
    rim: Length,
    height: Length | None = None,
    slant: Length | None = None,
    keep: Length | None = None,
    top: Length | None = None,
) -> Shape:
    """A sector about the origin."""
    check_one(height=height, slant=slant)
    check_lengths(rim=rim, height=height, slant=slant, keep=keep, top=top)
    if keep is not None and top is not None:
        raise Refusal(
            "Both “keep” and “top” are given, and either says where it ends.",
            "Give “keep” or “top”, not both.",
            "keep",
        )
    if top is not None and top > rim * (1 - SLIGHTEST):
        raise Refusal(
            f"Its top of {mm(top)} is not smaller than its rim of {mm(rim)}.",
            "Make the top smaller, turn the piece over, or draft a tube.",
            "top",
        )
    reach = (rim - (top or 0)) / math.tau
    if slant is None:
        assert height is not None
        slant = math.hypot(height, reach)
    if slant * WIDEST < reach * math.tau:
        raise Refusal(
            f"Its rim of {mm(rim)} outruns its slant of {mm(slant)}: laid flat, it would take "
            f"{math.degrees(reach * math.tau / slant):.0f}° of a disc, and beyond "
            f"{math.degrees(WIDEST):.0f}° there is no room for a seam.",
            f"Make it taller, with a slant of {mm(math.ceil(reach * math.tau / WIDEST))} or more, "
            "or its rim shorter; a flat piece is a disc or a ring.",
            "rim",
        )
    # From here on, everything is measured from the apex.
    if top is not None:
        far, near = slant * rim / (rim - top), slant * top / (rim - top)
    else:
        far, near = slant, _left_above(keep, slant, rim)
    return _sector(far, near, rim / far)


def _left_above(keep: float | None, slant: float, rim: float) -> float:
    """From the apex to where the piece ends, mm along the cloth: 0 for a whole cone."""
    if keep is None:
        return 0.0
    if (slant - keep) * rim < LEAST * slant:
        raise Refusal(
            f"It should be kept {mm(keep)} long, but its whole slant is {mm(slant)}.",
            "Keep less of it, or leave “keep” out to make the whole cone.",
            "keep",
        )
    return slant - keep


def _sector(far: float, near: float, angle: float) -> Shape:
    """The part of a sector between two distances from its apex."""
    first, last = (math.pi - angle) / 2, (math.pi + angle) / 2
    right, left = cmath.rect(1, first), cmath.rect(1, last)
    edges = [
        Edge("right", polyline(near * right, far * right)),
        Edge("rim", _arc(far, first, angle), round=True),
        Edge("left", polyline(far * left, near * left)),
    ]
    if near:
        edges.append(Edge("top", _arc(near, last, -angle), round=True))
    length = far - near
    grain = ((near + 0.2 * length) * 1j, (near + 0.8 * length) * 1j)
    return Shape(
        Flat((tuple(edges),), grain), _form(far, near, angle), _moves(far, near, right, left)
    )


def _arc(radius: float, begin: float, sweep: float) -> Path:
    """About the origin, in two halves where one would be more than half a circle."""
    if abs(sweep) <= math.pi:
        return Path((Arc(0, radius, begin, sweep),))
    return circle(0, radius, begin, sweep)


def _form(far: float, near: float, angle: float) -> Form:
    low, high = far * angle / math.tau, near * angle / math.tau
    height = math.sqrt((far - near) ** 2 - (low - high) ** 2)
    back = -math.pi / 2
    foot, head = (0.0, -low, 0.0), (0.0, -high, height)
    edges: dict[str, Level | Straight] = {
        "right": Straight(head, foot),
        "rim": Level(circle(0, low, back, -math.tau), 0.0),
        "left": Straight(foot, head),
    }
    if near:
        edges["top"] = Level(circle(0, high, back), height)
    volume = math.pi / 3 * height * (low * low + low * high + high * high)
    return Form(edges, volume, seam=("left", "right"))


def _moves(far: float, near: float, right: complex, left: complex) -> tuple[Move, ...]:
    half = cmath.phase(left / right) % math.tau / 2
    length = far - near
    moves: list[Move] = [
        Dot("A", 0),
        Dot("B", far * 1j, "A", down=far),
        Swing("A", 0, far, far * 1j, half, far * half, "C", "rim"),
        Swing("A", 0, far, far * 1j, -half, far * half, "D", "rim"),
    ]
    tip = ("A", "A")
    if near:
        moves += [
            Dot("E", near * 1j, "A", down=near),
            Swing("A", 0, near, near * 1j, half, near * half, "F", "top"),
            Swing("A", 0, near, near * 1j, -half, near * half, "G", "top"),
        ]
        tip = ("F", "G")
    return (*moves, Rule(tip[0], "C", length, "left"), Rule(tip[1], "D", length, "right"))
