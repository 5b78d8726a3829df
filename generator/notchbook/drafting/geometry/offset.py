"""The parallel of a smooth path: every point moved the same distance square to its direction."""

from __future__ import annotations

from collections.abc import Sequence

from notchbook.drafting.geometry.fit import End, fit
from notchbook.drafting.geometry.path import Path
from notchbook.drafting.geometry.segments import Arc, Cubic, Line, Segment
from notchbook.drafting.geometry.vector import TOUCH, cross, flip

TOLERANCE = 0.005
"""How far a parallel of a cubic, which has no exact form, may stray (mm)."""

_Form = tuple[float, ...]
Known = dict[_Form, tuple[Cubic, Sequence[Segment]]]
"""Cubics whose parallels have been laid, by their form and the distance. A parallel turns and flips
with its curve, and ovals and mirrored halves have every piece two or four times."""


def offset(path: Path, distance: float) -> Path:
    """The parallel of ``path`` at ``distance`` mm to the left of travel, which is out of the cloth
    (negative: to the right, into it).

    Lines and arcs are exact, cubics within 0.005 mm. Segments that join smoothly in ``path`` join
    in the parallel; ends are not extended, and a corner comes out torn: the parallels of its two
    sides must then be joined by who asks (see ``allowance``).

    ValueError, in a sentence, where the path bends so tightly that its parallel would turn back
    on itself.
    """
    known: Known = {}
    found: list[Segment] = []
    for segment in path.segments:
        found.extend(parallel(segment, distance, known))
    return Path(tuple(found))


def parallel(segment: Segment, distance: float, known: Known) -> Sequence[Segment]:
    """The parallel of one segment: see ``offset``. ``known`` are those laid so far; a new one is
    added."""
    if distance == 0:
        return (segment,)
    match segment:
        case Line(start, end):
            out = segment.tangent(0) * -1j * distance
            return [Line(start + out, end + out)]
        case Arc(centre, radius, begin, sweep):
            # Left of travel is away from the centre of an arc that runs clockwise.
            grown = radius + distance if sweep > 0 else radius - distance
            if grown < TOUCH:
                raise ValueError(_too_tight(radius, distance))
            return [Arc(centre, grown, begin, sweep)]
        case Cubic():
            return _alike(segment, distance, known)


def _alike(cubic: Cubic, distance: float, known: Known) -> Sequence[Segment]:
    """The parallel of a cubic, from that of its like where there is one: the same one elsewhere, or
    its mirror image travelled the other way, which has its cloth on the same side."""
    chord = cubic.end - cubic.start
    size = abs(chord)
    if size < TOUCH:
        return _cubic(cubic, distance)
    leave, arrive = (cubic.leave - cubic.start) / chord, (cubic.end - cubic.arrive) / chord
    form = (
        distance,
        round(size, 9),
        round(leave.real, 10),
        round(leave.imag, 10),
        round(arrive.real, 10),
        round(arrive.imag, 10),
    )
    if form in known:
        other, laid = known[form]
        turn = chord / (other.end - other.start)
        shift = cubic.start - other.start * turn
        return [segment.moved(turn, shift) for segment in laid]
    image = (*form[:2], form[4], -form[5], form[2], -form[3])
    if image in known:
        other, laid = known[image]
        turn = chord / (flip(other.start) - flip(other.end))
        shift = cubic.start - flip(other.end) * turn
        return [segment.reversed().mirrored().moved(turn, shift) for segment in reversed(laid)]
    laid = _cubic(cubic, distance)
    known[form] = cubic, laid
    return laid


def _cubic(cubic: Cubic, distance: float) -> Sequence[Segment]:
    """The parallel of c is c + d·n with n = −i·c′/|c′|. As n turns with c, its derivative is
    c′·(1 + d·κ), where κ = c′ × c″ ÷ |c′|³ is the curvature (positive clockwise). Where 1 + d·κ
    reaches nought the parallel turns back on itself."""
    p = cubic.start
    a = 3 * (cubic.leave - p)
    b = 3 * (cubic.arrive - cubic.leave) - a
    c = cubic.end - p - a - b

    def at(t: float) -> End:
        # c, c′ and c″ written out: every cutting line comes through here many times.
        here = p + t * (a + t * (b + t * c))
        speed = a + t * (2 * b + 3 * t * c)
        size = abs(speed)
        if size < TOUCH:
            return here + cubic.tangent(t) * -1j * distance, 0j
        bend = cross(speed, 2 * b + 6 * t * c) / (size * size * size)
        grown = 1 + distance * bend
        if grown <= 0:
            raise ValueError(_too_tight(abs(1 / bend), distance))
        return here - speed * (1j * distance / size), speed * grown

    return fit(at, 0.0, 1.0, TOLERANCE, pieces=1).segments


def _too_tight(radius: float, distance: float) -> str:
    return (
        f"The line bends with a radius of {radius:.1f} mm, "
        f"too tight for a parallel {abs(distance):.1f} mm inside the bend."
    )
