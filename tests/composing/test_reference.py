"""The reference for authors, on the site and in docs/: told from the code and true to it."""

from __future__ import annotations

import inspect
import re
from collections.abc import Mapping
from functools import cache

import html5lib
import pytest

from notchbook.composing.docstring import explained, named
from notchbook.composing.figure_reference import (
    View,
    draft_figures,
    figure_views,
    figures_page,
    figures_text,
)
from notchbook.composing.figures import view_names
from notchbook.composing.figures.example import RECIPE
from notchbook.composing.pages import Frame, printing_page
from notchbook.composing.reference import (
    Entry,
    Parameter,
    draft_example,
    entries,
    reference_page,
    reference_text,
)
from notchbook.drafting.shapes import shapes
from notchbook.drafting.truing import true
from notchbook.gathering.typefaces import uncovered
from notchbook.problems import ContentError
from tests import reference
from tests.composing.bench import setting

NAMES = sorted(shapes())


@cache
def told() -> dict[str, Entry]:
    return {entry.name: entry for entry in entries(setting())}


@cache
def page() -> str:
    return reference_page(setting=setting(), frame=Frame())


@cache
def views() -> dict[str, View]:
    return {view.name: view for view in figure_views(setting())}


@cache
def files() -> Mapping[str, str]:
    return reference.files()


def parameters(shape: str) -> dict[str, Parameter]:
    return {
        parameter.name: parameter
        for meaning in told()[shape].meanings
        for parameter in meaning.parameters
    }


def test_the_pages_in_docs_are_what_the_code_tells_today() -> None:
    made, written = files(), reference.written()
    differ = {path for path in {*made, *written} if made.get(path) != written.get(path)}
    assert differ == set(), "Shapes or figures changed: run `make reference`, look at docs/."


def test_the_pages_in_docs_show_every_drawing_beside_them() -> None:
    made = files()
    pages = [path for path in made if path.endswith(".md")]
    shown = [
        path
        for page in pages
        for path in re.findall(r"^!\[.+\]\((.+)\)$", made[page], re.MULTILINE)
    ]
    assert sorted(shown) == sorted(set(made) - set(pages))


@pytest.mark.parametrize("name", NAMES)
def test_a_shape_s_docstring_has_every_part(name: str) -> None:
    text = told()[name].text
    assert text.title.casefold() == name
    assert text.summary.endswith(".")
    assert text.edges.endswith(".")
    assert all(item.endswith(".") for item in text.items)
    assert text.example


@pytest.mark.parametrize("name", NAMES)
def test_every_parameter_is_explained_in_one_place_that_begins_with_it(name: str) -> None:
    entry = told()[name]
    explained_here = [p.name for meaning in entry.meanings for p in meaning.parameters]
    assert sorted(explained_here) == sorted(inspect.signature(shapes()[name]).parameters)
    for item, meaning in zip(entry.text.items, entry.meanings, strict=True):
        assert item.startswith("`")
        assert named(item)[0] == meaning.parameters[0].name


@pytest.mark.parametrize("name", NAMES)
def test_a_shape_s_example_is_drawn_and_its_edges_are_told(name: str) -> None:
    entry = told()[name]
    pieces = draft_example(entry.text).pieces
    assert [example.piece for example in entry.examples] == list(pieces)
    own = [piece for piece in pieces.values() if piece.shape == name]
    assert own
    if name not in ("facing", "inset", "panel"):  # whose edges have their author's names
        assert {edge for piece in own for edge in piece.flat.edges} <= set(named(entry.text.edges))
    for example in entry.examples:
        assert example.recipe.startswith(f"{example.piece}:\n  title: ")
        assert pieces[example.piece].title in example.drawing.title


