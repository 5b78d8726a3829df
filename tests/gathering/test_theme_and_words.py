"""Gathering themes, word catalogues and flat YAML."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from notchbook.gathering.catalogue import gather_catalogue
from notchbook.gathering.flat import flat
from notchbook.gathering.theme import gather_theme
from notchbook.problems import ContentError, Place

HERE = Place("workshop.yaml", 9, 3)
THEMES = Path(__file__).parents[2] / "themes"


def test_the_theme_that_comes_along_is_found_by_name() -> None:
    theme = gather_theme("broadside", HERE)
    assert theme.name == "broadside"
    assert "base.html" in theme.templates
    assert "site.css" in theme.styles
    assert theme.tokens["paper"].startswith("#")


def own_theme(tmp_path: Path) -> Path:
    """A copy of the theme that comes along."""
    return Path(shutil.copytree(THEMES / "broadside", tmp_path / "own"))


def test_a_folder_is_a_theme_when_it_has_tokens_and_every_file(tmp_path: Path) -> None:
    folder = own_theme(tmp_path)
    (folder / "theme.yaml").write_text("ink: '#000'\n")
    (folder / "site.css").write_text("p{}")
    (folder / "site.js").write_text(";")
    (folder / "page.html").write_text("<p>")
    (folder / ".swap").write_bytes(b"\xff")
    theme = gather_theme(str(folder), HERE)
    assert theme.tokens == {"ink": "#000"}
    assert theme.styles["site.css"] == "p{}"
    assert theme.scripts == {"site.js": ";"}
    assert theme.templates["page.html"] == "<p>"


def test_every_file_a_theme_lacks_is_named_at_once(tmp_path: Path) -> None:
    folder = own_theme(tmp_path)
    for name in ("print.css", "site.js", "text.html"):
        (folder / name).unlink()
    with pytest.raises(ContentError) as caught:
        gather_theme(str(folder), HERE)
    (problem,) = caught.value.problems
    assert problem.place == HERE
    assert problem.what == f"The theme “{folder}” lacks print.css, site.js, text.html."


@pytest.mark.parametrize("wrong", ["{% if here %}", "{{ here | no_such_filter }}", "{{ here"])
def test_a_template_jinja_can_t_read_is_named_with_its_line(tmp_path: Path, wrong: str) -> None:
    folder = own_theme(tmp_path)
    (folder / "text.html").write_text(f"<p>\n{wrong}")
    with pytest.raises(ContentError, match=r"own/text\.html:2:1: Jinja can't read this template"):
        gather_theme(str(folder), HERE)


@pytest.mark.parametrize("asks", ["{% include 'foot.htm' %}", "{% extends 'base' %}"])
def test_a_template_that_asks_for_one_there_is_not_is_named_with_its_line(
    tmp_path: Path, asks: str
) -> None:
    folder = own_theme(tmp_path)
    (folder / "text.html").write_text(f"<p>\n{asks}")
    with pytest.raises(ContentError) as caught:
        gather_theme(str(folder), HERE)
    (problem,) = caught.value.problems
    assert str(problem.place) == f"{folder}/text.html:2:1"
    name = asks.split("'")[1]
    assert (
        problem.what == f"This asks for a template “{name}”, and the theme has none of that name."
    )
    assert problem.remedy == "Did you mean “base.html”?" if name == "base" else problem.remedy


def test_a_theme_nobody_knows_is_named_where_it_is_asked_for(tmp_path: Path) -> None:
    with pytest.raises(ContentError) as caught:
        gather_theme("brodside", HERE)
    said = "workshop.yaml:9:3: There is no theme “brodside”.\n    Did you mean “broadside”?"
    assert str(caught.value) == said
    with pytest.raises(ContentError, match=r"has no theme\.yaml"):
        gather_theme(str(tmp_path), HERE)


def test_a_theme_s_file_that_is_not_text_is_named(tmp_path: Path) -> None:
    (tmp_path / "theme.yaml").write_text("ink: '#000'\n")
    (tmp_path / "page.html").write_bytes(b"\xff\xfe")
    with pytest.raises(ContentError, match=r"page\.html: This file of the theme is not UTF-8"):
        gather_theme(str(tmp_path), HERE)


def test_the_english_catalogue_has_every_file_s_words_once() -> None:
    words = gather_catalogue("en", HERE).words
    assert words["size.own"] == "made to measure ({measures})"
    assert len(words) > 100


def test_a_language_without_words_is_a_problem() -> None:
    with pytest.raises(ContentError, match="no word catalogue for the language “eo”"):
        gather_catalogue("eo", HERE)


def test_flat_yaml_keeps_texts_as_they_were_written() -> None:
    assert flat("a: 1.10\nb: no\nc: 'x: y'\n", "f") == {"a": "1.10", "b": "no", "c": "x: y"}


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("a: 1\na: 2\n", "f:8:1: “a” stands here a second time; the first is on line 7."),
        ("a: 1\nb: [x]\n", "f:8:1: “b” takes one text, and more stands here."),
        ("- a\n", "f:7:1: Names with values are wanted here."),
        ("a: 1\nb: 'x\n", "f:8:4: This quote is never closed."),
        ("a: 1\nb: *a\n", "f:8:4: “*a” is an alias, and none is used here."),
        ("a: &x 1\n", "f:7:4: “&x” is an anchor, and none is used here."),
        ("a: !!str 1\n", "f:7:4: This value has a tag"),
        ("", "f:7:1: Nothing is written here."),
    ],
)
def test_flat_yaml_says_where_it_is_not_flat(text: str, said: str) -> None:
    with pytest.raises(ContentError) as caught:
        flat(text, "f", first_line=7)
    assert str(caught.value).startswith(said)
