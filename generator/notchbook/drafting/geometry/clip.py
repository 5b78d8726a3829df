"""The parts of a path that lie inside a box."""

from __future__ import annotations

import cmath
import math
from collections.abc import Iterator
from itertools import pairwise

from notchbook.drafting.geometry.box import Box
from notchbook.drafting.geometry.path import Path
from notchbook.drafting.geometry.roots import roots
from notchbook.drafting.geometry.segments import Arc, Cubic, Line, Segment
from notchbook.drafting.geometry.vector import TOUCH

_GRAZE = 1e-9


def clip(path: Path, box: Box) -> tuple[Path, ...]:
    """The parts of ``path`` inside ``box``, in the order of travel, its border counted as inside.

    Lines and arcs are split exactly, cubics to 1e-9 of their parameter. Parts that follow each
    other are one path, also across the start of a closed one; a closed path that never leaves the
    box comes back whole.
    """
    runs: list[list[Segment]] = []
    whole = True
    for segment in path.segments:
        side = _side(segment, box)
        shares = [0.0, 1.0] if side else [0.0, *cuts(segment, box), 1.0]
        for t0, t1 in pairwise(shares):
            if side < 0 or (not side and not box.holds(segment.point((t0 + t1) / 2), _GRAZE)):
                whole = False
                continue
            part = segment if (t0, t1) == (0.0, 1.0) else segment.part(t0, t1)
            if runs and abs(runs[-1][-1].end - part.start) < TOUCH:
                runs[-1].append(part)
            else:
                runs.append([part])
    if whole:
        return (path,)
    if len(runs) > 1 and path.closed and abs(runs[-1][-1].end - runs[0][0].start) < 1e-4:
        runs[0] = runs.pop() + runs[0]
    return tuple(Path(tuple(run)) for run in runs)


def _side(segment: Segment, box: Box) -> int:
    """1 for a segment that is surely inside, -1 for one surely outside, 0 for one to look at."""
    match segment:
        case Line(start, end):
            xs = [start.real, end.real]
            ys = [start.imag, end.imag]
        case Arc(centre, radius):
            xs = [centre.real - radius, centre.real + radius]
            ys = [centre.imag - radius, centre.imag + radius]
        case Cubic(start, leave, arrive, end):
            xs = [start.real, leave.real, arrive.real, end.real]
            ys = [start.imag, leave.imag, arrive.imag, end.imag]
    low, high = box.low, box.high
    left, right, top, bottom = min(xs), max(xs), min(ys), max(ys)
    if left >= low.real and right <= high.real and top >= low.imag and bottom <= high.imag:
        return 1
    if right < low.real or left > high.real or bottom < low.imag or top > high.imag:
        return -1
    return 0


def cuts(segment: Segment, box: Box) -> list[float]:
    """The shares, in order and strictly between 0 and 1, at which a segment meets a border line
    of the box (also beyond the box's corners, which does no harm)."""
    found: set[float] = set()
    for level in (box.low.real, box.high.real):
        found.update(_meets(segment, 1 + 0j, level))
    for level in (box.low.imag, box.high.imag):
        found.update(_meets(segment, 1j, level))
    return sorted(t for t in found if _GRAZE < t < 1 - _GRAZE)


def _meets(segment: Segment, along: complex, level: float) -> Iterator[float]:
    """The shares at which the coordinate along x (``along`` 1) or y (``along`` 1j) is ``level``."""

    def part(p: complex) -> float:
        return p.real if along == 1 else p.imag

    match segment:
        case Line(start, end):
            slope = part(end) - part(start)
            if slope:
                yield (level - part(start)) / slope
        case Arc(centre, radius, begin, sweep):
            share = (level - part(centre)) / radius
            if abs(share) >= 1 or not sweep:
                return
            middle = cmath.phase(along)
            spread = math.acos(share)
            for angle in (middle - spread, middle + spread):
                # Every turn of this angle that the sweep passes over.
                turn = math.copysign(math.tau, sweep)
                t = ((angle - begin) % turn) / sweep
                while t < 1:
                    yield t
                    t += math.tau / abs(sweep)
        case Cubic(start, leave, arrive, end):
            values = [part(p) - level for p in (start, leave, arrive, end)]
            if min(values) < 0 < max(values):
                yield from roots(*values)
