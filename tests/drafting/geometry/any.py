"""Any line, arc, curve and smooth convex outline, for property tests."""

from __future__ import annotations

import cmath
import math

from hypothesis import strategies as st

from notchbook.drafting.geometry.fit import fit
from notchbook.drafting.geometry.path import Path, circle
from notchbook.drafting.geometry.segments import Arc, Cubic, Line, Segment
from notchbook.drafting.geometry.vector import Point

coordinates = st.floats(-300, 300).map(lambda x: round(x, 3))
points = st.builds(complex, coordinates, coordinates)
directions = st.floats(-math.pi, math.pi).map(lambda angle: cmath.rect(1, angle))
shares = st.floats(0.05, 0.95)

lines = st.builds(Line, points, points).filter(lambda line: line.length() > 1)
arcs = st.builds(
    Arc,
    points,
    st.floats(5, 300),
    st.floats(-math.pi, math.pi),
    st.floats(0.1, 6).flatmap(lambda sweep: st.sampled_from([sweep, -sweep])),
)


def bend(start: Point, turn: complex, length: float, leave: float, arrive: float) -> Cubic:
    """A bend of moderate curvature: handles of a third, turned by the two angles."""
    end = start + turn * length
    third = turn * length / 3
    return Cubic(
        start, start + third * cmath.rect(1, leave), end - third * cmath.rect(1, arrive), end
    )


cubics = st.builds(
    bend, points, directions, st.floats(10, 300), st.floats(-0.9, 0.9), st.floats(-0.9, 0.9)
)
segments = st.one_of(lines, arcs, cubics)


def ellipse(a: float, b: float, tolerance: float = 0.001) -> Path:
    """Half axes ``a`` across and ``b`` down, clockwise from the right."""
    return fit(
        lambda t: (
            complex(a * math.cos(t), b * math.sin(t)),
            complex(-a * math.sin(t), b * math.cos(t)),
        ),
        0.0,
        math.tau,
        tolerance,
    )


def stadium(length: float, radius: float) -> Path:
    """A rectangle with half discs at its ends, clockwise from the top left."""
    r = radius
    return Path(
        (
            Line(0, length + 0j),
            Arc(complex(length, r), r, -math.pi / 2, math.pi),
            Line(complex(length, 2 * r), complex(0, 2 * r)),
            Arc(complex(0, r), r, math.pi / 2, math.pi),
        )
    )


sizes = st.floats(40, 300)
convex = st.one_of(
    st.builds(lambda radius: circle(0, radius), sizes),
    st.builds(stadium, sizes, sizes),
    st.builds(lambda a, ratio: ellipse(a, a * ratio), sizes, st.floats(0.6, 1.7)),
)


def path_of(segment: Segment) -> Path:
    """The segment as a path."""
    return Path((segment,))
