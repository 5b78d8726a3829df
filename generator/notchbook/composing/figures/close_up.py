"""A stretch of an edge that is laid straight and drawn large: which one, and how large.

Here ``u`` runs along the edge from the middle of the stretch, ``v`` into the cloth, both in mm.
"""

from __future__ import annotations

from dataclasses import dataclass

from notchbook.composing.figures.along_plan import AlongPlan
from notchbook.composing.figures.edge_line import EdgeLine
from notchbook.drafting.geometry.vector import Point
from notchbook.drafting.shape import Edge

HALF = 16.0
"""Half of how long the stretch is, mm on the page."""

_HIGH = 30.0
"""How high it is at most, mm on the page."""

_BEYOND = 5.0
"""How much cloth is seen past the last thing on it, mm on the page."""

_FAR = 40.0
"""A mark farther than this from what lies square to the edge is not shown with it, mm."""

_SEEN = 18.0
"""No more is seen of what lies square to the edge, mm."""

_LARGEST, _SMALLEST = 2.5, 0.4
"""How many times its size it is drawn."""

THIN = 7.0
"""What is no wider than this, mm, has its ends beside each other, not on each other."""


@dataclass(frozen=True, slots=True)
class CloseUp:
    """Where the stretch is: its middle along the edge, its scale, and whether its cloth lies above
    its edge (``flip`` is then −1). ``corner``: the edge's own end within it, or None."""

    plan: AlongPlan
    middle: float
    scale: float
    flip: int
    corner: float | None

    @property
    def out(self) -> float:
        """How far outside the stitching line the farthest thing lies, mm."""
        return _out(self.plan)

    @property
    def deep(self) -> float:
        """How much cloth is seen inside the stitching line, mm."""
        return _depth(self.plan) + _BEYOND / self.scale

    def page(self, u: float, v: float) -> Point:
        """A place of the stretch on the page."""
        return complex(u, v) * self.scale * self.flip

    def off(self, place: float) -> float:
        """How far along the stretch a place of the edge lies from its middle, mm."""
        line, off = self.plan.line, place - self.middle
        if line.path.closed and abs(off) > line.length / 2:
            off -= line.length if off > 0 else -line.length
        return off

    @property
    def half(self) -> float:
        """Half of how long the stretch is, mm."""
        return HALF / self.scale


def close_up(plan: AlongPlan) -> CloseUp | None:
    """The stretch to show: where ends meet, or the first end, or where rows start. None where its
    parts are too far apart to be shown large."""
    line, thing = plan.line, plan.thing
    middle = thing.start if thing else line.length / 2 if plan.middle else 0.0
    along = 2.0
    corner = None
    if thing and thing.whole:
        along = max(thing.lap, 2.0)
    elif thing:
        mark = reference(plan)
        along = max(abs(mark[0] - thing.start), 2.0)
        middle = (mark[0] + thing.start) / 2
        if thing.pieces:
            along, middle = thing.apart, thing.start + thing.pieces + thing.apart / 2
        if thing.at and along > _FAR:
            along, middle = thing.width, thing.start
    if not line.goes_round and min(middle, line.length - middle) < 30:
        corner = 0.0 if middle < line.length / 2 else line.length
    high = _out(plan) + _depth(plan)
    scale = min((_HIGH - _BEYOND) / max(high, 1.0), (2 * HALF - 14) / along, _LARGEST)
    if scale < _SMALLEST:
        return None
    out = line.at(middle)[1] * -1j
    return CloseUp(plan, middle, scale, -1 if out.imag > 0.5 else 1, corner)


def reference(plan: AlongPlan) -> tuple[float, int | None, bool]:
    """What the first end of a thing is measured from: a notch with its number, or the end of the
    edge."""
    line, thing = plan.line, plan.thing
    assert thing
    notch = line.notch_near(thing.start)
    if not line.goes_round:
        end = 0.0 if thing.start < line.length / 2 else line.length
        if notch is None or abs(end - thing.start) <= line.apart(notch[0], thing.start):
            return end, None, True
    if notch is None:
        return 0.0, None, True
    place = notch[0]
    if line.path.closed and abs(place - thing.start) > line.length / 2:
        place += line.length if place < thing.start else -line.length
    return place, notch[1], False


def slit_of(plan: AlongPlan) -> tuple[float, float] | None:
    """From where to where, inside the stitching line, ends come out of the seam that closes the
    piece: between the two rows next to them. None where there are no such rows."""
    thing = plan.thing
    if thing is None or not thing.tails or plan.line.path.closed:
        return None
    middle = thing.inside + thing.width / 2
    depths = [mm for rows in plan.rows for mm in rows.inside]
    above, below = [mm for mm in depths if mm < middle], [mm for mm in depths if mm > middle]
    return (max(above), min(below)) if above and below else None


def neighbour(line: EdgeLine, after: bool) -> Edge:
    """The edge that goes on where this one ends, or the one before it."""
    loop = next(loop for loop in line.piece.flat.loops if any(e.name == line.name for e in loop))
    number = [edge.name for edge in loop].index(line.name)
    return loop[(number + (1 if after else -1)) % len(loop)]


def _out(plan: AlongPlan) -> float:
    return max(plan.outside, -plan.thing.inside if plan.thing else 0.0)


def _depth(plan: AlongPlan) -> float:
    if plan.thing and plan.thing.at:
        return min(plan.thing.long, _SEEN)
    far = [mm for rows in plan.rows for mm in rows.inside]
    if plan.thing:
        beside = plan.thing.lap > 0 and plan.thing.width <= THIN
        far.append(plan.thing.far + (plan.thing.width if beside else 0.0))
    return max([*far, 3.0])
