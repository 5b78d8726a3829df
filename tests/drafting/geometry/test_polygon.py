"""Places inside outlines."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, Polygon, box

from notchbook.drafting.geometry.path import Arc, Path, circle, polyline
from notchbook.drafting.geometry.polygon import contains, label_spot, room
from tests.drafting.geometry.any import convex, points

L = [0, 200, 200 + 60j, 80 + 60j, 80 + 150j, 150j]
RING = [circle(0, 240).points(), circle(0, 90).points()]
SECTOR = [
    *Path((Arc(0j, 460, 1, 1.2),)).points(0.5),
    *Path((Arc(0j, 150, 2.2, -1.2),)).points(0.5),
]
few = settings(deadline=None, max_examples=25)


def shape(polygons: list[list[complex]]) -> Polygon:
    outline, *holes = ([(p.real, p.imag) for p in polygon] for polygon in polygons)
    return Polygon(outline, holes)


@few
@given(points)
def test_inside_and_outside_as_shapely_sees_it(point: complex) -> None:
    x, y = point.real, point.imag
    for polygon in (L, SECTOR, RING[0]):
        area = shape([polygon])
        if area.exterior.distance(LineString([(x, y), (x, y + 1e-9)])) > 1e-6:
            assert contains(polygon, point) == area.contains(box(x, y, x + 1e-9, y + 1e-9))


def test_the_way_round_and_a_repeated_first_point_do_not_matter() -> None:
    for polygon in (L, L[::-1], [*L, L[0]]):
        assert contains(polygon, 40 + 100j)
        assert not contains(polygon, 120 + 100j)


@few
@given(convex)
def test_the_label_spot_of_an_outline_is_as_far_in_as_it_says(path: Path) -> None:
    polygon = path.points()
    spot, radius = label_spot([polygon])
    assert contains(polygon, spot)
    line = LineString([(p.real, p.imag) for p in [*polygon, polygon[0]]])
    from_shapely = line.distance(LineString([(spot.real, spot.imag), (spot.real, spot.imag)]))
    assert radius == pytest.approx(from_shapely, abs=1e-6)


def test_the_label_spot_of_known_areas() -> None:
    spot, radius = label_spot([circle(30 + 20j, 50).points(0.01)])
    assert abs(spot - (30 + 20j)) < 5
    assert radius == pytest.approx(50, rel=0.08)
    spot, radius = label_spot(RING)
    assert radius == pytest.approx(75, rel=0.08)
    assert abs(spot) == pytest.approx(165, abs=7)
    # A circle of radius r in the inner corner of the L touches both outer sides: r = 41.8 mm.
    _, radius = label_spot([L])
    assert radius == pytest.approx(41.8, rel=0.08)
    assert label_spot([L], precision=0.01)[1] <= 41.81


@few
@given(st.floats(5, 300), st.floats(5, 300))
def test_a_rectangle_that_fits_is_wholly_inside(width: float, height: float) -> None:
    for polygons in ([L], [SECTOR], RING):
        spot = room(polygons, width, height)
        if spot is not None:
            x, y = spot.real, spot.imag
            frame = box(x - width / 2, y - height / 2, x + width / 2, y + height / 2)
            assert shape(polygons).buffer(1e-6).contains(frame)


@few
@given(st.floats(10, 90), st.floats(10, 90))
def test_a_rectangle_much_smaller_than_the_largest_circle_is_given_room(
    width: float, height: float
) -> None:
    for polygons in ([L], [SECTOR], RING):
        _, radius = label_spot(polygons)
        if math.hypot(width, height) / 2 < 0.8 * radius:
            assert room(polygons, width, height) is not None


def test_room_is_as_near_to_the_middle_as_may_be() -> None:
    square = polyline(0, 100, 100 + 100j, 100j).points()
    assert room([square], 40, 20) == pytest.approx(50 + 50j)
    spot = room(RING, 60, 40)
    assert spot is not None
    assert abs(spot) < 150


def test_what_is_too_large_gets_no_room() -> None:
    assert room([L], 300, 10) is None
    assert room([L], 150, 100) is None
    assert room(RING, 160, 160) is None


def test_a_hole_inside_the_rectangle_is_seen() -> None:
    square = polyline(0, 100, 100 + 100j, 100j).points()
    hole = circle(50 + 50j, 2).points(0.01)
    spot = room([square, hole], 60, 30)
    assert spot is not None
    assert abs(spot.imag - 50) >= 16.9
    assert room([square, hole], 96, 96) is None
