"""Cone: sewn from one piece, upright or leaning, on a round or oval rim; whole, kept short, or cut
off at a given top.

Unrolled, every point of a right cone of slant s lies s from the apex, so the rim becomes an arc of
radius s. Its length is the rim's, so the sector's angle is rim ÷ s: half a disc when s = rim ÷ π.
With base radius r = rim ÷ 2π and height h, s² = r² + h² (Longfield, *Sheet Metal Drafting*, 1921,
chapter V). A cone cut off parallel to its rim keeps the angle: its top edge is an arc about the
same apex.

On an oval rim, or with the apex off the middle, the slant differs from ruling to ruling and the rim
is no arc. It is developed as ``geometry/develop.py`` derives: every point of the rim keeps its
distance R from the apex, and the angle there grows as |B′ × u| ÷ R². The curve is fitted to
0.005 mm. Cut off level, such a cone is a smaller copy of itself that is missing, so that its top
edge is the rim, smaller in proportion, about the same apex.

The apex is the origin, up the page. The line halfway between the two seam edges runs straight down
from it and so does the grain, so that both seam edges are equally bias: with the seam at centre
back and the cone not leaning sideways, that is centre front. The right side of the cloth is seen.

Edges, clockwise: ``right`` (down to the rim), ``rim`` (from the right seam edge to the left),
``left`` (up again) and, where the cone does not reach its apex, ``top`` (from left to right).
``left`` and ``right`` meet in the cone's own seam; ``rim`` and ``top`` become level curves that
start there, which is centre back unless ``seam`` says otherwise.

Parameters, lengths from 1 mm to 20 m:

- ``rim``, the girth of the lower edge;
- ``height``, upright, or ``slant``, along the cloth at the seam: one of the two;
- ``keep``: only so much of the slant is made, measured at the seam from the rim upwards along the
  cloth. The top lies level, so that elsewhere a leaning or oval cone is kept in proportion to its
  slant there. The height or slant stays that of the whole cone.
- ``top``: the girth of the top edge, smaller than the rim. The height or slant is then that of the
  finished piece, from rim to top. Not together with ``keep``.
- ``oval``, length ÷ breadth of the rim, from ⅓ to 3; or ``length`` and ``breadth``, which give this
  ratio and nothing else. The girth stays the rim's; the top has the same ratio.
- ``lean``: how far the apex lies off the middle of the rim, seen from above; for a cone cut off at
  a given ``top``, how far the middle of its top does.
- ``towards``: where it leans, as an angle clockwise seen from above: 0° centre back, where nothing
  is said, 90° the wearer's left, 180° centre front, 270° the wearer's right.
- ``seam``: where the seam runs down, as such an angle. Notches on rim and top are counted from the
  seam, so what they are sewn to has to start there too.

Volumes, with A the area within the rim and σ the share of top to rim: ⅓ A h (1 + σ + σ²), h from
rim to top, leaning or not (Cavalieri); for a round one πh(r² + rq + q²) ÷ 3.

By hand: centre front straight down from the apex, and an arc about the apex from there to either
side, half the rim long each, measured along the curve. A leaning or oval one by triangulation: the
rim in 24 parts, each with its true length from the apex and its true distance from the first.

Example::

    point:
      title: Point
      shape: cone
      rim: 59 cm
      height: 45 cm
      cut: {shell: 1}
    leaning_point:
      title: Leaning point
      shape: cone
      rim: 59 cm
      height: 40 cm
      oval: 1.29
      lean: 12 cm
      cut: {shell: 1}
"""

from __future__ import annotations

import cmath
import math

