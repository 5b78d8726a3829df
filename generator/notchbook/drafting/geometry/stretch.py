"""A stretch of a path by distances along it, and points and paths mirrored across any line."""

from __future__ import annotations

from notchbook.drafting.geometry.path import Path
from notchbook.drafting.geometry.segments import Segment
from notchbook.drafting.geometry.vector import TOUCH, Point, unit


def stretch(path: Path, start: float, end: float) -> Path:
    """The part of ``path`` from ``start`` to ``end`` mm along it. Both within its length, and apart
    from each other."""
    found: list[Segment] = []
    passed = 0.0
    for segment in path.segments:
        length = segment.length()
        low, high = max(start - passed, 0.0), min(end - passed, length)
        if high - low > TOUCH:
            t0 = segment.share_at(low, length) if low > TOUCH else 0.0
            t1 = segment.share_at(high, length) if high < length - TOUCH else 1.0
            found.append(segment if (t0, t1) == (0.0, 1.0) else segment.part(t0, t1))
        passed += length
    return Path(tuple(found))


def across(point: Point, a: Point, b: Point) -> Point:
    """``point`` mirrored across the line through ``a`` and ``b``."""
    along = unit(b - a)
    return a + along * along * (point - a).conjugate()


def path_across(path: Path, a: Point, b: Point) -> Path:
    """``path`` mirrored across the line through ``a`` and ``b``, its direction of travel kept with
    its points. With u the line's direction, z goes to a + u²·(z − a)*, and ``mirrored`` takes z to
    −z*."""
    turn = unit(b - a) ** 2
    return path.mirrored().moved(-turn, a - turn * a.conjugate())
