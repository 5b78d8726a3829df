"""Figures as files of their own: named for where they stand, whole without a page round them."""

from __future__ import annotations

import re
from functools import cache
from xml.etree import ElementTree

import pytest

from notchbook.composing.booklet import booklet_html
from notchbook.composing.chapters import body
from notchbook.composing.drawing import Drawing
from notchbook.composing.figures import draw_figure
from notchbook.composing.shared import figure_files, shared
from notchbook.reading.walk import all_figures
from tests.composing.bench import BODY, FRONT, made, plates, setting
from tests.recipes import recipe

SVG = "{http://www.w3.org/2000/svg}"
FILES = ["opening-flat.svg", "cut-1-flat.svg"]


@cache
def drawings() -> list[Drawing]:
    draft, _ = made()
    return [draw_figure(draft, rule, setting()) for rule in all_figures(draft.recipe)]


def test_a_figure_is_named_for_where_it_stands_and_its_view() -> None:
    assert list(figure_files(made()[0].recipe).values()) == FILES


def test_a_second_such_figure_has_a_number_and_leaves_the_first_its_name() -> None:
    first = "```figure\nview: flat\npiece: brim\n"
    again = recipe(FRONT, BODY.replace(first, f"{first}```\n\n{first}", 1))
    assert list(figure_files(again).values()) == [FILES[0], "opening-flat-2.svg", *FILES[1:]]


def test_other_words_do_not_change_names() -> None:
    other = recipe(FRONT, BODY.replace("Press first.", "Wash first.\n\nThen press."))
    assert list(figure_files(other).values()) == FILES


@pytest.mark.parametrize("number", range(len(FILES)), ids=FILES)
def test_a_file_needs_nothing_else_and_is_black_on_white(number: int) -> None:
    drawing = drawings()[number]
    text = shared(made()[0], drawing, setting())
    root = ElementTree.fromstring(text)
    assert root.tag == f"{SVG}svg"
    assert "href" not in text
    assert set(re.findall(r"url\((?!#)", text)) == set()
    given = {each.get(key) for each in root.iter() for key in ("fill", "stroke")}
    assert given <= {None, "none", "#000", "#fff"} | {c for c in given if c and c[:5] == "url(#"}
    ground = next(each for each in root.iter(f"{SVG}path"))
    low_x, low_y, wide, high = map(float, str(root.get("viewBox")).split())
    numbers = [float(n) for n in re.findall(r"-?[\d.]+", str(ground.get("d")))]
    assert ground.get("fill") == "#fff"
    assert (min(numbers[::2]), min(numbers[1::2])) == pytest.approx((low_x, low_y), abs=1e-3)
    assert max(numbers[::2]) - low_x == pytest.approx(wide, abs=1e-3)
    assert max(numbers[1::2]) - low_y == pytest.approx(high, abs=1e-3)


@pytest.mark.parametrize("number", range(len(FILES)), ids=FILES)
def test_a_file_says_what_it_shows_and_of_which_recipe_edition_size_and_licence(
    number: int,
) -> None:
    drawing = drawings()[number]
    root = ElementTree.fromstring(shared(made()[0], drawing, setting()))
    assert root.findtext(f"{SVG}title") == drawing.title
    words = " ".join("".join(each.itertext()) for each in root.iter(f"{SVG}text"))
    for place in (words, root.findtext(f"{SVG}desc") or ""):
        assert "Wick hat, edition 1." in place
        assert "Size: 57\N{NO-BREAK SPACE}cm." in place
        assert "Licence: CC-BY-4.0, the costume bench." in place
    assert str(root.get("aria-labelledby")).split() == ["title", "desc"]


def test_words_below_a_figure_keep_clear_of_it_and_inside_the_file() -> None:
    for drawing in drawings():
        root = ElementTree.fromstring(shared(made()[0], drawing, setting()))
        low_x, low_y, wide, high = map(float, str(root.get("viewBox")).split())
        rows = [each for each in root.iter(f"{SVG}text") if each.get("font-size") == "2.6"]
        assert rows
        for row in rows:
            x, y, size = float(row.get("x") or 0), float(row.get("y") or 0), 2.6
            assert y - size > drawing.box.high.imag
            assert y + 0.3 * size < low_y + high
            assert low_x < x
            assert x + float(row.get("textLength") or 0) < low_x + wide


def test_a_page_links_to_files_and_a_booklet_to_none() -> None:
    draft, lays = made()
    files = {place: f"figures/{file}" for place, file in figure_files(draft.recipe).items()}
    text = body(draft, setting(), plates(), {}, files)
    assert text.opening[1].file == "figures/opening-flat.svg"
    booklet = booklet_html(draft, setting=setting(), plates=plates(), lays=lays)
    assert "figures/" not in booklet
