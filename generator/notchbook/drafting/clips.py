"""How often a curved allowance is clipped or notched so that it lies flat.

On an edge of curvature κ (one over its radius) a stretch ds has, at a distance w outside it, a
parallel of (1 + κw) ds, where κ counts as positive if the edge bulges outwards. Folded over along
the edge, the allowance comes to lie w inside it, where there is room for (1 − κw) ds: it is 2κw ds
too long on a bulging edge and has to be notched, 2|κ|w ds too short on a hollow one and has to be
clipped. Cuts d apart leave each to make up for 2|κ|wd at its mouth. Keeping that within G gives

    d = G ÷ (2 |κ| w).

A straight edge that is level and curved once its piece is closed, as a tube's, is clipped to spread
round the flat piece it is sewn to. Before that piece is folded back they lie on each other, w
outside a curve of curvature κ: the straight allowance is κw ds too short there, and

    d = G ÷ (|κ| w).

An oval bends most at its ends, so there the cuts lie closest: on an ellipse of half axes a ≥ b by
(a ÷ b)³ closer than at its flat sides.

By common practice a clip may open by 3 mm (12 mm on a head opening of 94 mm radius: one every
11.8 mm), and cloth that is too long shows as a ripple from 1 mm on (6 mm on a brim's edge of 240 mm
radius: a notch every 20 mm).
"""

from __future__ import annotations

from notchbook.drafting.geometry.path import TOUCH, Arc, Cubic, Line, Path, Segment, cross

OPENS = 3.0
"""How far a clip in an allowance that is too short may open, mm."""

RIPPLES = 1.0
"""How much cloth too long may lie between two notches, mm."""

_SAMPLES = 32


def clip_spacing(path: Path, allowance: float, level: Path | None = None) -> float:
    """The closest that cuts into an allowance (mm, outside the path) need to be, mm along the edge.

    ``level`` is what the edge becomes in space, where that lies level. Nowhere more than the path's
    length: where the edge stays straight or has no allowance, nothing has to be cut.
    """
    bends = _bends(path)
    hollow, bulge = -2 * min(bends), 2 * max(bends)
    if level and not hollow and not bulge:
        hollow = max(abs(bend) for bend in _bends(level))
    found = [
        within / (bend * allowance)
        for bend, within in ((hollow, OPENS), (bulge, RIPPLES))
        if bend > 0 and allowance > 0
    ]
    return min([*found, path.length()])


def _bends(path: Path) -> list[float]:
    return [bend for segment in path.segments for bend in _curvatures(segment)]


def _curvatures(segment: Segment) -> list[float]:
    """Curvature along a segment, 1/mm, positive where it turns clockwise, which is where an edge
    with its cloth on the right bulges."""
    match segment:
        case Line():
            return [0.0]
        case Arc(radius=radius, sweep=sweep):
            return [1 / radius if sweep > 0 else -1 / radius]
        case Cubic():
            found = []
            for k in range(_SAMPLES + 1):
                speed = segment.derivative(k / _SAMPLES)
                if abs(speed) > TOUCH:
                    found.append(cross(speed, segment.second(k / _SAMPLES)) / abs(speed) ** 3)
            return found or [0.0]
