"""The parallel of a smooth path: every point moved the same distance square to its direction."""

from __future__ import annotations

from collections.abc import Sequence

from notchbook.drafting.geometry.fit import End, fit
from notchbook.drafting.geometry.path import TOUCH, Arc, Cubic, Line, Path, Segment, cross

TOLERANCE = 0.005
"""How far a parallel of a cubic, which has no exact form, may stray (mm)."""


def offset(path: Path, distance: float) -> Path:
    """The parallel of ``path`` at ``distance`` mm to the left of travel, which is out of the cloth
    (negative: to the right, into it).

    Lines and arcs are exact, cubics within 0.005 mm. Segments that join smoothly in ``path`` join
    in the parallel; ends are not extended, and a corner comes out torn: the parallels of its two
    sides must then be joined by who asks (see ``allowance``).

    ValueError, in a sentence, where the path bends so tightly that its parallel would turn back
    on itself.
    """
    found: list[Segment] = []
    for segment in path.segments:
        found.extend(parallel(segment, distance))
    return Path(tuple(found))


def parallel(segment: Segment, distance: float) -> Sequence[Segment]:
    """The parallel of one segment: see ``offset``."""
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
            return _cubic(segment, distance)


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
