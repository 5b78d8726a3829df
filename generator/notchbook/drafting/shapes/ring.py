"""Ring: a brim with a round or oval opening, level or sloped, as wide all round or wider behind.

Edges: a **level** ring has two closed ones, both starting at centre back: ``inner``, the opening,
which runs anticlockwise because it is a hole, and ``outer``, clockwise. A **sloped** one turns by
less than a whole circle laid flat, and has a seam at centre back: clockwise ``outer``, ``right``
(in to the opening), ``inner`` (anticlockwise), ``left`` (out again); ``left`` and ``right`` meet.

Centre front is up the page, centre back down. An oval opening is longer from front to back. The
grain runs the same way: through the cloth at one side of a level ring, down centre front of a
sloped one.

Parameters, lengths from 1 mm to 20 m:

- ``inner``, the girth of the opening;
- ``width``, along the cloth, square to the opening; ``width_back``, that at centre back where it
  differs: the width then changes evenly on the way round, w = front + (back − front)(1 + cos ψ)/2
  with ψ the direction in which the opening faces;
- ``oval``, length ÷ breadth of the opening, from ⅓ to 3, where 1 is round; or ``length`` and
  ``breadth``, which give this ratio and nothing else;
- ``outer``: ``parallel`` to the opening, where nothing is said, or ``round``: a circle, for a level
  ring. The width is then that at the sides of an opening longer than broad; front and back come out
  narrower by half of what it is longer. Round a broad one it is the other way about.
- ``slope``: the angle by which the brim falls below the level (negative: rises above it), up to
  80°; ``slope_back``, that at centre back where it differs, changing as the width does. Laid flat,
  10° have to be missing for the seam, which takes a slope of 13.6° on any opening.

A round ring is made of exact arcs of radius inner ÷ 2π and that plus the width; sloped all round by
θ it is a sector of 360° × cos θ, of radii inner ÷ (2π cos θ) and that plus the width. The girth of
an oval opening is kept exactly: its axes follow from the girth and the ratio
(``geometry/oval.py``). Its outer edge is no ellipse but the parallel of one, and like every
parallel of a convex curve it is 2π × width longer (Steiner), or 2π × width × cos θ sloped. How a
sloped brim on an oval is developed, ``geometry/develop.py`` derives; it is no sector, for the
opening keeps its tight ends. All curves are fitted to better than 0.02 mm.

Volumes: of a brim of one slope and width, that of the hat it would be, closed level at the opening
and at the edge: with A the opening's area, L its girth, D = width × cos θ and H = width × sin θ,
H (A + L D/2 + π D²/3). None for others.

By hand: two circles about one centre; or the oval with a loop of string round two pins and the
outer edge marked off square to it. A sloped oval one from lines square to centre front, on which
the opening's points are measured off to both sides, for there mistakes do not add up.

Example::

    brim:
      title: Brim
      shape: ring
      inner: 59 cm
      oval: 1.29
      width: 15 cm
      cut: {shell: 1}
    rain_brim:
      title: Sloped brim, wider behind
      shape: ring
      inner: 59 cm
      oval: 1.29
      width: 7 cm
      width_back: 11 cm
      slope: 25 deg
      cut: {shell: 1}
"""

from __future__ import annotations

import math
from collections.abc import Callable

from notchbook.drafting.aids.by_points import rows
from notchbook.drafting.aids.rounds import draw_round, half_axes, ratio, round_path
from notchbook.drafting.geometry.develop import TOLERANCE, Brim, Swell, brim
from notchbook.drafting.geometry.fit import End, fit
from notchbook.drafting.geometry.offset import offset
from notchbook.drafting.geometry.path import Path, circle, polyline
from notchbook.drafting.geometry.vector import Point
from notchbook.drafting.limits import LEAST, check_lengths, check_word, mm, plain
from notchbook.drafting.moves import Crossline, Curve, Dot, Move, Offset, Rule, Swing
from notchbook.drafting.shape import (
    Angle,
    Edge,
    Flat,
    Form,
    Length,
    Level,
    Ratio,
    Refusal,
    Shape,
    Straight,
    Word,
    lying,
)
from notchbook.drafting.shape import Curve as SpaceCurve

