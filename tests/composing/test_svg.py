"""Drawings as SVG: true to size, exact, self-contained, and the same every time."""

from __future__ import annotations

import cmath
import math
import re
from dataclasses import replace
from xml.etree import ElementTree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from notchbook.composing.drawing import Drawing, Fill, Group, Item, Stroke, Text
from notchbook.composing.markup.svg import number, path_data, svg
from notchbook.drafting.geometry.box import Box
from notchbook.drafting.geometry.path import Path, circle, polyline
from notchbook.drafting.geometry.segments import Arc, Cubic, Line
from tests.composing.sample import setting

SVG = "{http://www.w3.org/2000/svg}"
SQUARE = polyline(0, 10, 10 + 10j, 10j, 0)


def drawing(*items: Item, description: str = "") -> Drawing:
    return Drawing(Box(-5 - 2.5j, 205 + 97.5j), items, "Two rings & a <strip>", description)


def standalone(*items: Item, description: str = "") -> ElementTree.Element:
    return ElementTree.fromstring(svg(drawing(*items, description=description), standalone=True))


def test_one_unit_is_one_millimetre() -> None:
    root = standalone()
    assert root.tag == f"{SVG}svg"
    assert root.attrib["width"] == "210mm"
    assert root.attrib["height"] == "100mm"
    assert root.attrib["viewBox"] == "-5 -2.5 210 100"


def test_the_title_comes_first_and_names_the_picture() -> None:
    root = standalone(description="Cut them out.")
    title, desc = list(root)[:2]
    assert (title.tag, title.text) == (f"{SVG}title", "Two rings & a <strip>")
    assert (desc.tag, desc.text) == (f"{SVG}desc", "Cut them out.")
    assert root.attrib["role"] == "img"
    assert root.attrib["aria-labelledby"] == f"{title.attrib['id']} {desc.attrib['id']}"


def test_every_id_carries_the_prefix_and_references_follow() -> None:
    group = Group((Fill((SQUARE,), "wrong-side"),), id="piece-brim", title="Brim")
    text = svg(drawing(group, description="d"), prefix="f3-")
    ids = set(re.findall(r'\bid="([^"]+)"', text))
    assert ids == {"f3-title", "f3-desc", "f3-piece-brim", "f3-wrong-side"}
    assert set(re.findall(r"url\(#([^)]+)\)", text)) <= ids


def test_a_file_that_stands_alone_refers_to_nothing_outside() -> None:
    text = svg(drawing(Stroke((SQUARE,), "cut")), standalone=True, setting=setting())
    assert re.findall(r"https?://[^\"]+", text) == ["http://www.w3.org/2000/svg"]
    assert "style" not in text and "<script" not in text and "href" not in text


def test_a_drawing_within_a_page_brings_no_namespace() -> None:
    assert "xmlns" not in svg(drawing(Stroke((SQUARE,), "cut")))


def test_holes_are_subpaths_of_the_same_element() -> None:
    ring = Stroke((circle(0, 50), circle(0, 20).reversed()), "cut", {"cloth": "shell lining"})
    (path,) = standalone(ring).iter(f"{SVG}path")
    assert path.attrib["class"] == "cut"
    assert path.attrib["data-cloth"] == "shell lining"
    assert path.attrib["d"].count("M") == 2
    assert path.attrib["d"].count("Z") == 2
    assert path.attrib["fill"] == "none"


def test_dashes_and_widths_are_presentation_attributes() -> None:
    (path,) = standalone(Stroke((SQUARE,), "stitch", {"edge": "rim"})).iter(f"{SVG}path")
    assert path.attrib["stroke-width"] == "0.3"
    assert path.attrib["stroke-dasharray"] == "3 1.8"
    assert path.attrib["data-edge"] == "rim"


