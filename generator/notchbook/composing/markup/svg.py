"""A drawing as SVG text: 1 unit is 1 mm, arcs stay arcs, and the same drawing gives the same bytes.

Authors' plain words get printers' quotation marks here, as they do on pages.

Only presentation attributes are used, so that a file stands alone and a page's style sheet still
has the last word. Arcs are split at 45° or less: printers' software turns each stretch into one
cubic, which then misses the circle by less than 0.001 mm.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from xml.etree import ElementTree

import svgwrite.base  # type: ignore[import-untyped]
import svgwrite.container  # type: ignore[import-untyped]
import svgwrite.path  # type: ignore[import-untyped]
import svgwrite.pattern  # type: ignore[import-untyped]
import svgwrite.text  # type: ignore[import-untyped]

from notchbook.composing.drawing import Drawing, Fill, Group, Item, Stroke, Text
from notchbook.composing.setting import Setting
from notchbook.composing.symbols import BLACK, PENS, TYPES, WASHES, Wash
from notchbook.composing.values import curled
from notchbook.drafting.geometry.path import Path
from notchbook.drafting.geometry.segments import Arc, Cubic, Line, Segment
from notchbook.drafting.geometry.vector import Point

_EIGHTH = math.tau / 8


def svg(
    drawing: Drawing,
    *,
    prefix: str = "",
    standalone: bool = False,
    setting: Setting | None = None,
    size: float = 1.0,
) -> str:
    """The drawing as one ``<svg>`` element, ``size`` times as large as it says.

    ``prefix`` goes in front of every id, so that a page's ids stay unique. A ``standalone`` file
    names its own namespace and needs nothing else. With a ``setting``, the label face is named
    (with generic faces to fall back on), and in a standalone file every text is held to the width
    it was placed with, whatever face a reader's machine has.
    """
    box = drawing.box
    root = svgwrite.container.SVG(
        size=(f"{number(box.width * size)}mm", f"{number(box.height * size)}mm"), debug=False
    )
    root.elements.clear()
    root["viewBox"] = " ".join(
        number(value) for value in (box.low.real, box.low.imag, box.width, box.height)
    )
    root["role"] = "img"
    names = [f"{prefix}title"] + [f"{prefix}desc"] * bool(drawing.description)
    root["aria-labelledby"] = " ".join(names)
    if standalone:
        root["xmlns"] = "http://www.w3.org/2000/svg"
    if setting is not None:
        family = setting.typefaces.label[0].family
        root["font-family"] = f"'{family}', 'Arial Narrow', sans-serif"
    root.add(_Words("title", drawing.title, id=names[0]))
    if drawing.description:
        root.add(_Words("desc", drawing.description, id=names[1]))
    textures = sorted(set(_textured(drawing.items)))
    if textures:
        defs = root.add(svgwrite.container.Defs(debug=False))
        for role in textures:
            defs.add(_pattern(WASHES[role], f"{prefix}{role}"))
    held = setting if standalone else None
    for item in drawing.items:
        root.add(_element(item, prefix, held))
    return ElementTree.tostring(root.get_xml(), encoding="unicode")


def number(value: float) -> str:
    """A coordinate rounded to 1e-4 mm, without idle zeros.

    >>> number(12.50004), number(-0.00001)
    ('12.5', '0')
    """
    text = f"{value:.4f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def path_data(path: Path) -> str:
    """A path as SVG path data."""
    parts = [f"M{_point(path.start)}"]
    parts.extend(command for segment in path.segments for command in _commands(segment))
    if path.closed:
        parts.append("Z")
    return " ".join(parts)


class _Words(svgwrite.base.BaseElement):  # type: ignore[misc]
    """An element that holds nothing but text: ``<title>``, ``<desc>``."""

    def __init__(self, element: str, words: str, **attributes: str) -> None:
        self.elementname = element
        super().__init__(debug=False, **attributes)
        self.words = words

    def get_xml(self) -> ElementTree.Element:
        xml: ElementTree.Element = super().get_xml()
        xml.text = _curled(self.words)
        return xml


def _element(item: Item, prefix: str, held: Setting | None) -> svgwrite.base.BaseElement:
    match item:
        case Group():
            element = svgwrite.container.Group(debug=False)
            if item.id:
                element["id"] = f"{prefix}{item.id}"
            if item.title:
                element.add(_Words("title", item.title))
            for child in item.items:
                element.add(_element(child, prefix, held))
            _set_data(element, item.data)
        case Stroke():
            pen = PENS[item.role]
            element = _path(item.paths, pen.classes, item.data)
            element["fill"] = "none"
            element["stroke"] = pen.colour
            element["stroke-width"] = number(pen.width)
            if pen.dash:
                element["stroke-dasharray"] = " ".join(number(value) for value in pen.dash)
            if pen.cap != "butt":
                element["stroke-linecap"] = pen.cap
        case Fill():
            wash = WASHES[item.role]
            element = _path(item.paths, wash.classes, item.data)
            element["fill"] = wash.colour
            element["fill-rule"] = "evenodd"
            if wash.texture:
                # The flat colour goes below on its own: printers' software leaves hairlines
                # between a pattern's tiles.
                ruled = _path(item.paths, "texture", {})
                ruled["fill"] = f"url(#{prefix}{item.role})"
                ruled["fill-rule"] = "evenodd"
                ground, element = element, svgwrite.container.Group(debug=False)
                element.add(ground)
                element.add(ruled)
        case Text():
            element = _text(item, held)
    return element


def _path(
    paths: tuple[Path, ...], classes: str, data: Mapping[str, str]
) -> svgwrite.base.BaseElement:
    element = svgwrite.path.Path(debug=False)
    element.commands = [path_data(path) for path in paths]
    element["class"] = classes
    _set_data(element, data)
    return element


def _text(item: Text, held: Setting | None) -> svgwrite.base.BaseElement:
    look = TYPES[item.role]
    words = _curled(item.text)
    element = svgwrite.text.Text(words, debug=False)
    element["class"] = look.classes
    element["x"], element["y"] = number(item.at.real), number(item.at.imag)
    element["font-size"] = number(item.size)
    if look.weight != 400:
        element["font-weight"] = str(look.weight)
    if item.anchor != "start":
        element["text-anchor"] = item.anchor
    if number(item.angle) != "0":
        element["transform"] = f"rotate({number(item.angle)} {_point(item.at)})"
    if held is not None:
        element["textLength"] = number(held.width(words, item.size, look.weight))
        element["lengthAdjust"] = "spacingAndGlyphs"
    return element


def _curled(words: str) -> str:
    return str(curled(words))


def _pattern(wash: Wash, name: str) -> svgwrite.base.BaseElement:
    texture = wash.texture
    assert texture is not None
    # One long tile, so that few joints show.
    step, long = number(texture.step), number(texture.step * 100)
    pattern = svgwrite.pattern.Pattern(debug=False)
    pattern["id"] = name
    pattern["width"], pattern["height"] = long, step
    pattern["patternUnits"] = "userSpaceOnUse"
    pattern["patternTransform"] = f"rotate({number(texture.angle)})"
    rule = svgwrite.path.Path(d=f"M0 {number(texture.step / 2)} H{long}", debug=False)
    rule["fill"], rule["stroke"] = "none", BLACK
    rule["stroke-width"] = number(texture.width)
    if texture.dash:
        rule["stroke-dasharray"] = " ".join(number(value) for value in texture.dash)
    pattern.add(rule)
    return pattern


def _textured(items: tuple[Item, ...]) -> Iterator[str]:
    for item in items:
        if isinstance(item, Group):
            yield from _textured(item.items)
        elif isinstance(item, Fill) and WASHES[item.role].texture:
            yield item.role


def _set_data(element: svgwrite.base.BaseElement, data: Mapping[str, str]) -> None:
    for key, value in data.items():
        element[f"data-{key}"] = value


def _point(point: Point) -> str:
    return f"{number(point.real)} {number(point.imag)}"


def _commands(segment: Segment) -> Iterator[str]:
    match segment:
        case Line():
            yield f"L{_point(segment.end)}"
        case Arc():
            count = max(math.ceil(abs(segment.sweep) / _EIGHTH - 1e-9), 1)
            size = number(segment.radius)
            way = 1 if segment.sweep > 0 else 0
            for k in range(1, count + 1):
                yield f"A{size} {size} 0 0 {way} {_point(segment.point(k / count))}"
        case Cubic():
            yield f"C{_point(segment.leave)} {_point(segment.arrive)} {_point(segment.end)}"
