"""A page printed from the browser."""

from __future__ import annotations

import re

import pypdfium2
import pytest

from tests.browser.conftest import Open
from tests.browser.pages import KINDS, LONG, RECIPE


def printed(data: bytes) -> str:
    """The text of a PDF, blanks made alike."""
    document = pypdfium2.PdfDocument(data)
    text = " ".join(page.get_textpage().get_text_range() for page in document)
    return " ".join(text.split())


@pytest.mark.parametrize("paper, size", [("A4", (595, 842)), ("Letter", (612, 792))])
def test_a_recipe_prints_with_its_steps_and_without_what_only_a_screen_can_do(
    paper: str, size: tuple[int, int], served: str, open_page: Open
) -> None:
    data = open_page(served + LONG).pdf(format=paper)
    assert data.startswith(b"%PDF-")
    document = pypdfium2.PdfDocument(data)
    assert len(document) <= 40
    assert all(page.get_size() == pytest.approx(size, abs=1) for page in document)
    text = printed(data)
    assert "Sew the brim" in text
    assert "Wear goggles." in text
    assert "Draw it by hand: Brim" in text
    assert "Knot string into a closed loop" in text  # unfolded on paper
    for screen_only in ("Choose your size", "Show lengths in", "Skip to", "All patterns"):
        assert screen_only not in text


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_of_page_prints_black_on_white_also_from_a_dark_screen(
    kind: str, served: str, open_page: Open
) -> None:
    page = open_page(served + KINDS[kind], color_scheme="dark")
    page.emulate_media(media="print", color_scheme="dark")
    colours = page.evaluate(
        "(s => [s.color, s.backgroundColor])(getComputedStyle(document.documentElement))"
    )
    assert colours == ["rgb(0, 0, 0)", "rgba(0, 0, 0, 0)"]
    for element in ("nav", ".skip", ".picker", ".units", ".downloads", ".up"):
        assert not page.locator(element).or_(page.locator("no-such-thing")).first.is_visible()
    assert page.get_by_role("heading", level=1).is_visible()


def test_the_chosen_units_are_printed(served: str, open_page: Open) -> None:
    page = open_page(served + RECIPE)
    page.get_by_label("inches").check()
    text = printed(page.pdf(format="Letter"))
    assert "Head girth 22½ in" in text
    assert re.search(r"drawn from [^a-z]+ in\.", text)
    assert not re.search(r"drawn from [^a-z]+ cm", text)


def test_cautions_and_drawings_stand_beside_the_words_of_their_step(
    served: str, open_page: Open
) -> None:
    page = open_page(served + RECIPE, viewport={"width": 690, "height": 1000})
    page.emulate_media(media="print")
    steps = page.evaluate(
        """[...document.querySelectorAll('.step:has(> .plate)')].map(step => {
            const side = (e) => e.getBoundingClientRect();
            const words = side(step.querySelector('.words'));
            const first = side(step.querySelector('.care, .plate'));
            return [first.left - words.right, first.top - words.top];
        })"""
    )
    assert len(steps) > 10
    assert all(apart > 5 and abs(lower) < 2 for apart, lower in steps)


def test_no_drawing_is_torn_by_the_end_of_a_page(served: str, open_page: Open) -> None:
    page = open_page(served + RECIPE, viewport={"width": 690, "height": 1000})
    page.emulate_media(media="print")
    tallest = page.evaluate(
        "Math.max(...[...document.querySelectorAll('.plate')].map(e => e.offsetHeight))"
    )
    assert tallest < 0.6 * 1000
    kept = page.evaluate(
        "[...document.querySelectorAll('.plate, .care, .step > .words, tr')]"
        ".every(e => getComputedStyle(e).breakInside == 'avoid')"
    )
    assert kept
