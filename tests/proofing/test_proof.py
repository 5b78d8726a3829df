"""A trial copy follows its author, whatever state the files are in."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from notchbook.composing.figures import draw_figure
from notchbook.pressing.impression import write
from notchbook.proofing import copies
from tests.proofing.author import PAGE, Author, author

STEP = "Fold the side right sides together"
WRONG = "{{ heigth }}"
FAULT = "“heigth”"


@pytest.fixture(scope="module")
def bench(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Author]:
    """One trial for all tests, as an author's day is one, and what it began with in ``kept``."""
    folder = tmp_path_factory.mktemp("author")
    with author(folder) as there:
        for name in ("content", "chapbook"):
            shutil.copytree(folder / name, folder / "kept" / name)
        yield there


@pytest.fixture
def at_work(bench: Author) -> Iterator[Author]:
    """The trial, its files mended afterwards, which the page then tells."""
    yield bench
    folder = bench.content.parent
    for name in ("content", "chapbook"):
        mend(folder / "kept" / name, folder / name)
    with bench.opened() as until:
        while STEP not in (page := bench.page()) or "class=remedy" in page:
            until("Trial copy")


def mend(kept: Path, folder: Path) -> None:
    """Give a folder the files it had, touching none that is the same."""
    for path in sorted(folder.rglob("*"), reverse=True) if folder.exists() else ():
        was = kept / path.relative_to(folder)
        if path.is_dir() and not was.is_dir():
            shutil.rmtree(path)
        elif path.is_file() and not was.is_file():
            path.unlink()
    for was in (kept, *sorted(kept.rglob("*"))):
        path = folder / was.relative_to(kept)
        if was.is_dir():
            path.mkdir(parents=True, exist_ok=True)
        elif not path.exists() or path.read_bytes() != was.read_bytes():
            path.write_bytes(was.read_bytes())


def test_new_words_come_to_the_open_page(at_work: Author) -> None:
    with at_work.opened() as until:
        at_work.change(STEP, "Fold the sleeve inside out")
        assert "Fold the sleeve inside out" in until("Fold the sleeve")


def test_a_problem_is_shown_with_its_place_on_the_last_good_page_until_it_is_mended(
    at_work: Author,
) -> None:
    with at_work.opened() as until:
        at_work.change(STEP, f"Fold {WRONG} the side right sides together")
        page = until(FAULT)
        lines = at_work.recipe.read_text().split("\n")
        line = next(n for n, text in enumerate(lines, start=1) if WRONG in text)
        column = lines[line - 1].index("heigth") + 1
        assert f"content/recipes/cosy/recipe.md:{line}:{column}</code>" in page
        assert "Did you mean “height”?" in page
        assert 'data-beside="sew-1"' in page
        assert STEP in page  # as it was
        assert WRONG not in page
        at_work.change(f"{WRONG} ", "")
        page = until("no “heigth”")
        assert STEP in page
        assert "data-beside" not in page


def test_what_truing_finds_is_shown_though_the_page_is_new(at_work: Author) -> None:
    with at_work.opened() as until:
        at_work.change("girth: length(side.bottom)", "girth: length(side.bottom) + 9 mm")
        page = until("class=remedy")
        assert "base seam" in page
        assert "last whole" not in page
        assert 'data-beside="seams"' in page


Break = Callable[[Author], object]
BROKEN: dict[str, Break] = {
    "half saved": lambda it: it.recipe.write_bytes(it.recipe.read_bytes()[:700]),
    "emptied": lambda it: it.recipe.write_bytes(b""),
    "not UTF-8": lambda it: it.recipe.write_bytes(b"---\n" + bytes(range(128, 256))),
    "deleted": lambda it: it.recipe.unlink(),
    "folder deleted": lambda it: shutil.rmtree(it.recipe.parent),
    "folder renamed": lambda it: it.recipe.parent.rename(it.recipe.parent.with_name("tea-cosy")),
    "folder with a name that is no address": lambda it: it.recipe.parent.rename(
        it.recipe.parent.with_name("Tea cosy")
    ),
    "a folder in its place": lambda it: folder_for(it.recipe),
    "settings half saved": lambda it: it.change("units: metric", 'units: "met', settings(it)),
    "content moved away": lambda it: it.content.rename(it.content.with_name("elsewhere")),
    "a template half saved": lambda it: it.change("{% block main %}", "{% blo", template(it)),
    "a template that can't reckon": lambda it: it.change(
        "{% block main %}", "{% block main %}{{ 1 // 0 }}{{ recipe + 1 }}", template(it)
    ),
    "a template deleted": lambda it: template(it).unlink(),
}


def folder_for(file: Path) -> None:
    file.unlink()
    file.mkdir()


def settings(at_work: Author) -> Path:
    return at_work.content / "workshop.yaml"


def template(at_work: Author) -> Path:
    return at_work.theme / "recipe.html"


@pytest.mark.parametrize("state", BROKEN)
def test_whatever_is_broken_the_page_stays_and_says_so(state: str, at_work: Author) -> None:
    with at_work.opened() as until:
        BROKEN[state](at_work)
        page = until("class=remedy")
        assert STEP in page
        assert "You see the page as it was last whole." in page
        assert "Traceback" not in page


