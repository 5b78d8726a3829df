"""Room for words: what is found is free, and what is free is found."""

from __future__ import annotations

import cmath
import math

from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, Polygon

from notchbook.composing.lettering.placing import Lines, Tile, Wall, cross_over, touches
from notchbook.composing.lettering.room import room
from notchbook.drafting.geometry.box import Box

POINTS = st.builds(complex, st.floats(0, 100), st.floats(0, 60))
WALLS = st.lists(st.tuples(POINTS, POINTS), max_size=12)
TILES = st.builds(
    Tile, POINTS, st.floats(2, 30), st.floats(2, 6), st.sampled_from([1, -1j, cmath.rect(1, 0.6)])
)
PAGE = Tile(50 + 30j, 100, 60)


def shape(tile: Tile) -> Polygon:
    return Polygon([(p.real, p.imag) for p in tile.corners])


def line(wall: Wall) -> LineString:
    return LineString([(p.real, p.imag) for p in wall])


@given(WALLS, st.lists(TILES, max_size=4), POINTS, st.sampled_from([1, -1j, cmath.rect(1, 0.4)]))
@settings(deadline=None, max_examples=40)
def test_what_is_found_is_on_the_page_and_touches_nothing(
    walls: list[Wall], tiles: list[Tile], target: complex, turn: complex
) -> None:
    free = room(PAGE.sides, walls, tiles, cell=1.0, turn=turn)
    for tile in free.spots(14, 5, 1.0).nearby(target, 5):
        airy = shape(tile.grown(1.0 - 1e-9))
        assert shape(PAGE).contains(airy)
        assert not any(airy.intersects(line(wall)) for wall in walls)
        assert not any(airy.intersection(shape(other)).area > 1e-9 for other in tiles)


def test_on_an_empty_page_it_is_where_one_asks_for_it() -> None:
    tile = room(PAGE.sides, cell=1.0).spots(14, 5).nearest(40 + 20j)
    assert tile is not None
    assert abs(tile.centre - (40 + 20j)) <= math.sqrt(0.5) + 1e-9


def test_a_page_ruled_closely_has_no_room() -> None:
    rules = [(complex(0, y), complex(100, y)) for y in range(0, 60, 5)]
    assert room(PAGE.sides, rules, cell=1.0).spots(14, 5).nearest(50 + 30j) is None


@given(WALLS, TILES)
@settings(deadline=None, max_examples=60)
def test_lines_are_found_by_place_as_if_all_were_looked_at(walls: list[Wall], tile: Tile) -> None:
    lines = Lines.of(walls)
    assert lines.touch(tile) == any(touches(tile, wall) for wall in walls)
    for wall in walls[:2]:
        assert lines.cross(wall) == any(cross_over(wall, other) for other in walls)
    near = list(lines.near(Box(0, 100 + 60j)))
    assert sorted(map(str, near)) == sorted(map(str, walls)), "each once"


@given(st.lists(POINTS, min_size=3, max_size=7, unique=True), POINTS)
@settings(deadline=None, max_examples=60)
def test_a_point_is_held_by_an_outline_it_lies_in(corners: list[complex], point: complex) -> None:
    outline = Lines.of((corners[k - 1], corners[k]) for k in range(len(corners)))
    area = Polygon([(p.real, p.imag) for p in corners])
    spot = LineString([(point.real, point.imag), (1000, point.imag)])
    if area.is_valid and area.exterior.distance(spot.boundary) > 1e-6:
        assert outline.hold(point) == area.contains(spot.boundary.geoms[0])
