"""Reading a whole workshop: everything wrong in any of its files is said at once."""

from __future__ import annotations

from pathlib import Path

import pytest

from notchbook.gathering.recipes import gather_recipes
from notchbook.pressing.manuscript import Manuscript, read_manuscript
from notchbook.problems import ContentError


def read(workshop: Path) -> Manuscript:
    return read_manuscript(workshop, lambda: gather_recipes(workshop))


def page(workshop: Path, name: str, data: bytes) -> Path:
    (workshop / "pages").mkdir(exist_ok=True)
    path = workshop / "pages" / name
    path.write_bytes(data)
    return path


def complaint(workshop: Path) -> str:
    with pytest.raises(ContentError) as caught:
        read(workshop)
    return str(caught.value)


@pytest.mark.parametrize("ends", ["\n", "\r\n"])
def test_a_text_page_is_its_title_and_its_words(workshop: Path, ends: str) -> None:
    text = ends.join(["\ufeff---", "title: 'About: us'", "---", "", "Words."])
    page(workshop, "about.md", text.encode())
    (found,) = read(workshop).texts
    assert (found.link.href, found.link.title) == ("about.html", "About: us")
    assert found.text.strip() == "Words."


def test_what_is_wrong_with_pages_is_said_together(workshop: Path) -> None:
    page(workshop, "bare.md", b"Words.")
    page(workshop, "printing.md", b"---\ntitle: Printing\n---\n")
    page(workshop, "latin.md", "---\ntitle: Hüte\n---\n".encode("latin-1"))
    said = complaint(workshop)
    assert "bare.md:1:1: This page has no title." in said
    assert "printing.md:1:1: Every site has a page “printing” of its own." in said
    assert "latin.md:1:1: This page is not UTF-8 text." in said


@pytest.mark.parametrize(
    ("words", "column", "said"),
    [
        ("See ![a](https://example.org/x.png).", 5, "A text page can't show pictures."),
        ("![a](gone.jpg)", 1, "A text page can't show pictures."),
        ("![a][b]", 1, "A text page can't show pictures."),
        ("[b](javascript:alert)", 3, "A link to “javascript:alert” is not followed from a text"),
        ("[b]: data:text/html,x", 1, "A link to “data:text/html,x” is not followed from a text"),
        ("<ftp://example.org>", 1, "A link to “ftp://example.org” is not followed from a text"),
        ("[b](anna@example.org)", 3, "A link to “anna@example.org” is a mail address."),
        ("Some <b>bold</b> words", 6, "Raw HTML is not passed on: “<b”."),
        ("{{ head }}", 1, "A text page has no measures"),
        ("```\n\n![a](x.png)\n\n```", 1, "A text page has no fenced blocks."),
    ],
)
def test_what_a_text_page_must_not_hold_is_said_with_its_place(
    workshop: Path, words: str, column: int, said: str
) -> None:
    page(workshop, "about.md", f"---\ntitle: About\n---\n\n{words}\n".encode())
    (found,) = complaint(workshop).split("\n")[::2]
    assert f"about.md:5:{column}: {said}" in found


def test_a_text_page_links_to_the_web_to_mail_and_to_its_neighbours(workshop: Path) -> None:
    words = (
        "[a](https://example.org) [b](http://example.org) [c](cosy/index.html) [d](#part) "
        "[e](mailto:anna@example.org) <anna@example.org> `<b>` a < b"
    )
    page(workshop, "about.md", f"---\ntitle: About\n---\n{words}\n".encode())
    assert read(workshop).texts[0].text == f"{words}\n"


def test_settings_recipes_and_pages_are_all_read_before_anything_is_said(workshop: Path) -> None:
    (workshop / "workshop.yaml").write_text("format: 1\n")
    (workshop / "recipes" / "cosy" / "recipe.md").write_text("nothing")
    page(workshop, "bare.md", b"Words.")
    files = {problem.split(":1:")[0].rsplit("/")[-1] for problem in complaint(workshop).split("\n")}
    assert {"workshop.yaml", "recipe.md", "bare.md"} <= files


def test_a_character_no_font_has_is_said_with_its_place(workshop: Path) -> None:
    recipe = workshop / "recipes" / "cosy" / "recipe.md"
    recipe.write_text(recipe.read_text().replace("title: Cosy", "title: Rain 帽 cosy"))
    line = recipe.read_text().split("\n").index("title: Rain 帽 cosy") + 1
    assert f"recipe.md:{line}:13: No font of the workshop has the character “帽”" in complaint(
        workshop
    )


def test_a_character_of_the_settings_that_no_font_has_is_said_too(workshop: Path) -> None:
    settings = workshop / "workshop.yaml"
    settings.write_text(f"# 帽\n{settings.read_text()}")
    assert "workshop.yaml:1:3: No font of the workshop has the character “帽”" in complaint(
        workshop
    )


def test_what_it_was_read_from_is_listed_under_names_that_hold_in_any_folder(
    workshop: Path,
) -> None:
    page(workshop, "about.md", b"---\ntitle: About\n---\n")
    manuscript = read(workshop)
    assert {
        "recipes/cosy/recipe.md",
        "pages/about.md",
        "workshop.yaml",
        "words",
        "theme/base.html",
        "fonts/spectral-400.woff2",
    } <= set(manuscript.sources)
    assert not any(str(workshop) in name for name in manuscript.sources)
