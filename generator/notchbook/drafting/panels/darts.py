"""Darts in the edge of a panel: legs equally long, the edge redrawn across the fold.

A dart takes ``width`` mm out of its edge, half on either side of its middle F, and runs to a point
T: ``depth`` mm from F, square to the edge into the cloth, or wherever the author puts it. Its feet
as they are first marked, P and Q, need not lie equally far from T, and with the dart shut the edge
has a corner there: two straight halves fall together like a shallow V. So the edge is redrawn as
the trade does, with the dart shut:

1. Everything beyond the dart is turned about T by the dart's angle ∠QTP, which lays the ray TQ on
   TP.
2. From one width before P to one width beyond Q (or half way to the next dart, or to the edge's
   end) the edge is redrawn as one smooth cubic, with the edge's own directions at its two ends.
3. Where the cubic crosses the ray TP is the foot. Turned back, it is the other one: both legs are
   the same line, so they are equally long. Against the depth asked for they are longer by what the
   V was filled up.

Then the dart is shut with its fold to one side. The fold lies under the edge there, and is cut off
along it: unfolded, the line between the feet is the edge mirrored across the leg as far as the
fold, and that mirrored across the fold. Mirror images of lines, arcs and cubics are exact, so the
folded edge is one line through all three layers, and so are its parallels: cutting lines need no
thought of darts.

The line between the feet belongs to the edge's path, but not to what is sewn: see ``Edge.taken``.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import combinations, pairwise
from typing import Literal

from notchbook.drafting.geometry.fit import through
from notchbook.drafting.geometry.meet import apart, hull, meet
from notchbook.drafting.geometry.path import Path
from notchbook.drafting.geometry.segments import Line
from notchbook.drafting.geometry.stretch import path_across, stretch
from notchbook.drafting.geometry.vector import Point, unit
from notchbook.drafting.limits import LEAST, MOST, mm
from notchbook.drafting.shape import Dart, Edge, Refusal

ROOM = 1.0
"""What is left of an edge beside a dart and between two, mm, at least."""
SHARPEST = math.pi / 2
"""A dart at this angle, or wider, makes no bulge but a pocket."""


@dataclass(frozen=True, slots=True)
class DartRule:
    """One dart: its edge, where its middle lies along it (mm from the start of the edge as the
    author draws it), and either its depth or its point."""

    name: str
    edge: str
    at: float
    width: float
    depth: float | None = None
    point: Point | None = None
    press: Literal["start", "end"] = "start"

    def turned_round(self, length: float) -> DartRule:
        """The same dart on the edge travelled the other way, ``length`` mm long."""
        press: Literal["start", "end"] = "end" if self.press == "start" else "start"
        return replace(self, at=length - self.at, press=press)

    def tip(self, path: Path) -> Point:
        """Its point, inside the cloth."""
        if self.point is not None:
            return self.point
        assert self.depth is not None
        foot, along = path.at(self.at)
        return foot + along * 1j * self.depth


def darted(name: str, path: Path, rules: Sequence[DartRule]) -> tuple[Edge, tuple[Dart, ...]]:
    """An edge with its darts, and these. ``path`` has the cloth on its right-hand side.

    Refusal where one has no room.
    """
    if not rules:
        return Edge(name, path), ()
    rules = sorted(rules, key=lambda rule: rule.at)
    length = path.length()
    _check(name, length, rules)
    middles = [0.0, *((a.at + b.at) / 2 for a, b in pairwise(rules)), length]
    line: list[Path] = []
    taken: list[tuple[float, float]] = []
    darts: list[Dart] = []
    drawn = 0.0
    done = 0.0

    def lay(part: Path) -> None:
        nonlocal drawn
        line.append(part)
        drawn += part.length()

    for rule, (low, high) in zip(rules, pairwise(middles), strict=True):
        start = max(rule.at - 1.5 * rule.width, low)
        end = min(rule.at + 1.5 * rule.width, high)
        if start - done > 1e-6:
            lay(stretch(path, done, start))
        before, beyond, dart = _shut(rule, path, start, end)
        lay(before)
        sewn = Path(tuple(s for part in line[-2:] for s in part.segments))
        onwards = stretch(path, end, high) if high - end > 1e-6 else None
        after = Path((*beyond.segments, *(onwards.segments if onwards else ())))
        first, second, peak = _cap(dart, sewn, after)
        taken.append((drawn, drawn + first.length() + second.length()))
        lay(first)
        lay(second)
        lay(beyond)
        darts.append(replace(dart, peak=peak))
        done = end
    if length - done > 1e-6:
        lay(stretch(path, done, length))
    whole = Path(tuple(segment for part in line for segment in part.segments))
    return Edge(name, whole, taken=tuple(taken)), tuple(darts)


def _check(name: str, length: float, rules: Sequence[DartRule]) -> None:
    for rule in rules:
        for key, value in (("width", rule.width), ("depth", rule.depth)):
            if value is not None and not LEAST <= value <= MOST:
                raise Refusal(
                    f"The {key} of dart “{rule.name}” comes to {mm(value)}.",
                    f"Make it {mm(LEAST)} or more.",
                    "darts",
                )
        if rule.width >= length:
            raise Refusal(
                f"Dart “{rule.name}” takes {mm(rule.width)} out of edge “{name}”, which is only "
                f"{mm(length)} long.",
                "Make the dart narrower, or the edge longer.",
                "darts",
            )
        beside = min(rule.at, length - rule.at) - rule.width / 2
        # The fold lies under the edge beside the dart: see ``_cap``.
        if beside < ROOM + rule.width / 2:
            raise Refusal(
                f"Dart “{rule.name}” lies {mm(max(beside, 0.0))} from the end of edge “{name}”, "
                f"and its fold needs {mm(ROOM + rule.width / 2)} there to lie on.",
                "Move it away from the end, or make it narrower.",
                "darts",
            )
    for a, b in pairwise(rules):
        gap = b.at - a.at - (a.width + b.width) / 2
        need = ROOM + max(a.width, b.width) / 2
        if gap < need:
            raise Refusal(
                f"Darts “{a.name}” and “{b.name}” leave {mm(gap)} between them."
                if gap > 0
                else f"Darts “{a.name}” and “{b.name}” overlap by {mm(-gap)}.",
                f"Leave {mm(need)} or more, on which a fold can lie: move one, or make them "
                "narrower.",
                "darts",
            )


def _shut(rule: DartRule, path: Path, start: float, end: float) -> tuple[Path, Path, Dart]:
    """The redrawn edge before and beyond a dart, between two distances along it, and the dart
    (its peak not yet known)."""
    tip = rule.tip(path)
    (a, leave), (p, _), (q, _), (b, arrive) = path.places(
        (start, rule.at - rule.width / 2, rule.at + rule.width / 2, end)
    )
    if min(abs(p - tip), abs(q - tip)) < LEAST:
        raise _off(rule)
    shut = unit((p - tip) / (q - tip))
    angle = -cmath.phase(shut)
    if angle <= 0:
        raise _off(rule)
    if angle >= SHARPEST:
        raise Refusal(
            f"Dart “{rule.name}” is so wide for its depth that it opens by "
            f"{mm(math.degrees(angle)).replace('mm', 'deg')}.",
            "Make it deeper or narrower.",
            "darts",
        )
    far = tip + (b - tip) * shut
    if abs(far - a) < LEAST:
        raise _off(rule)
    [curve] = through([a, far], start_tangent=leave, end_tangent=arrive * shut).segments
    leg = Line(tip, tip + unit(p - tip) * 2 * max(abs(p - tip), abs(q - tip)))
    places = [(abs(curve.point(u) - p), u) for _, u in meet(leg, curve)]
    if not places or not 1e-3 < (share := min(places)[1]) < 1 - 1e-3:
        raise _off(rule)
    foot = curve.point(share)
    before = Path((curve.part(0, share),))
    beyond = Path((curve.part(share, 1),)).moved(shut.conjugate(), tip - tip * shut.conjugate())
    feet = (foot, tip + (foot - tip) * shut.conjugate())
    return before, beyond, Dart(rule.name, rule.edge, feet, tip, foot, rule.press)


def _off(rule: DartRule) -> Refusal:
    return Refusal(
        f"Dart “{rule.name}” can't be shut: its point lies where its edge can't close over it.",
        "Put its point inside the cloth, across from its middle.",
        "darts",
    )


def _cap(dart: Dart, before: Path, beyond: Path) -> tuple[Path, Path, Point]:
    """The line from foot to fold and from fold to foot, and where it meets the fold."""
    tip, (p, q) = dart.point, dart.feet
    way = unit(unit(p - tip) + unit(q - tip))
    fold = Line(tip, tip + way * 2 * abs(p - tip))
    if dart.press == "start":
        under = path_across(before.reversed(), tip, p)
    else:
        under = path_across(beyond, tip, q)
    for k, segment in enumerate(under.segments):
        found = [u for _, u in meet(fold, segment) if k or u > 1e-6]
        if found:
            half = Path((*under.segments[:k], segment.part(0, min(found))))
            break
    else:
        raise Refusal(
            f"The fold of dart “{dart.name}” finds no edge to lie on towards its {dart.press}.",
            "Move it away from the end, press it the other way, or make it narrower.",
            "darts",
        )
    other = path_across(half, tip, tip + way)
    first, second = (half, other) if dart.press == "start" else (other, half)
    return first, second.reversed(), half.end


def check_room(loops: Sequence[Sequence[Edge]], darts: Sequence[Dart]) -> None:
    """Every dart lies inside the piece, and none crosses another, or a ``Refusal``."""
    outline = [
        (edge.name, segment, hull(segment))
        for loop in loops
        for edge in loop
        for segment in edge.path.segments
    ]
    lines = [(dart, Line(foot, dart.point)) for dart in darts for foot in dart.feet]
    legs = [(dart, leg, hull(leg)) for dart, leg in lines]
    for dart, leg, box in legs:
        deep = leg.length()
        for name, segment, other in outline:
            for t, _ in () if apart(box, other) else meet(leg, segment):
                if t * deep > 1e-3:
                    raise Refusal(
                        f"Dart “{dart.name}” is {mm(deep)} deep, but meets edge “{name}” after "
                        f"{mm(t * deep)}.",
                        "Make the dart shorter, or the piece deeper there.",
                        "darts",
                    )
    for (a, first, box), (b, second, other) in combinations(legs, 2):
        if a is not b and not apart(box, other) and meet(first, second):
            raise Refusal(
                f"Darts “{a.name}” and “{b.name}” cross.",
                "Make one of them shorter, or move them apart.",
                "darts",
            )
