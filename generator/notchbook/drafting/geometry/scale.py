"""A path drawn larger or smaller about the origin."""

from __future__ import annotations

from notchbook.drafting.geometry.path import Path
from notchbook.drafting.geometry.segments import Arc, Segment


def scaled(path: Path, factor: float) -> Path:
    """Every point p of ``path`` taken to ``p * factor``; the factor is above nought."""
    return Path(tuple(_scaled(segment, factor) for segment in path.segments))


def _scaled(segment: Segment, factor: float) -> Segment:
    if isinstance(segment, Arc):
        return Arc(segment.centre * factor, segment.radius * factor, segment.begin, segment.sweep)
    # Lines and Béziers go where their points go.
    return segment.moved(factor, 0)
