"""How an edge of a panel runs through its points: straight, round, or along a smooth curve."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Literal

from notchbook.drafting.geometry.arcs import FLATTEST, arc_through
from notchbook.drafting.geometry.fit import through
from notchbook.drafting.geometry.path import Path, circle, polyline
from notchbook.drafting.geometry.stretch import across
from notchbook.drafting.geometry.vector import Point, unit
from notchbook.drafting.limits import LEAST, MOST, mm
from notchbook.drafting.shape import Refusal

APART = 0.1
"""Points of an edge nearer than this, mm, are taken for one by mistake."""


@dataclass(frozen=True, slots=True)
class Run:
    """How an edge runs through points, which it names.

    An arc of two points has a ``rise`` or a ``radius``, mm, negative where it is hollow; a circle
    names its centre and has a radius. ``leaving`` and ``arriving`` are the directions of travel of
    a curve at its ends, none where it lies as it likes.
    """

    kind: Literal["line", "arc", "curve", "circle"]
    points: tuple[str, ...]
    rise: float | None = None
    radius: float | None = None
    leaving: complex | None = None
    arriving: complex | None = None

    def mirrored(self, names: Mapping[str, str], a: Point, b: Point) -> Run:
        """The run through the mirror images of its points across the line from ``a`` to ``b``,
        which ``names`` tells, travelled the other way."""

        def turned(way: complex | None) -> complex | None:
            return None if way is None else -(across(a + way, a, b) - a)

        # Mirrored, left is the other side; travelled back, it is the same again.
        return replace(
            self,
            points=tuple(names[point] for point in reversed(self.points)),
            leaving=turned(self.arriving),
            arriving=turned(self.leaving),
        )


Loop = dict[str, tuple[Run, ...]]
"""Edges end to end by name, each of one run or of several after each other."""


def edge_path(name: str, edge: tuple[Run, ...], at: Mapping[str, Point]) -> Path:
    """An edge as it is drawn, without its darts."""
    return Path(tuple(s for run in edge for s in path_of(name, run, at).segments))


def path_of(name: str, run: Run, at: Mapping[str, Point]) -> Path:
    """The path of one run of edge ``name``. Refusal where there is none."""
    corners = [at[point] for point in run.points]
    for (a, p), (b, q) in pairwise(zip(run.points, corners, strict=True)):
        if abs(p - q) < APART:
            raise Refusal(
                f"Points “{a}” and “{b}” of edge “{name}” lie in the same place.",
                "Leave one of them out, or move it.",
                "edges",
            )
    match run.kind:
        case "line":
            return polyline(*corners)
        case "curve":
            return through(corners, start_tangent=run.leaving, end_tangent=run.arriving)
        case "circle":
            assert run.radius is not None
            if not LEAST <= run.radius <= FLATTEST:
                raise Refusal(
                    f"The circle “{name}” has a radius of {mm(run.radius)}.",
                    f"Make it {mm(LEAST)} or more.",
                    "edges",
                )
            return circle(corners[0], run.radius, math.pi / 2)
        case "arc":
            if len(corners) == 3:
                return _arc(name, *corners)
            start, end = corners
            return _arc(name, start, _middle(name, run, start, end), end)


def _middle(name: str, run: Run, a: Point, b: Point) -> Point:
    """The middle of an arc, which lies to the left of the way from a to b: by its rise, or by
    r − √(r² − c²/4) for a radius r over a chord c."""
    chord = abs(b - a)
    rise = run.rise
    if rise is None:
        assert run.radius is not None
        under = run.radius**2 - chord**2 / 4
        if under < 0:
            raise Refusal(
                f"Edge “{name}” spans {mm(chord)}, and an arc with a radius of "
                f"{mm(abs(run.radius))} spans {mm(2 * abs(run.radius))} at most.",
                f"Make the radius {mm(math.ceil(chord / 2))} or more.",
                "edges",
            )
        rise = math.copysign(abs(run.radius) - math.sqrt(under), run.radius)
    if not APART / 10 <= abs(rise) <= MOST:
        raise Refusal(
            f"The arc of edge “{name}” rises by {mm(rise)} over {mm(chord)}.",
            "Give it more rise, or use “line”." if abs(rise) < 1 else "Give it less rise.",
            "edges",
        )
    return (a + b) / 2 - 1j * unit(b - a) * rise


def _arc(name: str, a: Point, m: Point, b: Point) -> Path:
    """The arc from a through m to b."""
    arc = arc_through(a, m, b) if abs(b - a) >= APART else None
    if arc is None:
        raise Refusal(
            f"The three points of edge “{name}” lie on one straight line, or nearly.",
            "Move the middle of the arc to the side, or use “line”.",
            "edges",
        )
    return Path((arc.part(0, 0.5), arc.part(0.5, 1)) if abs(arc.sweep) > math.pi else (arc,))