from notchbook.drafting.aids.by_points import PARTS, triangles
from notchbook.drafting.aids.rounds import half_axes, ratio
from notchbook.drafting.geometry.arcs import arc_path
from notchbook.drafting.geometry.develop import TOLERANCE, Cone, cone
from notchbook.drafting.geometry.fit import End, fit
from notchbook.drafting.geometry.oval import oval as oval_path
from notchbook.drafting.geometry.path import Path, circle, polyline
from notchbook.drafting.geometry.scale import scaled
from notchbook.drafting.geometry.segments import Arc
from notchbook.drafting.geometry.vector import Point
from notchbook.drafting.limits import LEAST, check_angle, check_lengths, check_one, mm
from notchbook.drafting.moves import Dot, Move, Rule, Swing
from notchbook.drafting.shape import (
    Angle,
    Edge,
    Flat,
    Form,
    Length,
    Level,
    Ratio,
    Refusal,
    Section,
    Shape,
    Straight,
    lying,
)

WIDEST = math.radians(350)
"""The widest sector. A flatter cone leaves no room on the cloth to sew its seam."""

SLIGHTEST = 1 / 200
"""The least share of the rim by which a given top is smaller. Below it, it is a tube."""

SHARPEST = math.radians(15)
"""The least angle at which rim and slant cross. Below it, the rim runs up the cone rather than
round it, and no allowance can be turned at the seam."""


def draft(
    *,
    rim: Length,
    height: Length | None = None,
    slant: Length | None = None,
    keep: Length | None = None,
    top: Length | None = None,
    oval: Ratio | None = None,
    length: Length | None = None,
    breadth: Length | None = None,
    lean: Length = 0.0,
    towards: Angle = 0.0,
    seam: Angle = 0.0,
) -> Shape:
    """A sector about the origin, or what takes its place."""
    check_one(height=height, slant=slant)
    check_lengths(rim=rim, height=height, slant=slant, keep=keep, top=top)
    check_angle(towards=towards, seam=seam)
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
    if lean:
        check_lengths(lean=lean)
    a, b = half_axes(ratio(oval, length, breadth), girth=rim)
    # What is missing at the tip, as a share of the whole cone; its apex is that much further off.
    missing = (top or 0) / rim
    whole = 1 / (1 - missing)
    if a == b and not lean:
        return _right(rim, height, slant, keep, top, seam)
    start = math.atan2(a * math.sin(seam), b * math.cos(seam))
    foot = _way(towards) * lean * whole
    high = _height(height, slant, abs(_point(a, b, start) - foot) / whole) * whole
    made = _developed(a, b, foot, high, start, rim)
    if keep is not None:
        missing = _left_above(keep, made.slant(start), rim) / made.slant(start)
    return _general(a, b, made, missing, seam)


def _way(angle: float) -> complex:
    """A direction seen from above (x right, y front), clockwise from centre back."""
    return complex(-math.sin(angle), -math.cos(angle))


def _point(a: float, b: float, t: float) -> Point:
    """The rim at an eccentric angle clockwise from centre back."""
    return complex(-b * math.sin(t), -a * math.cos(t))


def _height(height: float | None, slant: float | None, run: float) -> float:
    """How high it stands: given, or from its slant at the seam, which runs so far in plan."""
    if height is not None:
        return height
    assert slant is not None
    if slant < math.hypot(run, LEAST):
        raise Refusal(
            f"Its slant of {mm(slant)} at the seam does not reach up from the rim: level, it has "
            f"{mm(run)} to go.",
            "Make the slant longer, or give its height.",
            "slant",
        )
    return math.sqrt(slant * slant - run * run)


def _developed(a: float, b: float, foot: Point, high: float, start: float, rim: float) -> Cone:
    """The whole cone, developed; or a Refusal where it can't be sewn."""

    def base(t: float) -> End:
        sine, cosine = math.sin(t), math.cos(t)
        return complex(-b * sine, -a * cosine), complex(-b * cosine, a * sine)

    made = cone(base, foot, high, start)
    if made.angle > WIDEST:
        raise Refusal(
            f"Its rim of {mm(rim)} outruns its slant: laid flat, it would take "
            f"{math.degrees(made.angle):.0f}° round its apex, and beyond "
            f"{math.degrees(WIDEST):.0f}° there is no room for a seam.",
            "Make it taller, or its rim shorter; a flat piece is a disc or a ring.",
            "rim",
        )
    least = min(made.crossing(math.tau * k / 64) for k in range(64))
    if least < SHARPEST:
        raise Refusal(
            f"Its apex lies {mm(abs(foot))} off the middle of the rim and only {mm(high)} above "
            f"it: the rim would run up the cloth at {math.degrees(least):.0f}° to the slant, and "
            f"below {math.degrees(SHARPEST):.0f}° its edge doubles back on the seam.",
            "Let it lean less, or make it taller.",
            "lean" if foot else "rim",
        )
    return made


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


