"""Hand construction: the moves that draw a piece with ruler, string and pencil.

Moves are in the coordinates of the flat piece and in the order they are made. Following them must
give the piece's outline: a test does so for every shape. ``edge`` names the edge of the outline a
move draws (empty for a helping line); ``label``s are the letters points carry on paper.
"""

from __future__ import annotations

from dataclasses import dataclass

from notchbook.drafting.geometry.path import Point


@dataclass(frozen=True, slots=True)
class Dot:
    """Mark a point ``across`` mm to the right of and ``down`` mm below the point ``origin``
    (a label already marked; empty for the first point, which is put anywhere)."""

    label: str
    at: Point
    origin: str = ""
    across: float = 0.0
    down: float = 0.0


@dataclass(frozen=True, slots=True)
class Rule:
    """Rule a straight line between two marked points, ``length`` mm."""

    start: str
    end: str
    length: float
    edge: str = ""


@dataclass(frozen=True, slots=True)
class Swing:
    """Swing an arc of ``radius`` mm about a marked point, from ``start`` over ``sweep`` radians,
    until it measures ``length`` mm along the curve. ``end`` labels where it stops."""

    about: str
    centre: Point
    radius: float
    start: Point
    sweep: float
    length: float
    end: str = ""
    edge: str = ""


@dataclass(frozen=True, slots=True)
class Loop:
    """Draw an oval with a closed string of ``string`` mm round two pins ``apart`` mm apart,
    the pins on either side of ``centre`` in direction ``along`` (a unit direction)."""

    centre: Point
    along: complex
    apart: float
    string: float
    length: float
    edge: str = ""


@dataclass(frozen=True, slots=True)
class Offset:
    """Draw a line ``distance`` mm outside (negative: inside) the edge ``of``, measuring square to
    it at many places and joining the marks."""

    of: str
    distance: float
    length: float
    edge: str = ""


@dataclass(frozen=True, slots=True)
class Curve:
    """Join marked points with a smooth curve, by hand or along a bent ruler, ``length`` mm."""

    through: tuple[str, ...]
    length: float
    edge: str = ""


Move = Dot | Rule | Swing | Loop | Offset | Curve
