"""Gore: one of n pieces that make a cap, a globe or any other surface of revolution.

The surface is given by its profile (see ``drafting/aids/profile.py``): its radius r at every height
z. Radii stand for girths: however it is made, the finished thing measures 2πr round at that height,
along its cloth. Cloth bends one way, not two, and there are two ways to live with that:

``kind: bent`` (unless said otherwise): every gore is flat across and only bends upwards. In plan
each level is a polygon of n equal sides, and all of them are alike, so that the side between two
corners P and Q, here for radius 1, lies at distance m·r from the axis and always in the same
direction: the gore is a piece of a cylinder, which unrolls truly. At a length s = ∫ √(m² dr² + dz²)
up its centre line (the one through the point nearest to the axis) it reaches from Q·d·r to P·d·r
across, with d the side's direction, and each edge is as long as the meridian it becomes,
∫ √(|P|² dr² + dz²): neighbours agree in every seam. With n sides of girth 2π,
|P| = (π/n) ÷ sin(π/n) and m = (π/n) ÷ tan(π/n). The tips fill the whole turn where the profile
comes in level.

``kind: globe``: the width of cloth at a length s up the middle is the surface's own, 2πr ÷ n, so
that all gores together have its area exactly (4πr² for a globe, for every n); m = 1. Their edges
are longer than the meridian they become (on a half globe by 13.98, 6.54, 3.75 % for n = 4, 6, 8),
which has to be eased in, steamed or shrunk. Their tips, 2 arctan(π/n) wide, fall short of a full
turn and make a nipple: ``tip`` redraws the last 10 to 15 mm of both edges so that they come in at
π/n to the middle. Gores of this kind make round things only: on an oval the edges of two neighbours
would differ.

Parameters:

- ``gores``, how many go round, 3 to 100;
- ``girth`` round the base, for a cap: its profile is a quarter of an ellipse of ``height``, or of a
  circle where no height is given; or ``profile``, any other: see ``drafting/aids/profile.py``;
- ``kind``: ``bent``, where nothing is said, or ``globe``, as above;
- ``tip``, of a globe gore: how long its tip is redrawn, along the middle;
- ``oval``, length ÷ breadth of its plan, from ⅓ to 3, 1 where it is round. The corners lie on an
  ellipse, all sides equally long (``drafting/aids/polygon.py``), and gores differ;
- ``number``, which of them this one is, from 1. They are counted from centre back, where the first
  has its right edge, round by the left. Gore k is the mirror image of gore n + 1 − k, and where n
  is even also of gore n ÷ 2 + 1 − k: a recipe has one piece for each that differs.

Edges, clockwise: ``right`` (down to the base), ``base`` (from right to left), ``left`` (up again)
and, where the profile does not end on its axis, ``top`` (from left to right). A profile that also
starts on its axis leaves no base. The left edge of one gore meets the right edge of the next, so a
seam joins ``[gore.left, gore.right]`` of one piece that is cut n times, and the base goes into it n
times: ``[[gore.base, gore.base, …], band.top]``. No edge is round by itself. Base and top are
straight and square to the middle, which lies straight up the page from the origin; so does the
grain. The right side of the cloth is seen.

In space each edge lies where this gore's number puts it; a globe gore's edges are then the shorter
meridian. The volume is the gore's share: what lies between it and the axis.

By hand: the middle line, widths marked off square to it to both sides, and a curve through them.

Example::

    cap_gore:
      title: Gore of a round cap
      shape: gore
      gores: 6
      girth: 59 cm
      height: 17 cm
      cut: {shell: 6}
    globe_gore:
      title: Gore of a lantern globe
      shape: gore
      gores: 8
      profile: {arc: [[0 mm, 0 mm], [14 cm, 14 cm], [0 mm, 28 cm]]}
      kind: globe
      tip: 12 mm
      cut: {shell: 8}
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from notchbook.drafting.aids.gores import across_at, gore_moves, runs
from notchbook.drafting.aids.polygon import polygon
from notchbook.drafting.aids.profile import Profile, path_of, quarter, squares
from notchbook.drafting.geometry.path import Path
from notchbook.drafting.geometry.segments import Line
from notchbook.drafting.geometry.vector import Point, cross, dot, unit
from notchbook.drafting.limits import (
    LEAST,
    check_lengths,
    check_one,
    check_ratio,
    check_word,
    mm,
    plain,
)
from notchbook.drafting.shape import (
    Curve,
    Edge,
    Flat,
    Form,
    Length,
    Ratio,
    Refusal,
    Section,
    Shape,
    Straight,
    Word,
)

BENT, GLOBE = Word("bent"), Word("globe")
FEWEST, MOST_GORES = 3, 100


def draft(
    *,
    gores: int,
    girth: Length | None = None,
    height: Length | None = None,
    profile: Profile | None = None,
    kind: Word = BENT,
    tip: Length | None = None,
    oval: Ratio = 1.0,
    number: int = 1,
) -> Shape:
    """One gore, its base on the line through the origin."""
    check_word("kind", kind, (BENT, GLOBE))
    check_ratio("oval", oval, 1 / 3, 3)
    check_lengths(girth=girth, height=height, tip=tip)
    check_one(girth=girth, profile=profile)
    _check_count(gores, number)
    if profile is not None:
        if height is not None:
            raise Refusal("Its “profile” says how high it is.", "Leave “height” out.", "height")
        meridian = path_of(profile)
    else:
        assert girth is not None
        radius = girth / math.tau
        meridian = quarter(radius, radius if height is None else height)
    across = 2 * _widest(meridian) * math.pi / gores
    if across < LEAST:
        raise Refusal(
            f"Each of its {gores} gores is only {mm(across)} across.",
            "Make fewer gores, or a larger thing.",
            "gores",
        )
    side = _globe(gores, oval, number) if kind == GLOBE else _bent(gores, oval, number)
    if tip is not None:
        _check_tip(tip, kind, meridian)
    try:
        lefts, rights = (
            runs(meridian, side.away, out, tip or 0.0, math.pi / gores)
            for out in (side.left, side.right)
        )
    except ValueError:
        raise Refusal(
            "Its profile turns back on itself within a curve.",
            "Set one more point there, or use straight lines.",
            "profile",
        ) from None
    return _gore(meridian, side, lefts, rights)


def _widest(meridian: Path) -> float:
    """Its largest radius, mm, at the ends of its parts or half way between."""
    return max(p.real for s in meridian.segments for p in (s.start, s.point(0.5), s.end))


def _check_count(gores: int, number: int) -> None:
    if not FEWEST <= gores <= MOST_GORES:
        raise Refusal(
            f"{plain(gores)} gores make no round thing.",
            f"Make {FEWEST} or more, and {MOST_GORES} at most.",
            "gores",
        )
    if not 1 <= number <= gores:
        raise Refusal(
            f"There is no gore of this number among {gores}.",
            f"Count from 1 at centre back to {gores}.",
            "number",
        )


def _check_tip(tip: float, kind: str, meridian: Path) -> None:
    ends = [end.real == 0 for end in (meridian.start, meridian.end)]
    if kind == BENT:
        raise Refusal(
            "Gores of kind “bent” need no rounded tip: where the profile comes in level, theirs "
            "fill the whole turn.",
            "Leave “tip” out, or end the profile level.",
            "tip",
        )
    if not any(ends):
        raise Refusal(
            "Its profile ends before it comes to its axis, so that there is no tip to round.",
            "Leave “tip” out.",
            "tip",
        )
    long = meridian.length()
    if tip > long / (2 * sum(ends)):
        raise Refusal(
            f"Its tip should be rounded over {mm(tip)}, but the whole gore is {mm(long)} long.",
            "Round the last 10 mm to 15 mm.",
            "tip",
        )


@dataclass(frozen=True, slots=True)
class _Side:
    """A gore of a thing of radius 1: how far from the axis its middle is, how far across its left
    and right edges lie from there, and in which directions (plan) the edges stand."""

    away: float
    left: float
    right: float
    corners: tuple[Point, Point]
    area: float
    straight: bool


def _bent(gores: int, oval: float, number: int) -> _Side:
    """Its share of the plan is the triangle between the axis and its side."""
    corners = polygon(gores, oval)
    right, left = corners[number - 1], corners[number]
    along = unit(right - left)
    away = abs(cross(left, along))
    return _Side(
        away, dot(left, along), dot(right, along), (left, right), abs(cross(left, right)) / 2, True
    )


def _globe(gores: int, oval: float, number: int) -> _Side:
    """Its share of the plan is a sector."""
    if abs(oval - 1) > 1e-6:
        raise Refusal(
            "Gores of kind “globe” make round things only: on an oval the edges of neighbours "
            "would differ.",
            "Make them “bent”, or leave “oval” out.",
            "kind",
        )
    half = math.pi / gores
    right, left = (
        complex(-math.sin(turn), -math.cos(turn))
        for turn in (2 * half * (number - 1), 2 * half * number)
    )
    return _Side(1.0, -half, half, (left, right), half, False)


def _gore(meridian: Path, side: _Side, lefts: Sequence[Path], rights: Sequence[Path]) -> Shape:
    """The piece between its two edges, which are given in parts from the base up."""
    left, right = (
        Path(tuple(segment for part in parts for segment in part.segments))
        for parts in (lefts, rights)
    )
    edges = [Edge("right", right.reversed())]
    base, top = meridian.start.real > 0, meridian.end.real > 0
    if base:
        edges.append(Edge("base", Path((Line(right.start, left.start),))))
    edges.append(Edge("left", left))
    if top:
        edges.append(Edge("top", Path((Line(left.end, right.end),))))
    moves = tuple(gore_moves(lefts, rights, base, top))
    form = Form(
        _space(meridian, side, base, top),
        side.area * squares(meridian),
        inside=_inside(meridian) if base else (),
    )
    return Shape(Flat((tuple(edges),), _grain(lefts, rights)), form, moves)


def _grain(lefts: Sequence[Path], rights: Sequence[Path]) -> tuple[Point, Point]:
    """Up the middle line, or a short way beside it where that is off the cloth."""
    end = 1j * lefts[-1].end.imag
    a, b = (across_at(parts, end.imag / 2) for parts in (lefts, rights))
    if a < 0 < b:
        return 0.85 * end, 0.15 * end
    return (a + b) / 2 + 0.55 * end, (a + b) / 2 + 0.45 * end


# In space.


def _inside(meridian: Path) -> tuple[Section, ...]:
    """All gores together. A polygon of cloth has the girth of the circle it is drawn over."""
    low = meridian.start.imag
    return tuple(Section(p.imag - low, math.tau * p.real) for p in meridian.points(0.002))


def _space(meridian: Path, side: _Side, base: bool, top: bool) -> dict[str, Straight | Curve]:
    """Where each edge goes."""
    points = meridian.points(0.002)
    left, right = (
        tuple((corner.real * p.real, corner.imag * p.real, p.imag) for p in points)
        for corner in side.corners
    )
    found: dict[str, Straight | Curve] = {"right": Curve(right[::-1])}
    if base:
        found["base"] = _level(right[0], left[0], side)
    found["left"] = Curve(left)
    if top:
        found["top"] = _level(left[-1], right[-1], side)
    return found


def _level(
    start: tuple[float, float, float], end: tuple[float, float, float], side: _Side
) -> Straight | Curve:
    """From corner to corner, straight or along the circle."""
    if side.straight:
        return Straight(start, end)
    a, b = complex(*start[:2]), complex(*end[:2])
    count = math.ceil(2 * side.right / 0.01)
    turn = (b / a) ** (1 / count)
    around = [a * turn**k for k in range(count + 1)]
    return Curve((start, *((p.real, p.imag, start[2]) for p in around[1:-1]), end))
