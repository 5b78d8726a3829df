"""Places inside an outline: what lies within, and where there is room to write.

An area is given as polygons, the outline and its holes in any order and direction: a point belongs
to it when a ray from the point crosses their sides an odd number of times.
"""

from __future__ import annotations

import heapq
import itertools
import math
from collections.abc import Sequence

from notchbook.drafting.geometry.path import Point, cross

Polygon = Sequence[Point]
_Side = tuple[float, float, float, float]
"""A side of a polygon: its start's x and y, and from there how far across and down it goes."""


def contains(polygon: Polygon, point: Point) -> bool:
    """Whether ``point`` lies inside ``polygon`` (closed or not: the last side is understood)."""
    return _within(_sides([polygon]), point.real, point.imag)


def label_spot(polygons: Sequence[Polygon], precision: float = 1.0) -> tuple[Point, float]:
    """The place in an area farthest from every side, and how far (mm): the middle of the largest
    circle that fits, to ``precision`` mm or 8 % of it, whichever is coarser.

    The bounding box is divided into squares. No point of a square of half side h lies farther from
    the sides than its middle does, plus h√2; the most promising square is quartered first, until
    none promises more than is found already.
    """
    sides = _sides(polygons)
    xs = [point.real for polygon in polygons for point in polygon]
    ys = [point.imag for polygon in polygons for point in polygon]
    left, top, right, bottom = min(xs), min(ys), max(xs), max(ys)
    half = max(min(right - left, bottom - top) / 2, 1e-6)
    order = itertools.count()
    queue: list[tuple[float, int, float, float, float]] = []

    def add(x: float, y: float, h: float) -> tuple[float, Point]:
        distance = _signed_distance(sides, x, y)
        heapq.heappush(queue, (-(distance + h * math.sqrt(2)), next(order), x, y, h))
        return distance, complex(x, y)

    found = [
        add(left + half * (2 * i + 1), top + half * (2 * j + 1), half)
        for j in range(math.ceil((bottom - top) / (2 * half)))
        for i in range(math.ceil((right - left) / (2 * half)))
    ]
    best, spot = max(found, key=lambda entry: entry[0])
    while queue:
        promise, _, x, y, h = heapq.heappop(queue)
        if -promise - best <= max(precision, 0.08 * best):
            break
        h /= 2
        for dx, dy in ((-h, -h), (h, -h), (-h, h), (h, h)):
            distance, here = add(x + dx, y + dy, h)
            if distance > best:
                best, spot = distance, here
    return spot, best


def room(polygons: Sequence[Polygon], width: float, height: float) -> Point | None:
    """The centre of an upright rectangle of ``width`` × ``height`` mm that fits into an area, as
    near to the area's middle as a grid of 24 × 24 places finds one; None where none of them fits.

    The test of a place is exact: no side of the area enters the rectangle, and its centre is
    inside.
    """
    sides = _sides(polygons)
    xs = [point.real for polygon in polygons for point in polygon]
    ys = [point.imag for polygon in polygons for point in polygon]
    left, right = min(xs) + width / 2, max(xs) - width / 2
    top, bottom = min(ys) + height / 2, max(ys) - height / 2
    if right < left or bottom < top:
        return None
    middle = _middle(max(polygons, key=lambda polygon: abs(_area(polygon))))
    places = [
        complex(left + (right - left) * i / 24, top + (bottom - top) * j / 24)
        for j in range(25)
        for i in range(25)
    ]
    inside = complex(min(max(middle.real, left), right), min(max(middle.imag, top), bottom))
    for place in [inside, *sorted(places, key=lambda place: abs(place - middle))]:
        if _fits(sides, place, width / 2, height / 2):
            return place
    return None


def _sides(polygons: Sequence[Polygon]) -> list[_Side]:
    return [
        (a.real, a.imag, b.real - a.real, b.imag - a.imag)
        for polygon in polygons
        for a, b in zip(polygon, (*polygon[1:], polygon[0]), strict=True)
        if a != b
    ]


def _within(sides: list[_Side], x: float, y: float) -> bool:
    inside = False
    for ax, ay, dx, dy in sides:
        if (ay > y) != (ay + dy > y) and x < ax + dx * (y - ay) / dy:
            inside = not inside
    return inside


def _signed_distance(sides: list[_Side], x: float, y: float) -> float:
    """How far the nearest side is, negative outside."""
    least = math.inf
    inside = False
    for ax, ay, dx, dy in sides:
        px, py = x - ax, y - ay
        if (py < 0) != (py < dy) and px < dx * py / dy:
            inside = not inside
        share = (px * dx + py * dy) / (dx * dx + dy * dy)
        if share > 0:
            share = min(share, 1.0)
            px -= dx * share
            py -= dy * share
        square = px * px + py * py
        least = min(least, square)
    return math.sqrt(least) if inside else -math.sqrt(least)


def _fits(sides: list[_Side], centre: Point, half_width: float, half_height: float) -> bool:
    x, y = centre.real, centre.imag
    left, right, top, bottom = x - half_width, x + half_width, y - half_height, y + half_height
    for ax, ay, dx, dy in sides:
        bx, by = ax + dx, ay + dy
        beside = (ax <= left and bx <= left) or (ax >= right and bx >= right)
        if beside or (ay <= top and by <= top) or (ay >= bottom and by >= bottom):
            continue
        # A side that is not wholly beyond one border enters unless all corners lie on one hand.
        hands = [dx * (y0 - ay) - dy * (x0 - ax) for x0 in (left, right) for y0 in (top, bottom)]
        if min(hands) < 0 < max(hands):
            return False
    return _within(sides, x, y)


def _area(polygon: Polygon) -> float:
    return sum(cross(a, b) for a, b in zip(polygon, (*polygon[1:], polygon[0]), strict=True)) / 2


def _middle(polygon: Polygon) -> Point:
    """The centre of gravity."""
    area = _area(polygon)
    if not area:
        return sum(polygon) / len(polygon)
    origin = polygon[0]
    moved = [point - origin for point in polygon]
    total = sum((a + b) * cross(a, b) for a, b in zip(moved, (*moved[1:], moved[0]), strict=True))
    return origin + total / (6 * area)
