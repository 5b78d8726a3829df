"""Nests as others read them: the drawing by svgpathtools, the PDF by pikepdf, and every size in
both held against the ``pattern.svg`` of that size."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from pathlib import Path as File
from typing import Any
from xml.etree import ElementTree

import pikepdf
import pytest
from shapely.geometry import LineString
from svgpathtools import CubicBezier, Line, parse_path
from svgpathtools import Path as Seen

from notchbook.composing.markup.svg import svg
from notchbook.composing.nest import Nest, nest
from notchbook.composing.pattern import pattern
from notchbook.drafting.engine import draft
from notchbook.pressing.nested import nest_pdf
from tests.published.printed import POINT
from tests.published.written import SVG, points, printer, read, setting
from tests.recipes import text_of

NEAR = 0.1
"""How far outlines may miss each other, mm."""


@pytest.fixture(scope="module")
def made() -> Nest:
    recipe = read(text_of())
    return nest([draft(recipe, size) for size in recipe.sizes], setting())


@pytest.fixture(scope="module")
def pdf(made: Nest, tmp_path_factory: pytest.TempPathFactory) -> Iterator[pikepdf.Pdf]:
    file = tmp_path_factory.mktemp("nest") / "nest.pdf"
    file.write_bytes(nest_pdf(made, setting(), printer()))
    with pikepdf.open(file) as opened:
        yield opened


def layers(pdf: pikepdf.Pdf) -> list[str]:
    return [str(group.Name) for group in pdf.Root.OCProperties.OCGs]


def drawn_in_pdf(pdf: pikepdf.Pdf) -> dict[str, dict[tuple[float, ...], list[Seen]]]:
    """The lines of every layer by their dashes, mm from the page's top left corner, y down."""
    (page,) = pdf.pages
    scale = POINT * float(page.obj.get("/UserUnit", 1))
    height = float(page.mediabox[3])
    found: dict[str, dict[tuple[float, ...], list[Seen]]] = {}
    kept: list[Any] = []
    matrix, title = pikepdf.Matrix(), ""
    dash: tuple[float, ...] = ()
    path = Seen()
    at = start = 0j

    def place(x: Any, y: Any) -> complex:
        x, y = matrix.transform((float(x), float(y)))
        return complex(x, height - y) * scale

    for operands, operator in pikepdf.parse_content_stream(page):
        match str(operator):
            case "q":
                kept.append((matrix, dash))
            case "Q":
                matrix, dash = kept.pop()
            case "cm":
                matrix = pikepdf.Matrix(*map(float, operands)) @ matrix
            case "BDC" if operands[0] == "/OC":
                title = str(page.resources.Properties[operands[1]].Name)
            case "EMC":
                title = ""
            case "d":
                dash = tuple(float(each) for each in operands[0])
            case "m" if title:
                at = start = place(*operands)
                path = Seen()
                found.setdefault(title, {}).setdefault(dash, []).append(path)
            case "l" if title:
                path.append(Line(at, end := place(*operands)))
                at = end
            case "c" if title:
                one, two, end = (place(*operands[k : k + 2]) for k in (0, 2, 4))
                path.append(CubicBezier(at, one, two, end))
                at = end
            case "h" if title and abs(start - at) > 1e-9:
                path.append(Line(at, start))
    return found


def outlines(drawing: str, group: str, value: str) -> list[Seen]:
    """The cutting lines of a group of an SVG: all its outlines and holes."""
    root = ElementTree.fromstring(drawing)
    (held,) = (g for g in root.iter(f"{SVG}g") if g.get(f"data-{group}") == value)
    return [
        loop
        for path in held.iter(f"{SVG}path")
        if "cut" in path.get("class", "").split()
        for loop in parse_path(path.get("d")).continuous_subpaths()
    ]


def misses(one: list[Seen], other: list[Seen]) -> list[float]:
    """How far each outline is from its like, once their boxes begin at one point, mm. Each lies
    somewhere else in a nest, and no other way up."""
    assert len(one) == len(other)
    return [settled(a).hausdorff_distance(settled(b)) for a, b in zip(one, other, strict=True)]


def settled(loop: Seen) -> LineString:
    corners = points(loop, 32)
    low = complex(min(p.real for p in corners), min(p.imag for p in corners))
    return LineString([((p - low).real, (p - low).imag) for p in corners])