WIDEST = math.radians(350)
"""The most that a sloped ring may turn laid flat. Beyond it there is no room for its seam."""

STEEPEST = math.radians(80)
"""The steepest slope. Beyond it, it is a tube."""

CROWDED = 0.1
"""The least share of the way to where rulings meet that must be left beyond the outer edge."""

ASLANT = 1.0
"""The most that a ruling may lean along the opening for each mm outwards: 45°."""

PARALLEL = Word("parallel")


def draft(
    *,
    inner: Length,
    width: Length,
    width_back: Length | None = None,
    oval: Ratio | None = None,
    length: Length | None = None,
    breadth: Length | None = None,
    outer: Word = PARALLEL,
    slope: Angle = 0.0,
    slope_back: Angle | None = None,
) -> Shape:
    """A ring round the origin."""
    check_lengths(inner=inner, width=width, width_back=width_back)
    check_word("outer", outer, ("parallel", "round"))
    _check_slopes(slope, slope_back)
    a, b = half_axes(ratio(oval, length, breadth), girth=inner)
    behind = width if width_back is None else width_back
    uneven = behind != width
    lower = slope if slope_back is None else slope_back
    if outer == "round" and (uneven or slope):
        raise Refusal(
            "A round outer edge belongs to a level ring of one width.",
            "Leave out “outer”, or the slope and the second width.",
            "outer",
        )
    if outer == "round" and a != b:
        return _level_ring(a, b, round_path(a, b), *_circle(a, b, width), width)
    if not slope and not uneven:
        opening = round_path(a, b)
        edge = offset(opening, width)
        return _level_ring(a, b, opening, edge, _beside(a, b, width, inner), width)
    if a == b and not uneven and slope == lower:
        _check_angle(math.tau * math.cos(slope), slope)
        return _sector(a, width, slope)
    made = brim(a, b, Swell(slope, lower), Swell(width, behind))
    if not slope:
        edge = _whole(_half(made.outer))
        narrowest = min(width, behind)
        return _level_ring(a, b, round_path(a, b), edge, _marked(made, edge), narrowest)
    _check_angle(made.angle, slope)
    _check_rulings(made)
    return _sloped(made)


def _check_slopes(slope: float, slope_back: float | None) -> None:
    for name, value in (("slope", slope), ("slope_back", slope_back)):
        if value is not None and not abs(value) <= STEEPEST:
            raise Refusal(
                f"“{name}” comes to {plain(math.degrees(value))}°, steeper than anything a brim is "
                "sewn at.",
                f"Make it {math.degrees(STEEPEST):.0f}° or less, or draft a tube.",
                name,
            )
    if slope_back is not None and slope * slope_back <= 0:
        raise Refusal(
            f"A brim that slopes by {plain(math.degrees(slope))}° in front and "
            f"{plain(math.degrees(slope_back))}° behind is level somewhere between, and would have "
            "to stretch there.",
            "Let both slope downwards or both upwards.",
            "slope_back",
        )


def _check_angle(angle: float, slope: float) -> None:
    if angle > WIDEST:
        raise Refusal(
            f"A slope of {plain(math.degrees(slope))}° is too near the level: laid flat, it takes "
            f"{math.degrees(angle):.1f}° of a ring, and beyond {math.degrees(WIDEST):.0f}° there "
            "is no room for a seam.",
            f"Slope it by {math.degrees(math.acos(WIDEST / math.tau)) + 0.05:.1f}° or more, or "
            "leave “slope” out for a level one.",
            "slope",
        )


