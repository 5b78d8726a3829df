"""Figures made smaller to stay on their page."""

from __future__ import annotations

from io import BytesIO

import pdfplumber
import pytest

from notchbook.composing.figures.size import LEAST
from tests.published.printed import POINT
from tests.published.written import printer

DRAWN = 60
"""Of the figure, mm, on a page of 100 mm."""

CAPTION = 5


def sides(filled: float, style: str = "object-fit: scale-down") -> list[tuple[int, float, float]]:
    """Of a square in a figure below ``filled`` mm: its page, its size and the middle of it, mm."""
    html = (
        "<html lang=en><title>Page</title><style>@page{size:100mm 100mm;margin:0}*{margin:0}"
        f"figure{{break-inside:avoid}}svg{{display:block;margin:0 auto;{style}}}"
        f"p{{height:{filled}mm}}figcaption{{height:{CAPTION}mm}}</style>"
        f'<p></p><figure><div><svg width="{DRAWN}mm" height="{DRAWN}mm" viewBox="0 0 60 60">'
        '<path d="M0 0H60V60H0Z" fill="#000"/></svg></div><figcaption></figcaption></figure>'
    )
    found = []
    (printed,) = printer().booklet(html, [(100, 100)])
    with pdfplumber.open(BytesIO(printed.data)) as document:
        for number, page in enumerate(document.pages, start=1):
            found += [
                (number, r["width"] * POINT, (r["x0"] + r["x1"]) / 2 * POINT) for r in page.rects
            ]
    return found


def test_a_figure_with_room_is_as_large_as_it_is() -> None:
    assert sides(filled=100 - DRAWN - CAPTION) == [(1, pytest.approx(60), pytest.approx(50))]


def test_a_figure_that_misses_a_little_fills_the_page_with_its_caption() -> None:
    assert sides(filled=45) == [(1, pytest.approx(50), pytest.approx(50))]


def test_a_figure_is_made_no_smaller_than_can_be_read() -> None:
    most = 100 - CAPTION - LEAST * DRAWN
    assert sides(filled=most - 0.1)[0][:2] == (1, pytest.approx(LEAST * DRAWN + 0.1))
    assert sides(filled=most + 0.1)[0][:2] == (2, pytest.approx(DRAWN))


def test_a_figure_whose_style_does_not_ask_for_it_goes_overleaf() -> None:
    assert sides(filled=45, style="")[0][:2] == (2, pytest.approx(DRAWN))
