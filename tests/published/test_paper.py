"""Pages against ISO 216 and ANSI/ASME Y14.1, in PDF's units of 1/72 inch (ISO 32000-1, 8.3.2.3)."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from io import BytesIO
from pathlib import Path as File

import pikepdf
import pypdfium2
import pytest

from notchbook.composing import errands
from notchbook.composing.paper import PAPERS
from notchbook.pressing import size
from notchbook.reading.workshop import KNOWN_PAPERS
from tests.published.checks import INCH, Figure, wrong
from tests.published.written import press, print_sheets
from tests.recipes import HEAD, text_of

PUBLISHED = {
    "sheets-a4.pdf": (210, 297),  # ISO 216: A4
    "sheets-letter.pdf": (8.5 * INCH, 11 * INCH),  # ANSI/ASME Y14.1: size A
    "booklet-a5.pdf": (148, 210),  # ISO 216: A5
    "booklet-a5-print.pdf": (297, 210),  # A4 on its side
    "booklet-half-letter.pdf": (5.5 * INCH, 8.5 * INCH),  # half of size A
    "booklet-half-letter-print.pdf": (11 * INCH, 8.5 * INCH),  # size A on its side
    "list.pdf": (210, 11 * INCH),  # as wide as A4, as high as size A
}


def boxes(path: File) -> Iterator[Figure]:
    """Every page as pikepdf reads its box, and as pypdfium2 would draw it."""
    width, height = PUBLISHED[path.name]
    drawn = pypdfium2.PdfDocument(path)
    with pikepdf.open(path) as pdf:
        assert len(pdf.pages) == len(drawn)
        for number, page in enumerate(pdf.pages):
            left, bottom, right, top = (float(edge) for edge in page.mediabox)
            yield Figure("width", (right - left) / 72 * INCH, width, 0.02)
            yield Figure("height", (top - bottom) / 72 * INCH, height, 0.02)
            wide, high = drawn[number].get_size()
            yield Figure("width as drawn", wide / 72 * INCH, width, 0.02)
            yield Figure("height as drawn", high / 72 * INCH, height, 0.02)


def test_every_page_is_as_large_as_its_paper(document: File) -> None:
    assert not wrong(boxes(document))


def test_papers_off_by_one_per_cent_are_noticed(
    tmp_path: File, monkeypatch: pytest.MonkeyPatch
) -> None:
    off = {
        name: replace(paper, width=paper.width * 1.01, height=paper.height * 1.01)
        for name, paper in PAPERS.items()
    }
    pages = {
        paper: page._replace(extent=(page.extent[0] * 1.01, page.extent[1] * 1.01))
        for paper, page in size.BOOKLETS.items()
    }
    monkeypatch.setattr(size, "PAPERS", off)
    monkeypatch.setattr(size, "BOOKLETS", pages)
    monkeypatch.setattr("notchbook.pressing.size.PAGE", tuple(1.01 * mm for mm in errands.PAGE))
    folder = press(text_of(), tmp_path)
    for name in PUBLISHED:
        figures = list(boxes(folder / name))
        assert wrong(figures) == figures


SHEETS = {
    "a3": (297, 420),  # ISO 216
    "tabloid": (11 * INCH, 17 * INCH),  # ANSI/ASME Y14.1: size B
    "a2": (420, 594),
    "a1": (594, 841),
    "a0": (841, 1189),
    "roll": (36 * INCH, None),
    "projection": (None, None),
}
SMALL = f"""{HEAD}allowance: 1 cm
pieces:
  tab: {{title: Tab, shape: disc, girth: 30 cm, cut: {{shell: 1}}}}
"""


@pytest.mark.parametrize("paper", SHEETS)
def test_every_paper_that_can_be_asked_for_is_as_large_as_it_should_be(paper: str) -> None:
    data = print_sheets(text_of(SMALL, "## Make it\n\n1. Cut it.\n"), paper=PAPERS[paper])
    with pikepdf.open(BytesIO(data)) as pdf:
        assert len(pdf.pages) == (2 if paper in ("a3", "tabloid") else 1)
        assert pdf.Root.ViewerPreferences.PrintScaling == "/None"
        for page in pdf.pages:
            for edge, wanted in zip(page.mediabox[2:], SHEETS[paper], strict=True):
                if wanted is not None:
                    assert abs(float(edge) / 72 * INCH - wanted) < 0.02
                # Acrobat's limit on a page (ISO 32000-1, annex C).
                assert float(edge) <= 14400


def test_the_papers_an_author_can_name_are_those_there_are() -> None:
    assert set(KNOWN_PAPERS) == set(PAPERS)