def test_a_recipe_that_was_never_whole_gets_its_page_when_it_is(at_work: Author) -> None:
    text = at_work.recipe.read_text()
    new = at_work.content / "recipes" / "muff"
    with at_work.opened("muff/index.html") as until:
        new.mkdir()
        (new / "recipe.md").write_text(text.replace("measures:", "measure:", 1))
        page = until("class=remedy")
        assert "Not whole yet" in page
        assert "recipes/muff/recipe.md:" in page
        (new / "recipe.md").write_text(text)
        assert STEP in until(STEP)
    assert "muff/index.html" in at_work.page("index.html")


def test_a_change_of_style_reloads_the_page(at_work: Author) -> None:
    style = at_work.theme / "site.css"
    with at_work.opened() as until:
        before = version(at_work.page())
        at_work.change("hanging-punctuation: first;", "hanging-punctuation: none;", style)
        while version(at_work.page()) == before:
            until("Trial copy")
        at_work.change("hanging-punctuation: none;", "hanging-punctuation: first;", style)
        while version(at_work.page()) != before:
            until("Trial copy")


def version(page: str) -> str:
    return page.partition('data-version="')[2][:16]


def test_a_change_of_words_draws_nothing_again_and_makes_the_same_page(
    at_work: Author, monkeypatch: pytest.MonkeyPatch
) -> None:
    at_work.page()
    drawn: list[object] = []
    draw = draw_figure

    def counted(*given: Any) -> Any:
        drawn.append(given[1])
        return draw(*given)

    monkeypatch.setattr(copies, "draw_figure", counted)
    with at_work.opened() as until:
        at_work.change(STEP, "Look closely, and fold it")
        remembered = until("Look closely")
        assert drawn == []
        at_work.change("title: Side,", "title: Sleeve,")
        until("Sleeve")
        assert drawn
        at_work.change("title: Sleeve,", "title: Side,")
        assert main(until("no Sleeve")) == main(remembered)


def main(page: str) -> str:
    return page.partition("<main")[2].partition("</main>")[0]


def test_everything_a_page_links_to_is_served(at_work: Author) -> None:
    for path, words in {
        "": "Lantern cosy" if "Lantern cosy" in at_work.page("index.html") else "Cosy",
        "cosy/": STEP,
        "cosy/small/index.html": STEP,
        "cosy/usual/pattern.svg": "piece-side",
        "cosy/usual/draft.json": '"measures"',
        "cosy/figures/cut-2-flat.svg": "The side laid flat",
        "printing.html": "ruler",
        "figures.html": "The clip view",
        "assets/site.css": "--rubric",
        "assets/site.js": "ResizeObserver",
        "assets/fonts/spectral-licence.txt": "OPEN FONT",
        ".proof/proof.js": "EventSource",
    }.items():
        status, body = at_work.ask(path)
        assert (status, words in body) == (200, True), path
    status, face = at_work.ask("assets/fonts/spectral-400.woff2")
    assert status == 200
    assert face


def test_a_pdf_is_printed_when_its_link_is_followed(
    at_work: Author, monkeypatch: pytest.MonkeyPatch
) -> None:
    folders = []

    def printed(bench: Any, composed: object, printer: object) -> tuple[object, ...]:
        folders.append(bench.staged)
        return (write(bench.staged, "cosy/usual/sheets-a4.pdf", b"%PDF", ()),)

    monkeypatch.setattr(copies, "press_size", printed)
    monkeypatch.setattr(copies, "compose", lambda *given: None)
    assert at_work.ask("cosy/usual/sheets-a4.pdf") == (200, "%PDF")
    assert not folders[0].exists()
    assert at_work.ask("cosy/usual/secrets.pdf")[0] == 404


@pytest.mark.parametrize(
    "path",
    [
        "../content/workshop.yaml",
        "%2e%2e/workshop.yaml",
        "cosy/../../workshop.yaml",
        "cosy/recipe.md",
        "cosy/usual/%00",
        "/etc/passwd",
        "//example.org/",
        "assets/fonts/../../workshop.yaml",
        ".proof/panel.py",
        ".proof/../proof.py",
        "cosy/pictures/../recipe.md",
    ],
)
def test_no_path_leaves_the_site(path: str, at_work: Author) -> None:
    status, body = at_work.ask(path)
    assert status == 404
    assert "Nothing at this address" in body
    assert "format: 1" not in body


@pytest.mark.parametrize("host", ["example.org", "127.0.0.1.example.org:80", "localhost.evil", ""])
def test_a_page_from_elsewhere_that_was_led_here_gets_nothing(host: str, at_work: Author) -> None:
    assert at_work.ask(PAGE, Host=host) == (403, "This address is not served here.\n")
    assert at_work.ask(PAGE, Host="localhost:80")[0] == 200


def test_pages_are_read_and_nothing_else(at_work: Author) -> None:
    assert at_work.ask(PAGE, "HEAD") == (200, "")
    for method in ("POST", "PUT", "DELETE", "OPTIONS"):
        assert at_work.ask(PAGE, method)[0] == 501