def test_kinds_and_what_holds_without_a_parameter_are_the_signature_s() -> None:
    cone, ring, strip = (parameters(name) for name in ("cone", "ring", "strip"))
    assert cone["rim"] == Parameter("rim", "length", "needed")
    assert cone["height"] == Parameter("height", "length", "may be left out")
    assert cone["lean"] == Parameter("lean", "length", "0\N{NO-BREAK SPACE}mm if left out")
    assert cone["towards"] == Parameter("towards", "angle", "0° if left out")
    assert ring["oval"] == Parameter("oval", "number", "may be left out")
    assert ring["outer"] == Parameter("outer", "word", "parallel if left out")
    assert strip["parts"] == Parameter("parts", "whole number", "1 if left out")
    assert parameters("inset")["of"] == Parameter("of", "another piece", "needed")
    assert parameters("panel")["edges"].without == "needed"
    assert parameters("panel")["mirror"].without == "may be left out"


def test_what_a_module_of_its_own_explains_is_told_below() -> None:
    (note,) = told()["gore"].notes
    assert note.title == "The profile of a surface of revolution"
    (text,) = (m.text for m in told()["gore"].meanings if "profile" in m.text)
    assert f"see “{note.title}” below" in " ".join(text.split())
    assert [note.title for note in told()["panel"].notes] == ["The points of a panel"]


@pytest.mark.parametrize("name", view_names())
def test_every_view_has_an_example_that_draws(name: str) -> None:
    view = views()[name]
    assert view.block.startswith(f"```figure\nview: {name}\n")
    assert view.drawing.items
    assert view.drawing.title


@pytest.mark.parametrize("name", view_names())
def test_every_view_is_told_with_its_keys_its_example_s_among_them(name: str) -> None:
    text = views()[name].text
    assert text.title == f"The {name} view"
    assert text.summary.endswith(".")
    assert any(block.startswith(("Keys:", "Keys, ")) for block in text.rest)
    given = re.findall(r"^(\w+):", text.example, re.MULTILINE)
    assert {*given} - {"view"} <= {*named("\n".join(text.rest))}


def test_the_recipe_of_the_figures_is_true() -> None:
    recipe = draft_figures({}).recipe
    assert true(recipe) == ()


def test_the_site_s_page_is_valid_and_has_every_shape_drawing_and_recipe() -> None:
    examples = [example for entry in told().values() for example in entry.examples]
    check(page(), set(NAMES), [example.recipe for example in examples])


def test_the_site_s_page_of_figures_is_valid_and_has_every_view_and_the_recipe() -> None:
    html = figures_page(setting=setting(), frame=Frame())
    blocks = [view.block for view in views().values()]
    check(html, {f"view-{name}" for name in view_names()}, [*blocks, RECIPE])


def check(html: str, sections: set[str], snippets: list[str]) -> None:
    tree = html5lib.HTMLParser(strict=True, namespaceHTMLElements=False).parse(html)
    ids = [element.attrib["id"] for element in tree.iter() if "id" in element.attrib]
    assert sorted(ids) == sorted(set(ids))
    assert sections <= set(ids)
    assert ["".join(element.itertext()) for element in tree.iter("pre")] == snippets
    assert html.count("<svg ") == len(snippets) - (RECIPE in snippets)


def test_only_a_whole_site_links_to_the_pages() -> None:
    for link in ('href="../shapes.html"', 'href="../figures.html"'):
        assert link in printing_page(setting=setting(), frame=Frame("../"))
        assert link not in printing_page(setting=setting(), frame=Frame("../", alone=True))


def test_every_character_of_the_pages_has_a_face() -> None:
    assert "√" in reference_text()
    for text in (reference_text(), figures_text()):
        assert list(uncovered(text, "reference", setting().typefaces)) == []


def test_a_slip_in_an_example_is_no_quiet_gap() -> None:
    text = explained("X: y.\n\nExample::\n\n    a:\n      title: A\n      shape: cone\n"
                     "      cut: {shell: 1}\n")  # fmt: skip
    with pytest.raises(ContentError, match="needs “rim”"):
        draft_example(text)
