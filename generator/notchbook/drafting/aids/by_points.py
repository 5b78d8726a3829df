"""Curves drawn by hand through points that are measured off one by one."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

from notchbook.drafting.geometry.fit import End
from notchbook.drafting.geometry.vector import dot, unit
from notchbook.drafting.moves import Along, Crossline, Curve, Dot, Move, Rule, Strike

PARTS = 24
"""The parts of a round edge: a smooth curve through so many points misses the true one by less than
0.02 mm."""


def triangles(rim: Sequence[End], length: float, share: float) -> tuple[Move, ...]:
    """A cone about its apex A, the origin: ``rim`` by points, clockwise, each with its derivative,
    struck from the apex and from the first point; ``length`` is the whole rim's, mm. Where
    ``share`` of the cone is missing at the tip, its top is marked off on the way to every point.

    Struck from one point, rounded numbers do not add up their errors on the way round. Beyond a
    right angle, where two arcs would cross too slantwise, the last point takes the first's part.
    """
    (first, leaving), *_, (last, arriving) = rim
    names = [f"B{k}" for k in range(len(rim))]
    moves: list[Move] = [Dot("A", 0), Dot("B0", first, "A", first.real, first.imag)]
    base = 0
    for k, (here, _) in enumerate(rim[1:], start=1):
        if dot(here, rim[base][0]) < 0 and base < k - 1:
            base = k - 1
        far = abs(here - rim[base][0])
        moves.append(Strike(names[k], here, "A", abs(here), names[base], far, True))
    moves.append(Curve(tuple(names), length, "rim", unit(leaving), unit(arriving)))
    tips = ["A"] * len(rim)
    if share:
        tips = [f"C{k}" for k in range(len(rim))]
        moves += [
            Along(tip, share * here, "A", name, share * abs(here))
            for tip, name, (here, _) in zip(tips, names, rim, strict=True)
        ]
        through = tuple(reversed(tips))
        moves.append(Curve(through, share * length, "top", -unit(arriving), -unit(leaving)))
    return (
        *moves,
        Rule(tips[-1], names[-1], (1 - share) * abs(last), "left"),
        Rule(tips[0], names[0], (1 - share) * abs(first), "right"),
    )


def rows(
    at: Callable[[float], End], letter: str, closed: bool = False
) -> tuple[list[Move], tuple[str, ...], tuple[complex, complex]]:
    """A curve round A that is alike on both sides, marked on lines square to centre front; ``at``
    gives it by a parameter from π at centre front, clockwise, to 2π at centre back.

    The moves, the points' names clockwise from centre back, and the directions of travel at the
    curve's ends. Names tell west from east, as on a map.
    """
    ends = [at(math.pi * (1 + 2 * k / PARTS)) for k in range(PARTS // 2 + 1)]
    moves: list[Move] = []
    west: list[str] = []
    east: list[str] = []
    for k, (point, _) in enumerate(ends):
        if k == 0 or (closed and k == PARTS // 2):
            marks: tuple[tuple[str, float], ...] = ((f"{letter}{k}", 0.0),)
        else:
            marks = ((f"{letter}{k}w", -point.real), (f"{letter}{k}e", point.real))
        moves.append(Crossline("A", point.imag, marks))
        west.append(marks[0][0])
        east.append(marks[-1][0])
    way = unit(ends[-1][1])
    return moves, (*reversed(west), *east[1:]), (way.conjugate(), way)