def _check_rulings(made: Brim) -> None:
    around = [math.pi * (1 + k / 32) for k in range(33)]
    if any(abs(made.skew(psi)) > ASLANT for psi in around):
        what = "the cloth would have to stretch on the way round"
    elif any(made.room(psi) < CROWDED for psi in around):
        what = "at its edge the cloth would have to crease"
    else:
        return
    front, back = (plain(math.degrees(angle)) for angle in (made.slope.front, made.slope.back))
    raise Refusal(
        f"Its slope changes too fast, from {front}° in front to {back}° behind: {what}.",
        "Bring the two slopes nearer to each other, or make it narrower.",
        "slope_back",
    )


# Level.


def _level_ring(
    a: float, b: float, opening: Path, edge: Path, moves: tuple[Move, ...], narrowest: float
) -> Shape:
    hole = opening.reversed()
    return Shape(
        Flat(
            ((Edge("outer", edge, round=True),), (Edge("inner", hole, round=True),)),
            _grain(a, b, narrowest),
        ),
        Form({"outer": lying(edge), "inner": lying(hole)}, volume=0.0),
        (*draw_round(a, b, "inner"), *moves),
    )


def _grain(a: float, b: float, width: float) -> tuple[Point, Point]:
    """Half way between opening and edge at the side. A circle of radius ρ that touches the opening
    there from within has a parallel that lies within the ring's, and shows how long a straight line
    stays on the cloth: (ρ + w)² − (ρ + w/2)² = ρw + ¾w²."""
    touching = min(b, a * a / b)
    half = 0.8 * math.sqrt(touching * width + 0.75 * width * width)
    across = b + width / 2
    return complex(across, -half), complex(across, half)


def _beside(a: float, b: float, width: float, inner: float) -> tuple[Move, ...]:
    """The outer edge of one width, after the opening."""
    if a == b:
        return _struck(a + width)
    return (Offset("inner", width, inner + math.tau * width, "outer"),)


def _struck(radius: float) -> tuple[Move, ...]:
    back = radius * 1j
    return (
        Dot("C", back, "A", down=radius),
        Swing("A", 0, radius, back, math.tau, math.tau * radius, edge="outer"),
    )


def _circle(a: float, b: float, width: float) -> tuple[Path, tuple[Move, ...]]:
    """A round outer edge, ``width`` from the opening where they are furthest apart."""
    least = width - abs(a - b)
    if least < LEAST:
        raise Refusal(
            f"A round edge {mm(width)} from the opening where they are furthest apart comes to "
            f"{mm(least)} where they are nearest.",
            f"Make it wider than {mm(math.ceil(abs(a - b) + LEAST))}, or its opening rounder.",
            "width",
        )
    radius = min(a, b) + width
    return circle(0, radius, math.pi / 2), _struck(radius)


def _half(at: Callable[[float], End]) -> Path:
    """From centre front to centre back."""
    return fit(at, math.pi, math.tau, TOLERANCE, pieces=4)


def _whole(half: Path) -> Path:
    """Clockwise from centre back: one half mirrored, and the half itself."""
    return Path((*half.mirrored().reversed().segments, *half.segments))


def _marked(made: Brim, edge: Path) -> tuple[Move, ...]:
    """The outer edge of two widths, by points."""
    marks, names, (way, _) = rows(made.outer, "G", closed=True)
    return (*marks, Curve(names, edge.length(), "outer", way, way))


# Sloped.


def _sector(a: float, width: float, slope: float) -> Shape:
    """A round ring of one slope: exact arcs about the origin."""
    share = math.cos(slope)
    near, far = a / share, a / share + width
    sweep = math.tau * share
    first, last = -math.pi / 2 - sweep / 2, -math.pi / 2 + sweep / 2
    outer, inner = circle(0, far, first, sweep), circle(0, near, last, -sweep)
    moves: tuple[Move, ...] = (
        Dot("A", 0),
        Dot("B", -1j * near, "A", down=-near),
        Dot("C", -1j * far, "A", down=-far),
        *(
            Swing("A", 0, radius, -1j * radius, way * sweep / 2, radius * sweep / 2, label, edge)
            for radius, edge, labels in ((near, "inner", "DE"), (far, "outer", "FG"))
            for way, label in zip((1, -1), labels, strict=True)
        ),
        Rule("D", "F", width, "right"),
        Rule("E", "G", width, "left"),
    )
    flat = _seamed(outer, inner, near, far)
    return Shape(flat, _even_form(a, a, slope, width), moves)


