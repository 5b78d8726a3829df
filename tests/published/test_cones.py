"""Cones against E. M. Longfield, *Sheet Metal Drafting* (McGraw-Hill 1921), chapter V, and a tin
gallon. Each figure is measured on the outline; each check is seen to fail when ours is 1 % off."""

from __future__ import annotations

import math

import pytest

from notchbook.drafting.shape import Shape
from notchbook.drafting.shapes.cone import draft
from tests.published.checks import INCH, agrees, around, polygon


def degrees(shape: Shape) -> float:
    """The angle between the two seam edges, on the side of the cloth, whose ends are measured."""
    left, right = shape.flat.edges["left"].path, shape.flat.edges["right"].path
    a, b = left.start - left.end, right.end - right.start
    return math.degrees(math.atan2(abs((b.conjugate() * a).imag), (b.conjugate() * a).real))


def test_a_sector_with_an_arc_of_14_in_and_a_radius_of_7_in_has_49_sq_in() -> None:
    shape = draft(rim=14 * INCH, slant=7 * INCH)
    assert agrees(polygon(*shape.flat.outline()).area, 49, 0.001)


def test_a_base_of_5_in_across_and_a_slant_of_12_in() -> None:
    shape = draft(rim=math.pi * 5 * INCH, slant=12 * INCH)
    assert agrees(around(shape.flat.edges["rim"].path), 15.7080, 0.0001)
    assert agrees(polygon(*shape.flat.outline()).area, 94.248, 0.001)
    assert agrees(degrees(shape), 75, 0.001)


def test_a_base_of_4_in_across_and_an_altitude_of_7_in() -> None:
    shape = draft(rim=math.pi * 4 * INCH, height=7 * INCH)
    assert agrees(around(shape.flat.edges["left"].path), 7.280, 0.0005)
    assert agrees(degrees(shape), 98.90, 0.005)
    assert agrees(polygon(*shape.flat.outline()).area, 45.74, 0.005)


def test_a_frustum_6_and_3_in_across_and_3_in_high() -> None:
    shape = draft(rim=math.pi * 6 * INCH, top=math.pi * 3 * INCH, height=3 * INCH)
    edges = shape.flat.edges
    assert agrees(around(edges["right"].path), 3.354, 0.0005)
    assert agrees(polygon(*shape.flat.outline()).area, 47.42, 0.01)
    # The pattern's radii: how far its edges lie from where the two seam edges meet.
    assert agrees(abs(edges["rim"].path.start) / INCH, 6.708, 0.0005)
    assert agrees(abs(edges["top"].path.start) / INCH, 3.354, 0.0005)
    assert agrees(degrees(shape), 161.0, 0.05)


def test_half_a_disc_when_the_slant_is_the_rim_over_pi() -> None:
    """Geometry."""
    shape = draft(rim=600, slant=600 / math.pi)
    left, right = shape.flat.edges["left"].path, shape.flat.edges["right"].path
    assert left.tangent_at(0) == pytest.approx(right.tangent_at(0))


def test_a_quarter_when_the_slant_is_twice_the_rim_over_pi() -> None:
    """Geometry."""
    assert agrees(degrees(draft(rim=600, slant=1200 / math.pi)), 90, 1e-6)


def test_a_tin_gallon_holds_almost_its_legal_231_cubic_inches() -> None:
    """*Popular Science Monthly* 92 (1918), p. 776: 9.80 in high, 6.53 and 4.35 in across."""
    shape = draft(rim=math.pi * 6.53 * INCH, top=math.pi * 4.35 * INCH, height=9.80 * INCH)
    assert shape.form is not None
    assert agrees(shape.form.volume / INCH**3, 230.8, 0.05)


def test_a_cone_rides_up_and_needs_more_rim_on_a_round_head() -> None:
    """Geometry: on a sphere of radius r a cone of rim 2πr and slant s rides up by s − √(s² − r²);
    head 576 mm, slant 460 mm: 9.2 mm, and 11.8 mm more rim."""
    slant, head = 460.0, 576.0
    form = draft(rim=head, slant=slant).form
    assert form is not None
    radius, height = head / math.tau, form.edges["left"].end[2]  # type: ignore[union-attr]
    # The sphere touches the side where its radius is square to it, so its centre, on which the
    # measured line lies, is radius ÷ sin(half angle of the cone) below the apex.
    below = radius / math.sin(math.atan2(radius, height))
    assert agrees(below - height, 9.2, 0.05)
    # A cone that sits at the measured line touches the sphere above it and is wider below.
    wider = draft(rim=head / math.cos(math.asin(radius / slant)), slant=slant)
    assert agrees(around(wider.flat.edges["rim"].path) * INCH - head, 11.8, 0.05)
