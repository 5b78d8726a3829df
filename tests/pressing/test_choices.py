"""Sets of choices on a site: where their pages lie, what they link to, and what names them."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from notchbook.gathering.recipes import gather_recipes
from notchbook.pressing import press
from notchbook.pressing.manuscript import read_manuscript
from notchbook.pressing.measures import own_choices, own_size
from notchbook.pressing.rehearsal import start
from notchbook.pressing.size import Bench, Composed, compose, pages
from notchbook.problems import ContentError
from notchbook.reading.choosing import published
from tests.choosy import choosy, text


@pytest.fixture
def bench(workshop: Path, tmp_path: Path) -> Bench:
    """A workshop with the small hat alone."""
    (workshop / "recipes/cosy").rename(workshop / "recipes/wick-hat")
    (workshop / "recipes/wick-hat/recipe.md").write_text(text())
    manuscript = read_manuscript(workshop, lambda: gather_recipes(workshop))
    return press._bench(manuscript, tmp_path)


def composed(bench: Bench, home: str, size: str) -> Composed:
    recipe = bench.recipes[home]
    return compose(recipe, recipe.size(size), bench.setting)


def set_links(page: str) -> list[str]:
    """Where the sets of choices lead, as the page has them."""
    picker = page.partition('aria-label="Choose how it is made"')[2].partition("</nav>")[0]
    return re.findall('href="([^"]+)"', picker)


def test_every_size_of_every_set_has_a_page_and_the_first_sets_usual_one_is_the_recipes_own(
    bench: Bench,
) -> None:
    found = {
        path: home
        for home, recipe in bench.recipes.items()
        for size in recipe.sizes
        for path in pages(bench, composed(bench, home, size.id), ())
    }
    assert found == {
        "wick-hat/index.html": "wick-hat/oval",
        "wick-hat/oval/head-56cm/index.html": "wick-hat/oval",
        "wick-hat/oval/head-57cm/index.html": "wick-hat/oval",
        "wick-hat/oval/head-58cm/index.html": "wick-hat/oval",
        "wick-hat/round-wired/head-56cm/index.html": "wick-hat/round-wired",
        "wick-hat/round-wired/head-57cm/index.html": "wick-hat/round-wired",
    }


def test_pages_link_to_the_other_sets_in_their_own_size_or_in_the_usual_one(bench: Bench) -> None:
    made = pages(bench, composed(bench, "wick-hat/oval", "head-57cm"), ())
    first = made["wick-hat/index.html"]
    assert set_links(first) == ["oval/head-57cm/index.html", "round-wired/head-57cm/index.html"]
    assert 'href="oval/head-58cm/index.html"' in first
    (page,) = pages(bench, composed(bench, "wick-hat/oval", "head-58cm"), ()).values()
    assert set_links(page) == [
        "../../oval/head-58cm/index.html",
        "../../round-wired/head-57cm/index.html",
    ]
    assert "round, wired</span> (size: 57 cm)" in page.replace("\u00a0", " ")
    assert 'href="../../../assets/site.css"' in page


def test_page_sheets_booklet_pattern_and_record_name_the_set(bench: Bench) -> None:
    made = composed(bench, "wick-hat/round-wired", "head-56cm")
    (page,) = pages(bench, made, ()).values()
    page, sheets, booklet = (
        words.replace("\u00a0", " ") for words in (page, made.sheets["sheets-a4.pdf"], made.booklet)
    )
    called = "56 cm, round, wired"
    assert f"Size: {called}</h2>" in page
    assert f"Size: {called}. Licence" in page
    assert f"size {called} · edition 1" in sheets
    assert f"Size: {called}.</p>" in booklet
    assert f"size {called}, edition 1" in made.pattern.replace("\u00a0", " ")
    assert json.loads(made.record)["choices"] == {"opening": "round", "edge": "wired"}


def test_what_to_choose_is_asked_with_the_reason_and_what_was_chosen(bench: Bench) -> None:
    (page,) = pages(bench, composed(bench, "wick-hat/round-wired", "head-56cm"), ()).values()
    section = page.partition('<h2 id="choices">')[2].partition("</section>")[0]
    assert "Wire keeps its line." in section
    assert re.findall('<span class="q">(.*?)</span>', section) == ["round", "wired"]


def test_a_recipe_without_choices_keeps_its_paths_and_says_nothing_of_sets(
    workshop: Path, tmp_path: Path
) -> None:
    manuscript = read_manuscript(workshop, lambda: gather_recipes(workshop))
    bench = press._bench(manuscript, tmp_path)
    made = pages(bench, composed(bench, "cosy", "usual"), ())
    assert list(made) == ["cosy/usual/index.html", "cosy/index.html"]
    page = made["cosy/usual/index.html"]
    assert "Choose how it is made" not in page
    assert 'href="../small/index.html"' in page
    assert 'href="small/index.html"' in made["cosy/index.html"]


def test_the_front_page_has_a_recipe_once_with_a_link_to_each_set(bench: Bench) -> None:
    entry = press.entry_of(choosy(), bench.setting)
    assert [(link.href, link.title) for link in entry.sets] == [
        ("wick-hat/index.html", "oval, soft"),
        ("wick-hat/round-wired/head-57cm/index.html", "round, wired"),
    ]


def test_a_figure_wrong_in_one_set_alone_is_found_before_anything_is_pressed(
    bench: Bench, workshop: Path, tmp_path: Path
) -> None:
    path = workshop / "recipes/wick-hat/recipe.md"
    path.write_text(
        text().replace("    view: flat\n    piece: brim", "    view: flat\n    piece: ear")
    )
    manuscript = read_manuscript(workshop, lambda: gather_recipes(workshop))
    rehearse = start(press._bench(manuscript, tmp_path))
    rehearse(("wick-hat/oval", "head-56cm"))
    with pytest.raises(ContentError, match="There is no piece “ear” in this recipe"):
        rehearse(("wick-hat/round-wired", "head-56cm"))


def test_one_draft_may_choose_what_is_not_published(bench: Bench) -> None:
    chosen = own_choices(choosy(), ("opening=round", "edge=soft"))
    assert chosen == {"opening": "round", "edge": "soft"}
    assert chosen not in [recipe.chosen for recipe in published(choosy())]
    size = own_size(choosy(), ("head=57.5cm",), bench.setting, chosen)
    assert list(size.measures) == ["head"]


@pytest.mark.parametrize(
    ("given", "says", "remedy"),
    [
        (("openning=round",), "no choice called “openning”", "Did you mean “opening”?"),
        (("opening=rund",), "“opening” can't be “rund”.", "Did you mean “round”?"),
        (("opening=round", "opening=oval"), "made twice", "Make it once."),
        (("head=57cm",), "no choice called “head”", "“head” is a measure: write --measure head"),
    ],
)
def test_a_choice_that_can_t_be_made_is_a_sentence(
    given: tuple[str, ...], says: str, remedy: str
) -> None:
    with pytest.raises(ContentError) as caught:
        own_choices(choosy(), given)
    (problem,) = caught.value.problems
    assert says in problem.what
    assert remedy in problem.remedy
    assert str(problem.place) == f"--choice {given[-1]}"


def test_a_measure_that_is_not_asked_for_is_told_which_choice_asks_for_it(bench: Bench) -> None:
    added = (
        "    range: [25 cm, 60 cm]\n  lean: {title: Lean, ask: Back., usual: 5 cm, "
        "range: [1 cm, 9 cm], when: {edge: wired}}\n"
    )
    found = choosy("    range: [25 cm, 60 cm]\n", added)
    assert own_size(found, ("lean=4cm",), bench.setting, {"edge": "wired"}).measures
    with pytest.raises(ContentError) as caught:
        own_size(found, ("lean=4cm",), bench.setting, {})
    (problem,) = caught.value.problems
    assert problem.what == "“lean” is not asked for with these choices."
    assert problem.remedy == "It is when edge is wired: see --choice."
