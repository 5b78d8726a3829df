"""What tests of drawings look at: where type and lines lie, by a second library."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import combinations

from shapely import LineString, Polygon, affinity
from shapely.geometry import box

from notchbook.composing.drawing import Drawing, Fill, Group, Item, Stroke, Text
from notchbook.composing.setting import Setting
from notchbook.composing.symbols import TYPES
from notchbook.drafting.geometry.path import Path


def opened(items: Iterable[Item]) -> Iterator[Stroke | Fill | Text]:
    """Everything drawn, groups opened."""
    for item in items:
        if isinstance(item, Group):
            yield from opened(item.items)
        else:
            yield item


def texts(items: Iterable[Item]) -> list[Text]:
    return [item for item in opened(items) if isinstance(item, Text)]


def strokes(items: Iterable[Item], role: str) -> list[Stroke]:
    return [item for item in opened(items) if isinstance(item, Stroke) and item.role == role]


def type_box(text: Text, setting: Setting) -> Polygon:
    """The box of a text: as wide as its characters, from the letters' feet to capital height."""
    width = setting.width(text.text, text.size, TYPES[text.role].weight)
    left = {"start": 0.0, "middle": -width / 2, "end": -width}[text.anchor]
    x, y = text.at.real, text.at.imag
    level = box(x + left, y - 0.7 * text.size, x + left + width, y + 0.2 * text.size)
    return affinity.rotate(level, text.angle, origin=(x, y))


def line(path: Path) -> LineString:
    return LineString([(p.real, p.imag) for p in path.points(0.02)])


def area(loops: tuple[Path, ...]) -> Polygon:
    """Closed paths as an area, the first being the outline."""
    outline, *holes = ([(p.real, p.imag) for p in loop.points(0.02)] for loop in loops)
    return Polygon(outline, holes)


def collisions(items: Iterable[Item], setting: Setting) -> list[tuple[str, str]]:
    """Every two texts that overlap."""
    boxes = [(text.text, type_box(text, setting)) for text in texts(items)]
    return [
        (one, other)
        for (one, a), (other, b) in combinations(boxes, 2)
        if a.intersection(b).area > 1e-6
    ]


def struck(items: Iterable[Item], setting: Setting) -> list[str]:
    """Every text that a line runs through."""
    drawn = list(opened(items))
    lines = [line(path) for item in drawn if isinstance(item, Stroke) for path in item.paths]
    boxes = [(item.text, type_box(item, setting)) for item in drawn if isinstance(item, Text)]
    return [text for text, tile in boxes if any(tile.intersects(other) for other in lines)]


def outside(drawing: Drawing, setting: Setting) -> list[str]:
    """Every text or line that leaves the drawing's box."""
    low, high = drawing.box.low, drawing.box.high
    page = box(low.real, low.imag, high.real, high.imag)
    found: list[str] = []
    for item in opened(drawing.items):
        if isinstance(item, Text):
            found += [item.text] * (not page.contains(type_box(item, setting)))
        else:
            found += [item.role for path in item.paths if not page.contains(line(path))]
    return found
