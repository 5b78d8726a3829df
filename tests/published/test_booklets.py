"""Booklets as their readers have them.

Their order against the printers' rule (common practice of the trade): a saddle-stitched booklet has
a multiple of four pages, and the two pages on one side of a sheet add up to one more than that. And
what stands on which page, read back from the print: contents, steps, figures, headings."""

from __future__ import annotations

import re
from collections.abc import Sequence
from io import BytesIO
from pathlib import Path as File
from typing import Any

import numpy as np
import pypdfium2
import pytest

from notchbook.composing.booklet import booklet_html
from notchbook.composing.plates import draw_plates
from notchbook.pressing.imposition import saddle
from tests.composing import bench
from tests.published.printed import POINT
from tests.published.written import printer, setting

LAST_LINE = 194
"""Where the text of a page ends, mm from its top: ink below is the footer's."""

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


def words(page: Any, *corners: float) -> str:
    """All that stands on a page, or between ``corners`` of it, without the spaces."""
    return "".join(page.get_textpage().get_text_bounded(*corners).split())


def laid(booklet: File, imposed: File) -> list[Side]:
    """The sides of the imposed sheets. Every half is known by its words, and the last page is the
    back cover, whatever blanks come before it."""
    texts = [words(page) for page in pypdfium2.PdfDocument(booklet)]
    pages: dict[str, int | None] = {text: number for number, text in enumerate(texts, start=1)}
    assert len(pages) == len(texts)
    pages |= {texts[-1]: -(-len(texts) // 4) * 4, "": None}
    sides = []
    for side in pypdfium2.PdfDocument(imposed):
        width, height = side.get_size()
        left = words(side, 0, 0, width / 2, height)
        right = words(side, width / 2, 0, width, height)
        sides.append((pages[left], pages[right]))
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


def test_folded_leaf_by_leaf_the_pages_come_in_order(sides: list[Side]) -> None:
    """The sheets lie on each other and are folded: the right half of every front and what is on its
    back come first, from the outermost inwards, then the left halves from the middle outwards."""
    sheets = list(zip(sides[::2], sides[1::2], strict=True))
    right = [(front[1], back[0]) for front, back in sheets]
    left = [(back[1], front[0]) for front, back in reversed(sheets)]
    assert [page for leaf in (*right, *left) for page in leaf] == [*range(1, 2 * len(sides) + 1)]


LINES = 9
"""Words enough for nine lines and more, of which three at least stay together."""

FIGURE = """
    ```figure
    view: flat
    piece: {piece}
    alt: Figure of {name}.
    caption: Caption{name}.
    ```
"""


def step(stage: int, number: int, drawn: bool) -> str:
    name = f"S{stage}n{number}"
    lines = " ".join(["so many words that a line or more is filled"] * (LINES - number))
    figure = FIGURE.format(piece="brim" if number % 2 else "crown", name=name) if drawn else ""
    return f"{number}. Begin{name} {lines} end{name}.\n{figure}\n"


STAGES = "".join(
    f"\n## Stage{stage}x\n\n"
    + "".join(step(stage, number, drawn=(stage + number) % 3 != 0) for number in range(1, 4))
    for stage in range(1, 7)
)


@pytest.fixture(scope="module")
def pages() -> list[str]:
    """The words of each page of a booklet with eighteen steps, two thirds of them drawn."""
    drafted, lays = bench.made(body=STAGES)
    plates = draw_plates(drafted, setting())
    html = booklet_html(drafted, setting=setting(), plates=plates, lays=lays)
    (printed,) = printer().booklet(html, [(148, 210)])
    document = pypdfium2.PdfDocument(BytesIO(printed.data))
    return [page.get_textpage().get_text_bounded() for page in document]


def page_of(word: str, pages: list[str]) -> int:
    """The page a word stands on, but for the contents, from 0."""
    (found,) = [k for k, text in enumerate(pages) if k > 1 and word in text]
    return found


NAMES = [(stage, number) for stage in range(1, 7) for number in range(1, 4)]


def test_no_figure_is_away_from_its_step_nor_its_caption_from_it(pages: list[str]) -> None:
    drawn = [f"S{stage}n{number}" for stage, number in NAMES if (stage + number) % 3]
    assert len(drawn) == 12
    for name in drawn:
        assert page_of(f"end{name}", pages) == page_of(f"Caption{name}", pages)


def test_a_step_without_a_figure_is_never_cut(pages: list[str]) -> None:
    for stage, number in NAMES:
        if (stage + number) % 3 == 0:
            name = f"S{stage}n{number}"
            assert page_of(f"Begin{name}", pages) == page_of(f"end{name}", pages)


def test_a_step_that_is_cut_leaves_three_lines_and_takes_three(pages: list[str]) -> None:
    cut = [f"S{a}n{b}" for a, b in NAMES
           if page_of(f"BeginS{a}n{b} ", pages) != page_of(f"endS{a}n{b}", pages)]  # fmt: skip
    assert cut
    for name in cut:
        before, after = pages[page_of(f"Begin{name}", pages)], pages[page_of(f"end{name}", pages)]
        kept = before[before.index(f"Begin{name}") :].count("so many words")
        taken = after[: after.index(f"end{name}")].count("words")
        assert min(kept, taken) >= 2


def test_no_heading_is_left_at_the_foot_of_a_page(pages: list[str]) -> None:
    for stage in range(1, 7):
        named = [k for k, text in enumerate(pages) if k > 1 and f"Stage{stage}x" in text]
        assert min(named) == page_of(f"BeginS{stage}n1 ", pages)


def test_page_numbers_agree_with_the_list_of_contents(pages: list[str]) -> None:
    contents = dict(re.findall(r"(Stage\dx)[\s.]*?(\d+)\s", pages[1]))
    assert len(contents) == 6
    for stage in range(1, 7):
        page = page_of(f"BeginS{stage}n1 ", pages)
        assert contents[f"Stage{stage}x"] == str(page + 1)
        assert re.search(rf"(^|\s){page + 1}(\s|$)", pages[page])


def foot(page: Any) -> float:
    """How much is white between the last ink of a page of A5 and its last line, mm."""
    rows = page.render(scale=2, grayscale=True).to_numpy()[: int(LAST_LINE * 2 / POINT)]
    low = np.flatnonzero((rows < 200).reshape(len(rows), -1).any(axis=1)).max(initial=0)
    return LAST_LINE - float(low) / 2 * POINT


def test_the_hats_booklet_is_not_padded_with_white(demo_site: File) -> None:
    """Set without figures that grow smaller to stay on their pages, it took 38."""
    path = demo_site / "lamplighters-hat" / "oval" / "head-57cm" / "booklet-a5.pdf"
    document = pypdfium2.PdfDocument(path)
    texts = [page.get_textpage().get_text_bounded() for page in document]
    told = [k for k, text in enumerate(texts) if "Colophon" not in text and not is_spare(text)]
    white = [foot(document[k]) for k in told if k]
    assert len(white) <= 36
    assert sum(white) / len(white) < 30
    assert sum(each > 60 for each in white) <= 6


def is_spare(text: str) -> bool:
    """Whether a page is there to be written on."""
    return "Your measures" in text or text.startswith("Notes")


def test_spare_pages_to_write_on_fill_the_last_sheet(pages: list[str]) -> None:
    assert len(pages) % 4 == 0
    spare = [text for text in pages if is_spare(text)]
    assert len(spare) < 4
    assert "Colophon" in pages[-1]
    assert all(text in pages[-1 - len(spare) : -1] for text in spare)
