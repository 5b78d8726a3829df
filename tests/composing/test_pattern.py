"""All pieces at true scale on one drawing."""

from __future__ import annotations

import re
from itertools import combinations
from xml.etree import ElementTree

import pytest
from shapely.geometry import box

from notchbook.composing.drawing import Group
from notchbook.composing.lettering.placing import extent
from notchbook.composing.markup.svg import svg
from notchbook.composing.pattern import pattern
from notchbook.drafting.geometry.box import bounds
from tests.composing.geometry import collisions, outside, strokes, texts
from tests.composing.sample import hat, setting

HAT = hat()
DRAWING = pattern(HAT, setting())
PIECES = [item for item in DRAWING.items if isinstance(item, Group) and "piece" in item.data]
SVG = "{http://www.w3.org/2000/svg}"


def test_every_piece_is_there_once_at_true_size() -> None:
    assert [group.data["piece"] for group in PIECES] == list(HAT.pieces)
    for group in PIECES:
        drawn = bounds(strokes((group,), "cut")[0].paths)
        made = bounds(HAT.pieces[group.data["piece"]].cut_lines[0].loops)
        assert drawn.width == pytest.approx(made.width, abs=1e-9)
        assert drawn.height == pytest.approx(made.height, abs=1e-9)


def test_pieces_keep_20_mm_from_each_other() -> None:
    extents = [extent((group,), setting()) for group in PIECES]
    boxes = [box(e.low.real, e.low.imag, e.high.real, e.high.imag) for e in extents]
    assert min(a.distance(b) for a, b in combinations(boxes, 2)) >= 20 - 1e-9


def test_nothing_overlaps_and_nothing_leaves_the_drawing() -> None:
    assert collisions(DRAWING.items, setting()) == []
    assert outside(DRAWING, setting()) == []


def test_the_check_rulers_measure_150_mm_and_5_in() -> None:
    lines = [stroke for stroke in strokes(DRAWING.items, "ruler") if "ruler" in stroke.data]
    metric, inch = (bounds(stroke.paths) for stroke in lines)
    assert metric.width == pytest.approx(150, abs=1e-9)
    assert inch.width == pytest.approx(127, abs=1e-9)
    assert {"150 mm", "5 in"} <= {text.text for text in texts(DRAWING.items)}


def test_the_heading_names_recipe_size_and_edition() -> None:
    assert "Lamplighter’s hat, size 57 cm, edition 1" in {t.text for t in texts(DRAWING.items)}
    assert DRAWING.title == "Lamplighter’s hat: pattern, size 57 cm"


def test_the_file_has_the_structure_others_rely_on() -> None:
    root = ElementTree.fromstring(svg(DRAWING, standalone=True, setting=setting()))
    brim = next(g for g in root.iter(f"{SVG}g") if g.attrib.get("data-piece") == "brim")
    assert brim.attrib["id"] == "piece-brim"
    paths = list(brim.iter(f"{SVG}path"))
    by_class = {name: [p for p in paths if name in p.attrib["class"].split()] for name in
                ("cut", "stitch", "notch", "grain")}  # fmt: skip
    cut = [p for p in by_class["cut"] if "data-cloth" in p.attrib]
    assert [p.attrib["data-cloth"] for p in cut] == ["shell lining", "interfacing"]
    assert all(p.attrib["d"].count("M") == 2 for p in cut)
    assert [p.attrib["data-edge"] for p in by_class["stitch"]] == ["outer", "inner"]
    assert by_class["notch"] and len(by_class["grain"]) == 1
    assert len({e.attrib["id"] for e in root.iter() if "id" in e.attrib}) == sum(
        "id" in e.attrib for e in root.iter()
    )


def test_a_wide_row_is_broken() -> None:
    width = float(re.findall(r'width="([\d.]+)mm"', svg(DRAWING))[0])
    assert width <= 1500 + 2 * 20
