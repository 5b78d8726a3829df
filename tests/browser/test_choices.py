"""Choosing a size, how it is made, and units."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
from playwright.sync_api import Page

from tests.browser.conftest import Open
from tests.browser.pages import RECIPE, SIZE, faults

DARTED = "Fold the top, right sides together, so that the two legs of one dart meet"
"""Said of one set alone."""

SEEN = "n => [...document.querySelectorAll(n)].map(e => e.checkVisibility())"
"""Whether each element of a kind is shown."""


def shown(page: Page) -> tuple[bool, bool]:
    """Whether metric lengths and whether inches are shown, all of them or none."""
    metric, inch = (set(page.evaluate(SEEN, f"#measures ~ dl .q > .{c}")) for c in ("mm", "in"))
    assert len(metric) == len(inch) == 1
    return metric == {True}, inch == {True}


def words(page: Page, section: str) -> str:
    return page.locator(f"section[aria-labelledby={section}]").inner_text()


@pytest.mark.parametrize("script", [True, False])
def test_the_picker_leads_to_the_page_of_a_size_where_every_number_is_that_sizes(
    script: bool, served: str, demo_site: Path, open_page: Open
) -> None:
    page = open_page(served + RECIPE, java_script_enabled=script)
    picker = page.get_by_role("navigation", name="Choose your size")
    sizes = [*(demo_site / SIZE).parents[1].glob("*/index.html")]
    assert picker.get_by_role("link").count() == len(sizes) == 2
    before = {section: words(page, section) for section in ("measures", "seams", "workings")}
    picker.get_by_role("link", name="64 cm").click()
    assert page.url == served + SIZE
    page.wait_for_load_state()
    page.get_by_role("heading", name="Size: 64 cm").wait_for()
    current = picker.locator("[aria-current=page]")
    assert current.inner_text().startswith("64")
    assert "64 cm" in words(page, "measures").replace("\u00a0", " ")
    for section, old in before.items():
        assert words(page, section) != old
    # The numbers are those of the size's own record.
    record = json.loads((demo_site / SIZE.replace("index.html", "draft.json")).read_text())
    lengths = re.findall(r"(\d+)\s*mm", words(page, "seams"))
    made = {str(round(n)) for seam in record["seams"].values() for n in _lengths(seam)}
    assert made
    assert made <= set(lengths)


def _lengths(seam: dict[str, object]) -> list[float]:
    return [side["length"] for side in seam["sides"]]  # type: ignore[attr-defined]


@pytest.mark.parametrize("script", [True, False])
def test_a_set_of_choices_leads_to_its_own_pages_and_back(
    script: bool, served: str, open_page: Open
) -> None:
    page = open_page(served + RECIPE, java_script_enabled=script)
    sets = page.get_by_role("navigation", name="Choose how it is made")
    assert sets.get_by_role("link").all_inner_texts() == [
        "pleats",
        "gathers",
        "darts",
    ]
    assert sets.locator("[aria-current=page]").inner_text() == "pleats"
    sets.get_by_role("link", name="darts").click()
    assert page.url == served + RECIPE.replace("index", "darted/usual/index")
    page.wait_for_load_state()
    assert page.get_by_role("heading", name="Size: usual, darts").is_visible()
    assert DARTED in page.locator("main").inner_text()
    assert sets.locator("[aria-current=page]").inner_text() == "darts"
    sets.get_by_role("link", name="pleats").click()
    assert page.url == served + RECIPE.replace("index", "pleated/usual/index")
    page.wait_for_load_state()
    assert DARTED not in page.locator("main").inner_text()


def test_a_set_that_lacks_a_size_says_in_which_one_its_page_is(
    served: str, open_page: Open
) -> None:
    page = open_page(served + SIZE)
    sets = page.get_by_role("navigation", name="Choose how it is made")
    sets.get_by_role("link", name="gathers (size: usual)").click()
    assert page.url == served + RECIPE.replace("index", "gathered/usual/index")


def test_the_front_page_lists_a_recipe_once_with_its_sets(served: str, open_page: Open) -> None:
    page = open_page(served + "index.html")
    article = page.get_by_role("article").filter(has_text="Wick-trimmer")
    assert article.count() == 1
    article.get_by_role("link", name="gathers").click()
    assert page.url == served + RECIPE.replace("index", "gathered/usual/index")


def test_a_reader_with_an_inch_tape_finds_their_size_too(served: str, open_page: Open) -> None:
    page = open_page(served + RECIPE)
    picker = page.get_by_role("navigation", name="Choose your size")
    assert "25¼\u00a0in" in picker.get_by_role("link", name="64 cm").inner_text()
    page.get_by_text("inches", exact=True).click()
    assert picker.get_by_role("link", name="25¼ in").is_visible()


@pytest.mark.parametrize("script", [True, False])
def test_lengths_are_shown_both_ways_or_as_the_reader_chooses(
    script: bool, served: str, open_page: Open
) -> None:
    page = open_page(served + RECIPE, java_script_enabled=script)
    assert shown(page) == (True, True)
    page.get_by_label("cm, mm").check()
    assert shown(page) == (True, False)
    page.get_by_label("inches").check()
    assert shown(page) == (False, True)
    assert "57" not in page.locator("dl.measures dd.big").first.inner_text()
    page.get_by_label("both", exact=True).check()
    assert shown(page) == (True, True)


@pytest.mark.parametrize("choice", ["cm, mm", "inches"])
def test_no_number_is_lost_when_one_unit_system_is_chosen(
    choice: str, served: str, open_page: Open
) -> None:
    page = open_page(served + RECIPE)
    page.get_by_label(choice).check()
    visible = page.evaluate("[...document.querySelectorAll('.q')].map(e => e.innerText.trim())")
    in_view = page.evaluate(SEEN, ".q")
    assert len(visible) > 100
    assert all(text for text, here in zip(visible, in_view, strict=True) if here)


def test_the_second_way_of_writing_a_length_stands_in_brackets(
    served: str, open_page: Open
) -> None:
    page = open_page(served + RECIPE)
    second = page.locator(".step .q > .in").first
    content = "(e, part) => getComputedStyle(e, part).content"
    assert second.evaluate(content, "::before") == '"("'
    page.get_by_label("inches").check()
    assert second.evaluate(content, "::before") == "none"


def test_the_choice_is_remembered_on_the_next_page_and_the_next_day(
    served: str, open_page: Open
) -> None:
    page = open_page(served + RECIPE)
    page.get_by_label("inches").check()
    page.goto(served + SIZE)
    assert shown(page) == (False, True)
    assert page.get_by_label("inches").is_checked()
    page.get_by_label("both", exact=True).check()
    page.reload()
    assert shown(page) == (True, True)


def test_where_a_browser_keeps_nothing_the_choice_still_works(served: str, open_page: Open) -> None:
    page = open_page("about:blank", fresh=True)
    page.add_init_script(
        "Object.defineProperty(window, 'localStorage', {get() { throw new DOMException('no') }})"
    )
    with faults(page, served) as found:
        page.goto(served + RECIPE)
        page.get_by_label("cm, mm").check()
        assert shown(page) == (True, False)
        assert found == []


def test_the_page_serves_without_a_script(served: str, open_page: Open) -> None:
    page = open_page(served + RECIPE, java_script_enabled=False)
    page.get_by_role("link", name="Make the band").click()
    assert page.url.endswith("#make-the-band")
    hand = page.locator("details:has(ol)").first
    assert not hand.locator("ol").is_visible()
    hand.locator("summary").click()
    assert hand.locator("ol").is_visible()
    tick = page.get_by_role("checkbox", name="cotton lawn")
    tick.check()
    assert tick.is_checked()
    assert page.get_by_role("link", name="Pattern sheets for A4").get_attribute("href")