@cache
def pattern_of(size: str) -> list[Seen]:
    """Every cutting line of the size's ``pattern.svg``."""
    recipe = read(text_of())
    drawing = svg(pattern(draft(recipe, recipe.size(size)), setting()), standalone=True)
    return [loop for name in ("brim", "crown") for loop in outlines(drawing, "piece", name)]


def test_the_pdf_lists_a_layer_for_every_size_and_shows_them_all(pdf: pikepdf.Pdf) -> None:
    assert layers(pdf) == ["56 cm", "57 cm", "58 cm"]
    shown = pdf.Root.OCProperties.D
    assert [str(group.Name) for group in shown.Order] == layers(pdf)
    assert "/OFF" not in shown
    assert all(group.Type == "/OCG" for group in pdf.Root.OCProperties.OCGs)
    assert pdf.pdf_version >= "1.5"
    assert sorted(drawn_in_pdf(pdf)) == layers(pdf)


def test_the_drawing_has_a_named_group_for_every_size(made: Nest) -> None:
    root = ElementTree.fromstring(svg(made.drawing(), standalone=True, setting=setting()))
    groups = {g.get("id"): g for g in root.iter(f"{SVG}g") if g.get("data-size")}
    assert list(groups) == ["size-head-56cm", "size-head-57cm", "size-head-58cm"]
    titles = [g.findtext(f"{SVG}title") for g in groups.values()]
    assert titles == ["56\u00a0cm", "57\u00a0cm", "58\u00a0cm"]


def test_no_two_sizes_are_drawn_with_the_same_dashes(made: Nest, pdf: pikepdf.Pdf) -> None:
    root = ElementTree.fromstring(svg(made.drawing(), standalone=True))
    for_svg = [
        {path.get("stroke-dasharray") for path in g if "cut" in path.get("class", "").split()}
        for g in root.iter(f"{SVG}g")
        if g.get("data-size")
    ]
    assert all(len(dashes) == 1 for dashes in for_svg)
    assert len(set.union(*for_svg)) == 3
    for_pdf = [dash for lines in drawn_in_pdf(pdf).values() for dash in lines]
    # Each size's own, and the unbroken one of its notches, which is also the first size's.
    assert len(set(for_pdf)) == 3


@pytest.mark.parametrize("size", ["56 cm", "58 cm"])
def test_outlines_in_drawing_and_pdf_are_those_of_the_size_s_pattern(
    made: Nest, pdf: pikepdf.Pdf, size: str
) -> None:
    id = f"head-{size.replace(' ', '')}"
    in_svg = outlines(svg(made.drawing(), standalone=True), "size", id)
    in_pdf = [
        path
        for lines in drawn_in_pdf(pdf)[size].values()
        for path in lines
        if len(path) > 1 or abs(path.length() - 3) > 0.01  # a notch
    ]
    assert max(misses(in_svg, pattern_of(id))) < NEAR
    assert max(misses(in_pdf, pattern_of(id))) < NEAR
    put_off = [loop.scaled(1.01, 1.01) for loop in pattern_of(id)]
    assert min(misses(in_pdf, put_off)) > NEAR
    assert max(misses(in_pdf, pattern_of("head-57cm"))) > NEAR


def test_a_nest_longer_than_a_page_may_be_has_a_larger_unit_and_is_still_true(
    tmp_path: File, monkeypatch: pytest.MonkeyPatch, made: Nest
) -> None:
    monkeypatch.setattr("notchbook.composing.nest.LONGEST", 600.0)
    (tmp_path / "large.pdf").write_bytes(nest_pdf(made, setting(), printer()))
    with pikepdf.open(tmp_path / "large.pdf") as large:
        page = large.pages[0]
        assert page.obj.UserUnit == made.unit > 1
        assert max(float(side) for side in page.mediabox) < 600 / POINT
        found = [path for lines in drawn_in_pdf(large)["56 cm"].values() for path in lines]
    brim = next(path for path in found if len(path) > 1)
    assert misses([brim], pattern_of("head-56cm")[:1])[0] < NEAR


def test_the_same_nest_gives_the_same_bytes(made: Nest) -> None:
    first, second = (nest_pdf(made, setting(), printer()) for _ in range(2))
    assert first == second
