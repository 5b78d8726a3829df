"""All sizes of a recipe over each other: what is laid on what, and what says which is which."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest
from shapely.geometry import Point, Polygon

from notchbook.composing.drawing import Group, Stroke
from notchbook.composing.nest import Nest, has_nest, nest
from notchbook.composing.symbols import NESTED
from notchbook.drafting.engine import draft
from notchbook.drafting.geometry.box import bounds
from notchbook.reading.choosing import published
from notchbook.reading.recipe import Recipe
from tests.choosy import choosy
from tests.composing.geometry import outside, strokes, texts
from tests.composing.sample import setting
from tests.recipes import HAT, HEAD, recipe


def nested(made: Recipe) -> Nest:
    return nest([draft(made, size) for size in made.sizes], setting())


@cache
def hat() -> Nest:
    return nested(recipe())


def cuts(layer: Group) -> list[Stroke]:
    return [item for item in layer.items if isinstance(item, Stroke) and item.role in NESTED]


def test_every_size_is_a_layer_with_every_piece_smallest_first() -> None:
    assert [layer.title for layer in hat().layers] == ["56 cm", "57 cm", "58 cm"]
    for layer in hat().layers:
        assert [(s.data["piece"], s.data["cloth"]) for s in cuts(layer)] == [
            ("brim", "shell lining"),
            ("crown", "shell"),
        ]


def test_the_key_shows_each_size_s_line_and_names_it() -> None:
    (key,) = (i for i in hat().ground.items if isinstance(i, Group) and i.id == "key")
    samples = {s.data["key"]: s.role for s in key.items if isinstance(s, Stroke)}
    lines = {layer.data["size"]: {s.role for s in cuts(layer)} for layer in hat().layers}
    assert lines == {size: {role} for size, role in samples.items()}
    assert [text.text for text in texts(key.items)] == ["56 cm", "57 cm", "58 cm"]


def test_rings_of_all_sizes_have_one_middle_and_cones_one_point() -> None:
    made = recipe()
    brims = [bounds(cuts(layer)[0].paths).centre for layer in hat().layers]
    assert max(abs(centre - brims[0]) for centre in brims) < 1e-6
    shifts = []
    for layer, size in zip(hat().layers, made.sizes, strict=True):
        piece = draft(made, size).pieces["crown"]
        shifts.append(cuts(layer)[1].paths[0].start - piece.cut_lines[0].loops[0].start)
    assert max(abs(shift - shifts[0]) for shift in shifts) < 1e-6


def test_cloths_that_are_cut_along_different_lines_have_a_nest_each() -> None:
    front = "cut: {shell: 1, lining: {count: 1, allowance: {outer: 0 mm}}}"
    made = recipe(HEAD + HAT.replace("cut: {shell: 1, lining: 1}", front))
    assert [(s.data["piece"], s.data["cloth"]) for s in cuts(nested(made).layers[0])] == [
        ("brim", "shell"),
        ("brim", "lining"),
        ("crown", "shell"),
    ]


def test_every_set_of_choices_has_the_nest_of_its_own_pieces_and_sizes() -> None:
    oval, round = published(choosy())
    assert [layer.title for layer in nested(oval).layers] == ["56 cm", "57 cm", "58 cm"]
    assert {s.data["piece"] for s in cuts(nested(oval).layers[0])} >= {"ear", "wad"}
    assert [layer.title for layer in nested(round).layers] == ["56 cm", "57 cm"]
    assert {s.data["piece"] for s in cuts(nested(round).layers[0])} == {"brim", "crown"}


def test_one_size_has_no_nest_nor_have_more_than_there_are_lines() -> None:
    made = recipe()
    assert has_nest(made)
    assert not has_nest(replace(made, sizes=made.sizes[:1]))
    assert not has_nest(replace(made, sizes=made.sizes[:1] * (len(NESTED) + 1)))


def test_nothing_leaves_the_drawing_and_nests_keep_apart() -> None:
    drawing = hat().drawing()
    assert outside(drawing, setting()) == []
    brim, crown = (
        bounds([path for layer in hat().layers for path in cuts(layer)[k].paths]) for k in (0, 1)
    )
    assert brim.high.real + 20 <= crown.low.real + 1e-9


def test_notches_reach_inwards_from_the_cutting_line() -> None:
    for layer in hat().layers:
        points = cuts(layer)[1].paths[0].points(0.005)
        outline = Polygon([(p.real, p.imag) for p in points])
        (ticks,) = (s for s in strokes(layer.items, "nest-notch") if s.data["piece"] == "crown")
        for tick in ticks.paths:
            start, end = (Point(p.real, p.imag) for p in (tick.start, tick.end))
            assert outline.exterior.distance(start) < 0.1
            assert outline.exterior.distance(end) == pytest.approx(3, abs=0.1)
            assert outline.contains(end)
