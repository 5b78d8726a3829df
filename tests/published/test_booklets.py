"""Booklet order against the printers' rule (common practice of the trade): a saddle-stitched
booklet has a multiple of four pages, and the two pages on one side of a sheet add up to one more
than that."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path as File
from typing import Any

import pdfplumber
import pytest

from notchbook.pressing.imposition import saddle

Side = tuple[int | None, int | None]
"""The pages that lie left and right on one side of a sheet; none is a blank."""


def keeps_the_rule(sides: Sequence[Side]) -> bool:
    """Whether every side's pages add up to N + 1, odd ones lie on the right, and all are there but
    those that blanks beside others stand for."""
    full = 2 * len(sides)
    sums = all(left + right == full + 1 for left, right in sides if left and right)
    rectos = all((right or 1) % 2 == 1 and (left or 0) % 2 == 0 for left, right in sides)
    there = [page for side in sides for page in side if page]
    blank = [full + 1 - (left or right or 0) for left, right in sides if not (left and right)]
    return full % 4 == 0 and sums and rectos and sorted(there + blank) == [*range(1, full + 1)]


def words(page: Any) -> str:
    return "".join(char["text"] for char in page.chars)


def laid(booklet: File, imposed: File) -> list[Side]:
    """The sides of the imposed sheets. Every half is known by its words, and the last page is the
    back cover, whatever blanks come before it."""
    with pdfplumber.open(booklet) as document:
        texts = [words(page) for page in document.pages]
    pages: dict[str, int | None] = {text: number for number, text in enumerate(texts, start=1)}
    assert len(pages) == len(texts)
    pages |= {texts[-1]: -(-len(texts) // 4) * 4, "": None}
    sides = []
    with pdfplumber.open(imposed) as document:
        for side in document.pages:
            fold, height = side.width / 2, side.height
            left = side.within_bbox((0, 0, fold, height))
            right = side.within_bbox((fold, 0, side.width, height))
            sides.append((pages[words(left)], pages[words(right)]))
    return sides


@pytest.fixture(scope="module", params=["a5", "half-letter"])
def sides(request: pytest.FixtureRequest, pressed: File) -> list[Side]:
    """Those of a pressed booklet."""
    name = f"booklet-{request.param}"
    return laid(pressed / f"{name}.pdf", pressed / f"{name}-print.pdf")


def test_the_two_pages_of_a_side_add_up_to_one_more_than_all(sides: list[Side]) -> None:
    assert keeps_the_rule(sides)
    assert len(sides) >= 4
    assert sides[0] == (2 * len(sides), 1)


def test_pages_that_change_places_break_the_rule(sides: list[Side]) -> None:
    (left, right), (other, _), *rest = sides
    assert not keeps_the_rule([(other, right), (left, sides[1][1]), *rest])
    assert not keeps_the_rule([(right, left), *sides[1:]])
    assert not keeps_the_rule(sides[:-1])


def test_sixteen_pages_are_laid_as_printers_lay_them() -> None:
    """The rule holds for the order every printer's handbook prints."""
    pairs = [(16, 1), (2, 15), (14, 3), (4, 13), (12, 5), (6, 11), (10, 7), (8, 9)]
    assert keeps_the_rule(pairs)
    assert [(side.left, side.right) for side in saddle(16)] == pairs
