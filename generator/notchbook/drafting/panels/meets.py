"""Lines, circles and edges that meet in a point of a panel, and why they do not."""

from __future__ import annotations

from dataclasses import dataclass

from notchbook.drafting.geometry.meet import meet
from notchbook.drafting.geometry.segments import Line, Segment
from notchbook.drafting.geometry.vector import Point, cross
from notchbook.drafting.limits import MOST, mm
from notchbook.drafting.panels.runs import APART

_FAR = 3 * MOST
"""Half the length, mm, at which an endless line is cut."""


@dataclass(frozen=True, slots=True)
class Figure:
    """A line (with its direction), a circle (with its centre and radius) or an edge that another
    one meets, and what messages call it."""

    words: str
    segments: tuple[Segment, ...]
    along: complex | None = None
    centre: Point = 0
    radius: float = 0.0


def endless(words: str, start: Point, along: complex) -> Figure:
    far = along * _FAR
    return Figure(f"the line {words}", (Line(start - far, start + far),), along)


def places(first: Figure, second: Figure) -> list[Point]:
    """Every point at which two figures meet."""
    found: list[Point] = []
    for a in first.segments:
        for b in second.segments:
            for t, _ in meet(a, b):
                spot = a.point(t)
                if all(abs(spot - other) > APART for other in found):
                    found.append(spot)
    return found


def missed(a: Figure, b: Figure) -> tuple[str, str]:
    """Why two figures do not meet, by how much, and what to do."""
    if a.along and b.along:
        gap = abs(cross(a.along, b.segments[0].point(0.5) - a.segments[0].point(0.5)))
        lie = f"run parallel, {mm(gap)} apart" if gap > APART else "lie on each other"
        return f"{capital(a.words)} and {b.words} {lie}.", "Turn one of them."
    if a.radius and b.radius:
        gap, both = abs(b.centre - a.centre), a.radius + b.radius
        if gap > both:
            what = (
                f"{capital(a.words)} and {b.words} do not meet: their centres lie {mm(gap)} "
                f"apart, {mm(gap - both)} more than both radii together."
            )
            return what, f"Make a radius larger by {mm(gap - both)}, or bring them together."
        within = abs(a.radius - b.radius) - gap
        if within < APART:
            return f"{capital(a.words)} and {b.words} lie on each other.", "Change one of them."
        what = f"{capital(a.words)} and {b.words} do not meet: one lies {mm(within)} inside."
        return what, "Change a radius, or move one of them."
    line, round_ = (a, b) if a.along else (b, a)
    if line.along and round_.radius:
        gap = abs(cross(line.along, round_.centre - line.segments[0].point(0.5)))
        what = (
            f"{capital(line.words)} passes {mm(gap)} from the middle of {round_.words}, "
            f"{mm(gap - round_.radius)} more than its radius."
        )
        return what, f"Make the radius {mm(gap)} or more, or move one of them."
    what = f"{capital(a.words)} and {b.words} do not meet."
    return what, "Make one of them longer, or move one of them."


def capital(words: str) -> str:
    return words[0].upper() + words[1:]