def _right(
    rim: float,
    height: float | None,
    slant: float | None,
    keep: float | None,
    top: float | None,
    seam: float,
) -> Shape:
    """A right circular cone, in exact arcs."""
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
    angle = rim / far
    first = (math.pi - angle) / 2
    arc = arc_path(far, first, angle)
    radius = rim / math.tau
    high = math.sqrt(far * far - radius * radius)
    return Shape(
        _flat(arc, near / far, seam),
        _form(circle(0, radius, -math.pi / 2 - seam, -math.tau), 0j, high, near / far),
        _moves(far, near, arc.start / far, arc.end / far),
    )


def _general(a: float, b: float, made: Cone, missing: float, seam: float) -> Shape:
    """A leaning or oval cone without the ``missing`` share of it at its tip."""
    turn = cmath.rect(1.0, (math.pi - made.angle) / 2)

    def at(t: float) -> End:
        point, along = made.laid(t)
        return point * turn, along * turn

    end = made.start + math.tau
    edge = fit(at, made.start, end, TOLERANCE, pieces=8)
    rim = lying(oval_path(0, a, b, made.start)).path
    return Shape(
        _flat(edge, missing, seam),
        _form(rim, made.foot, made.height, missing),
        triangles(
            [at(made.start + math.tau * k / PARTS) for k in range(PARTS + 1)],
            edge.length(),
            missing,
        ),
    )


def _flat(rim: Path, share: float, seam: float) -> Flat:
    """Both seam edges run to the origin, or to ``share`` of the way from there."""
    edges = [
        Edge("right", polyline(share * rim.start, rim.start)),
        Edge("rim", rim, round=True, begins=seam),
        Edge("left", polyline(rim.end, share * rim.end)),
    ]
    if share:
        edges.append(Edge("top", scaled(rim, share).reversed(), round=True, begins=seam))
    return Flat((tuple(edges),), _grain(rim, share))


def _grain(rim: Path, share: float) -> tuple[Point, Point]:
    """Straight down from the apex, over the middle three fifths of the cloth there."""
    far = _down(rim)
    return (0.8 * share + 0.2) * far * 1j, (0.2 * share + 0.8) * far * 1j


def _down(rim: Path) -> float:
    """How far below the apex the rim passes, mm."""
    for segment in rim.segments:
        if segment.end.real <= 0:
            if isinstance(segment, Arc):
                return segment.radius
            low, high = 0.0, 1.0
            for _ in range(40):
                t = (low + high) / 2
                low, high = (t, high) if segment.point(t).real > 0 else (low, t)
            return segment.point(low).imag
    raise AssertionError("the rim runs from right to left")


def _form(rim: Path, foot: Point, high: float, share: float) -> Form:
    """Level rim and top, the apex ``high`` above ``foot``, ``share`` of it missing at the tip."""
    above = high * (1 - share)
    low = (rim.start.real, rim.start.imag, 0.0)
    tip = rim.start * share + foot * (1 - share)
    head = (tip.real, tip.imag, above)
    edges: dict[str, Level | Straight] = {
        "right": Straight(head, low),
        "rim": Level(rim, 0.0),
        "left": Straight(low, head),
    }
    if share:
        top = scaled(rim, share).reversed().moved(1, foot * (1 - share))
        edges["top"] = Level(top, above)
    volume = abs(rim.area()) * above * (1 + share + share * share) / 3
    girth = rim.length()
    inside = Section(0.0, girth), Section(above, share * girth, abs(foot) * (1 - share))
    return Form(edges, volume, seam=("left", "right"), inside=inside)


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
