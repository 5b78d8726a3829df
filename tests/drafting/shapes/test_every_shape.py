"""What holds for every shape in the folder, also for one added tomorrow."""

from __future__ import annotations

import inspect
import math
import re
import sys
from collections.abc import Mapping
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from notchbook.drafting.aids.profile import Stretch
from notchbook.drafting.shape import Refusal, Shape, Word
from notchbook.drafting.shapes import shapes
from tests.drafting.shapes.follow import check, check_flat, check_form

EXAMPLES: Mapping[str, Mapping[str, object]] = {
    "ring": {"inner": 590.0, "width": 150.0, "oval": 1.3},
    "cone": {"rim": 590.0, "height": 450.0, "keep": 140.0},
    "tube": {"girth": 590.0, "height": 100.0},
    "disc": {"girth": 400.0, "oval": 1.3},
    "strip": {"length": 600.0, "width": 30.0, "grain": Word("bias")},
    "gore": {"gores": 6, "profile": (Stretch("line", (92 + 0j, 60 + 80j)),), "oval": 1.29},
    "sector": {"opening": 420.0, "length": 350.0, "share": 0.75},
}
LENGTHS = {
    "ring": ("inner", "width", "width_back"),
    "cone": ("rim", "height", "slant", "keep", "top", "lean"),
    "tube": ("girth", "height"),
    "disc": ("girth", "across"),
    "strip": ("length", "width", "longest"),
    "gore": ("girth", "height"),
    "sector": ("opening", "length"),
}
OPTIONAL = ("height", "slant", "keep", "top", "across", "width_back", "longest")
ABSURD = st.one_of(
    st.floats(-1e6, 1e6),
    st.floats(0.5, 3000),
    st.sampled_from([0.0, 1e-12, 1.0, 1e300, math.inf, -math.inf, math.nan]),
)


def test_shapes_are_found_by_their_files_in_name_order() -> None:
    assert list(shapes()) == sorted(shapes())
    assert {"ring", "cone", "tube", "disc", "strip", "panel"} <= set(shapes())


@pytest.mark.parametrize("name", sorted(shapes()))
def test_parameters_are_given_by_name_and_explained(name: str) -> None:
    draft = shapes()[name]
    explained = sys.modules[draft.__module__].__doc__ or ""
    for parameter in inspect.signature(draft).parameters.values():
        assert parameter.kind is inspect.Parameter.KEYWORD_ONLY
        assert f"``{parameter.name}" in explained


@pytest.mark.parametrize("name", sorted(EXAMPLES))
def test_every_edge_is_explained(name: str) -> None:
    shape = shapes()[name](**EXAMPLES[name])
    explained = sys.modules[shapes()[name].__module__].__doc__ or ""
    assert set(shape.flat.edges) <= set(re.findall(r"``(\w+)``", explained))


@pytest.mark.parametrize("name", sorted(EXAMPLES))
@settings(deadline=None, max_examples=60)
@given(data=st.data())
def test_any_numbers_make_a_shape_or_a_refusal_in_sentences(name: str, data: st.DataObject) -> None:
    parameters = {
        key: data.draw(st.one_of(st.none(), ABSURD) if key in OPTIONAL else ABSURD, label=key)
        for key in LENGTHS[name]
    }
    counts = st.one_of(st.integers(1, 12), st.integers(-(10**300), 10**300))
    if name == "sector":
        parameters["share"] = data.draw(st.one_of(st.floats(0.1, 1.2), ABSURD), label="share")
        parameters["parts"] = data.draw(counts, label="parts")
    if name == "gore":
        parameters["gores"] = data.draw(counts, label="gores")
        parameters["number"] = data.draw(counts, label="number")
    angles = st.one_of(st.floats(-1.5, 1.5), ABSURD)
    if name == "cone":
        parameters["towards"] = data.draw(angles, label="towards")
        parameters["seam"] = data.draw(angles, label="seam")
    if name == "ring":
        parameters["slope"] = data.draw(st.one_of(st.just(0.0), angles), label="slope")
        parameters["slope_back"] = data.draw(st.one_of(st.none(), angles), label="slope_back")
    if name == "strip":
        parameters["parts"] = data.draw(counts, label="parts")
    if name in ("ring", "disc", "cone", "gore"):
        parameters["oval"] = data.draw(st.one_of(st.floats(-1, 5), ABSURD), label="oval")
    if name == "tube" and parameters["height"] is None:
        return
    try:
        shape = shapes()[name](**parameters)
    except Refusal as refusal:
        assert refusal.parameter in parameters
        for sentence in (refusal.what, refusal.remedy):
            assert sentence.endswith(".")
            assert not re.search(r"\de[+-]|nan|inf", sentence)
    else:
        assert isinstance(shape, Shape)
        check_flat(shape)
        check_form(shape)


def test_the_worked_example_of_adding_a_shape_works() -> None:
    page = (Path(__file__).parents[3] / "DEVELOPERS.md").read_text(encoding="utf-8")
    shape, its_test = re.findall(r"^```python\n(.*?)^```$", page, re.MULTILINE | re.DOTALL)
    gusset = ModuleType("gusset")
    exec(shape, gusset.__dict__)
    found: dict[str, Any] = {"gusset": gusset, "check": check, "pytest": pytest}
    exec(its_test, found)
    found["test_a_gusset_is_a_square"]()