def _seamed(outer: Path, inner: Path, near: float, far: float) -> Flat:
    edges = (
        Edge("outer", outer, round=True),
        Edge("right", polyline(outer.end, inner.start)),
        Edge("inner", inner, round=True),
        Edge("left", polyline(inner.end, outer.start)),
    )
    grain = (-1j * (0.2 * near + 0.8 * far), -1j * (0.8 * near + 0.2 * far))
    return Flat((edges,), grain)


def _sloped(made: Brim) -> Shape:
    inner_half, outer_half = _half(made.inner), _half(made.outer)
    outer, inner = _whole(outer_half), _whole(inner_half).reversed()
    near, far = made.a, made.a + made.width.front
    form = (
        _even_form(made.a, made.b, made.slope.back, made.width.back)
        if made.slope.front == made.slope.back and made.width.front == made.width.back
        else _uneven_form(made)
    )
    return Shape(_seamed(outer, inner, near, far), form, _sloped_moves(made, outer, inner))


def _even_form(a: float, b: float, slope: float, width: float) -> Form:
    """Opening and edge level, the lower of them on the table."""
    run, fall = width * math.cos(slope), width * math.sin(slope)
    low, high = max(-fall, 0.0), max(fall, 0.0)
    opening = round_path(a, b)
    outer, inner = lying(offset(opening, run)).path, lying(opening.reversed()).path
    foot = (0.0, outer.start.imag, low)
    top = (0.0, inner.start.imag, high)
    volume = abs(fall) * (opening.area() + opening.length() * run / 2 + math.pi * run * run / 3)
    return Form(
        {
            "outer": Level(outer, low),
            "right": Straight(foot, top),
            "inner": Level(inner, high),
            "left": Straight(top, foot),
        },
        volume,
        seam=("left", "right"),
    )


def _uneven_form(made: Brim) -> Form:
    """An outer edge that does not lie level, its lowest point on the table."""
    points = made.edge()
    high = max(0.0, -min(z for _, _, z in points))
    edge = tuple((x, y, z + high) for x, y, z in points)
    inner = lying(round_path(made.a, made.b).reversed()).path
    top = (0.0, inner.start.imag, high)
    return Form(
        {
            "outer": SpaceCurve(edge),
            "right": Straight(edge[-1], top),
            "inner": Level(inner, high),
            "left": Straight(top, edge[0]),
        },
        volume=0.0,
        seam=("left", "right"),
    )


def _sloped_moves(made: Brim, outer: Path, inner: Path) -> tuple[Move, ...]:
    """The opening by points; the outer edge beside it if it is of one width, or by points too."""
    marks, names, (leaving, arriving) = rows(made.inner, "B")
    moves: list[Move] = [Dot("A", 0), *marks]
    backwards = tuple(reversed(names))
    moves.append(Curve(backwards, inner.length(), "inner", -arriving, -leaving))
    if made.width.front == made.width.back:
        ends = ("Cw", "Ce")
        far = outer.end
        moves.append(Crossline("A", far.imag, (("Cw", -far.real), ("Ce", far.real))))
        moves.append(Offset("inner", made.width.front, outer.length(), "outer"))
    else:
        marks, around, (leaving, arriving) = rows(made.outer, "C")
        ends = (around[0], around[-1])
        moves += [*marks, Curve(around, outer.length(), "outer", leaving, arriving)]
    width = made.width.back
    return (
        *moves,
        Rule(ends[1], names[-1], width, "right"),
        Rule(names[0], ends[0], width, "left"),
    )
