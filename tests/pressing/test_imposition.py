"""Imposition proved by folding: sheets are stacked, folded and leafed through like a reader would,
and the pages drawn on them are looked up in the PDF by another library."""

from __future__ import annotations

from io import BytesIO

import pdfplumber
import pikepdf
import pypdfium2
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pypdf import PdfWriter
from pypdf.generic import DecodedStreamObject, DictionaryObject, NameObject

from notchbook.pressing.imposition import Side, impose, saddle

POINT = 25.4 / 72


def leafed_through(sides: tuple[Side, ...]) -> list[int | None]:
    """The pages in the order a reader meets them. Sheets lie with their fronts down, the outermost
    lowest, and are folded together with the left half over the right: each half of a sheet is a
    leaf, whose two pages are read one after the other."""
    fronts, backs = sides[0::2], sides[1::2]
    first_half: list[int | None] = []
    second_half: list[int | None] = []
    for front, back in zip(fronts, backs, strict=True):
        # Flipped on the short edge, what is right on the front has what is left on the back
        # behind it.
        first_half += [front.right, back.left]
        second_half = [back.right, front.left, *second_half]
    return first_half + second_half


@given(st.integers(2, 120))
def test_folded_and_leafed_through_the_pages_come_in_order(pages: int) -> None:
    read = leafed_through(saddle(pages))
    assert [page for page in read if page] == list(range(1, pages + 1))
    assert len(read) % 4 == 0
    assert read.count(None) < 4


@given(st.integers(2, 120))
def test_blanks_stand_before_the_back_page_which_stays_outside(pages: int) -> None:
    read = leafed_through(saddle(pages))
    assert (read[0], read[-1]) == (1, pages)
    assert all(page is None for page in read[pages - 1 : -1])


@given(st.integers(2, 120))
def test_depth_counts_sheets_from_the_outside(pages: int) -> None:
    depths = [side.depth for side in saddle(pages)]
    assert depths == [number // 2 for number in range(len(depths))]


def booklet(pages: int, width: float = 148, height: float = 210) -> bytes:
    """A booklet each of whose pages has a black square of 10 mm, 20 mm from the left edge of the
    page and page-number × 5 mm from its foot."""
    writer = PdfWriter()
    for number in range(1, pages + 1):
        page = writer.add_blank_page(width / POINT, height / POINT)
        box = " ".join(f"{mm / POINT:.4f}" for mm in (20, number * 5, 10, 10))
        square = DecodedStreamObject()
        square.set_data(f"0 g {box} re f".encode())
        page[NameObject("/Contents")] = writer._add_object(square)
        page[NameObject("/Resources")] = DictionaryObject()
    made = BytesIO()
    writer.write(made)
    return made.getvalue()


def squares(data: bytes, side: int) -> list[tuple[float, float]]:
    """The lower left corners of the squares on one side, mm, as another library reads them."""
    with pdfplumber.open(BytesIO(data)) as document:
        found = document.pages[side].rects
    assert all(square["width"] * POINT == pytest.approx(10, abs=0.001) for square in found)
    return sorted((square["x0"] * POINT, square["y0"] * POINT) for square in found)


def test_two_a5_pages_lie_side_by_side_on_a4_at_true_size() -> None:
    data = impose(booklet(8), "Hat", across=297, thickness=0)
    document = pypdfium2.PdfDocument(data)
    assert len(document) == 4
    assert document[0].get_size() == pytest.approx((297 / POINT, 210 / POINT), abs=0.01)
    # The fold is at 148.5 mm, and the pages meet there.
    assert squares(data, 0) == [
        pytest.approx((20.5, 40), abs=0.005),
        pytest.approx((168.5, 5), abs=0.005),
    ]


def test_half_letter_pages_make_a_letter_sheet() -> None:
    data = impose(booklet(4, 5.5 * 25.4, 8.5 * 25.4), "Hat", across=11 * 25.4)
    assert pypdfium2.PdfDocument(data)[0].get_size() == pytest.approx((792, 612), abs=0.01)


def test_inner_sheets_are_moved_towards_the_fold_by_the_paper_round_them() -> None:
    data = impose(booklet(12), "Hat", across=297, thickness=0.1)
    for depth in range(3):
        for side in (2 * depth, 2 * depth + 1):
            (left, _), (right, _) = squares(data, side)
            assert left == pytest.approx(20.5 + 0.1 * depth, abs=0.005)
            assert right == pytest.approx(168.5 - 0.1 * depth, abs=0.005)


def test_printers_are_asked_for_two_sides_short_edge_and_no_scaling() -> None:
    with pikepdf.open(BytesIO(impose(booklet(5), "Rain hat ⅝", across=297))) as pdf:
        assert pdf.Root.ViewerPreferences.Duplex == "/DuplexFlipShortEdge"
        assert pdf.Root.ViewerPreferences.PrintScaling == "/None"
        assert pdf.docinfo["/Title"] == "Rain hat ⅝"
        assert not pdf.check_pdf_syntax()


def test_the_same_booklet_gives_the_same_bytes() -> None:
    assert impose(booklet(6), "Hat", 297) == impose(booklet(6), "Hat", 297)
