"""The squares that triangles are sorted into, against a look at every triangle."""

from __future__ import annotations

from random import Random

from notchbook.composing.solids.surface import Surface
from notchbook.composing.solids.view import degrees, scene
from notchbook.drafting.geometry.develop import Point3
from notchbook.drafting.geometry.vector import cross


def test_a_point_is_covered_where_any_triangle_is() -> None:
    """Long slanted triangles pass through few of the squares in the box round them."""
    draw = Random(7)

    def point() -> Point3:
        return draw.uniform(0, 100), draw.uniform(0, 100), draw.uniform(0, 100)

    view = degrees(32, 20)
    corners = [(point(), point(), point()) for _ in range(12)]
    surfaces = [Surface(((a, b), (c, c)), {}, closed=False) for a, b, c in corners]
    made = scene(list(enumerate(surfaces)), view)
    seen = [[view.seen(p)[0] for p in three] for three in corners]
    covered = 0
    for _ in range(3000):
        at = complex(draw.uniform(-130, 10), draw.uniform(-110, 60))
        inside = False
        for a, b, c in seen:
            sides = [cross(q - p, at - p) for p, q in ((a, b), (b, c), (c, a))]
            inside |= all(side > 0 for side in sides) or all(side < 0 for side in sides)
        assert made.covered(at) == inside
        covered += inside
    assert 300 < covered < 2900
