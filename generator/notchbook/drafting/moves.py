"""Hand construction: the moves that draw a piece with ruler, string and pencil.

Moves are in the coordinates of the flat piece and in the order they are made. Following them must
give the piece's outline: a test does so for every shape. ``edge`` names the edge of the outline a
move draws (empty for a helping line); ``label``s are the letters points carry on paper.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from notchbook.drafting.geometry.path import Path
from notchbook.drafting.geometry.vector import Point


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
    """Join marked points with a smooth curve, by hand or along a bent ruler, ``length`` mm.
    ``leaving`` and ``arriving`` are its directions of travel at its ends, where they are given."""

    through: tuple[str, ...]
    length: float
    edge: str = ""
    leaving: complex | None = None
    arriving: complex | None = None


@dataclass(frozen=True, slots=True)
class Crossline:
    """Rule a thin line square to the one that runs straight down through ``origin``, ``down`` mm
    below it (negative: above), and mark points on it, each with its label and how far across to the
    right of that line it lies, mm."""

    origin: str
    down: float
    marks: tuple[tuple[str, float], ...]


@dataclass(frozen=True, slots=True)
class Strike:
    """From two marked points strike two arcs and mark where they cross: ``first`` mm from the point
    ``one`` and ``second`` mm from the point ``other``; of the two crossings, the one at ``at``,
    which lies clockwise of ``other`` as seen from ``one`` if ``clockwise``."""

    label: str
    at: Point
    one: str
    first: float
    other: str
    second: float
    clockwise: bool


@dataclass(frozen=True, slots=True)
class Along:
    """On the straight line between two marked points, mark a point ``distance`` mm from the
    first."""

    label: str
    at: Point
    start: str
    end: str
    distance: float


@dataclass(frozen=True, slots=True)
class Tuck:
    """Mark a dart of ``width`` mm on the edge ``of``, as first drawn: its middle ``along`` mm from
    the start, its point at ``point``, ``depth`` mm from there. Fold it shut with the fold towards
    the ``press`` of the edge, redraw the edge across the fold in one smooth stroke, and cut along
    it while it is folded. ``path`` is the edge when all its darts have been drawn."""

    dart: str
    of: str
    along: float
    width: float
    depth: float
    press: Literal["start", "end"]
    point: Point
    path: Path
    length: float
    edge: str = ""


@dataclass(frozen=True, slots=True)
class Trace:
    """Trace the edge ``of`` of another piece, which runs along ``path``, ``length`` mm; or, where
    it is not ``whole``, what of it lies up to the line drawn last, carried on straight where it
    ends before it gets there."""

    piece: str
    of: str
    path: Path
    length: float
    whole: bool = True
    edge: str = ""


@dataclass(frozen=True, slots=True)
class Inwards:
    """Measure ``distance`` mm into the cloth, square to the edges ``of`` as they were traced, every
    few centimetres, and join the marks as far as the neighbouring lines, along ``path``, ``length``
    mm."""

    of: tuple[str, ...]
    distance: float
    path: Path
    length: float
    edge: str = ""


Move = (
    Dot | Rule | Swing | Loop | Offset | Curve | Crossline | Strike | Along | Tuck | Trace | Inwards
)