def test_type_is_set_in_millimetres_where_it_was_placed() -> None:
    (text,) = standalone(Text(3 + 4j, "5⅝ in", "strong", 3.0, "middle", -90)).iter(f"{SVG}text")
    assert text.text == "5⅝\u00a0in"
    assert (text.attrib["x"], text.attrib["y"]) == ("3", "4")
    assert text.attrib["font-size"] == "3"
    assert text.attrib["font-weight"] == "700"
    assert text.attrib["text-anchor"] == "middle"
    assert text.attrib["transform"] == "rotate(-90 3 4)"


def test_authors_straight_quotation_marks_are_printed_as_printers_set_them() -> None:
    drawing = Drawing(
        Box(0, 10 + 10j), (Text(0, 'Walker\'s "best" hat', "name", 3.0),), "A hat's brim"
    )
    root = ElementTree.fromstring(svg(drawing, standalone=True, setting=setting()))
    words = [element.text for element in root.iter() if element.text]
    assert words == ["A hat’s brim", "Walker’s “best” hat"]


def test_type_keeps_its_width_on_machines_without_the_face() -> None:
    words = Text(0, "centre back", "label", 4.0)
    alone = svg(drawing(words), standalone=True, setting=setting())
    held = float(re.findall(r'textLength="([\d.]+)"', alone)[0])
    assert held == pytest.approx(setting().width("centre back", 4.0), abs=1e-4)
    assert "IBM Plex Sans Condensed" in alone
    assert "textLength" not in svg(drawing(words), setting=setting())


@given(
    st.floats(1, 2000),
    st.floats(-10, 10),
    st.floats(0.01, 2 * math.pi) | st.floats(-2 * math.pi, -0.01),
)
@settings(deadline=None, max_examples=60)
def test_arcs_stay_arcs_of_45_degrees_or_less_on_the_same_circle(
    radius: float, begin: float, sweep: float
) -> None:
    data = path_data(Path((Arc(100 + 50j, radius, begin, sweep),)))
    numbers = [float(value) for value in re.findall(r"-?\d+(?:\.\d+)?", data)]
    at = complex(*numbers[:2]) - (100 + 50j)
    total = 0.0
    for k in range(2, len(numbers), 7):
        rx, ry, _, large, way, x, y = numbers[k : k + 7]
        to = complex(x, y) - (100 + 50j)
        assert rx == ry == pytest.approx(radius, abs=1e-4)
        assert large == 0
        assert abs(to) == pytest.approx(radius, abs=2e-4)
        turn = abs(cmath.phase(to / at))
        assert turn <= math.pi / 4 + 1e-3 / radius
        total += turn if way else -turn
        at = to
    assert total == pytest.approx(sweep, abs=1e-3 * max(1, 1 / radius))


def test_lines_and_curves_keep_their_points() -> None:
    path = Path((Line(0, 10), Cubic(10, 12 + 1j, 14 + 3j, 15 + 6j)))
    assert path_data(path) == "M0 0 L10 0 C12 1 14 3 15 6"


@pytest.mark.parametrize(
    ("value", "text"),
    [(1 / 3, "0.3333"), (-0.00004, "0"), (12.0, "12"), (99.99996, "100"), (-2.5, "-2.5")],
)
def test_coordinates_are_rounded_once_to_a_ten_thousandth(value: float, text: str) -> None:
    assert number(value) == text


def test_a_texture_lies_on_a_ground_of_its_own_and_is_defined_once() -> None:
    twice = (Fill((SQUARE,), "wrong-side"), Fill((SQUARE,), "wrong-side"))
    root = standalone(*twice)
    assert len(list(root.iter(f"{SVG}pattern"))) == 1
    fills = [path.attrib["fill"] for path in root.iter(f"{SVG}path")][1:]
    assert fills == ["#fff", "url(#wrong-side)"] * 2


def test_the_same_drawing_gives_the_same_bytes() -> None:
    items = (Stroke((circle(0, 50),), "cut", {"cloth": "a", "edge": "b"}), Text(0, "x", "label", 3))
    assert svg(drawing(*items)) == svg(replace(drawing(*items)))
