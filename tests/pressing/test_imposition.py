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
from pypdf import PdfReader, PdfWriter
from pypdf.generic import DecodedStreamObject, DictionaryObject, NameObject

from notchbook.pressing.imposition import HOLES, Side, impose, saddle, thickness

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


A5 = (148.0, 210.0)


def booklet(pages: int) -> PdfReader:
    """A booklet on A5. Each page has a black square of 10 mm, 20 mm from its left edge and
    page-number × 5 mm from its foot."""
    writer = PdfWriter()
    for number in range(1, pages + 1):
        page = writer.add_blank_page(A5[0] / POINT, A5[1] / POINT)
        box = " ".join(f"{mm / POINT:.4f}" for mm in (20, number * 5, 10, 10))
        square = DecodedStreamObject()
        square.set_data(f"0 g {box} re f".encode())
        page[NameObject("/Contents")] = writer._add_object(square)
        page[NameObject("/Resources")] = DictionaryObject()
    made = BytesIO()
    writer.write(made)
    return PdfReader(made)


def squares(data: bytes, side: int) -> list[tuple[float, float]]:
    """The lower left corners of the squares on one side, mm, as another library reads them."""
    with pdfplumber.open(BytesIO(data)) as document:
        found = document.pages[side].rects
    assert all(square["width"] * POINT == pytest.approx(10, abs=0.001) for square in found)
    return sorted((square["x0"] * POINT, square["y0"] * POINT) for square in found)


def test_two_a5_pages_lie_side_by_side_on_a4_at_true_size() -> None:
    data = impose(booklet(8), "Hat", A5, across=297, thickness=0)
    document = pypdfium2.PdfDocument(data)
    assert len(document) == 4
    assert document[0].get_size() == pytest.approx((297 / POINT, 210 / POINT), abs=0.01)
    # The fold is at 148.5 mm, and the pages meet there.
    assert squares(data, 0) == [
        pytest.approx((20.5, 40), abs=0.005),
        pytest.approx((168.5, 5), abs=0.005),
    ]


def test_pages_trimmed_to_half_letter_keep_their_middle_and_make_a_letter_sheet() -> None:
    data = impose(booklet(4), "Hat", (5.5 * 25.4, 8.5 * 25.4), across=11 * 25.4, thickness=0)
    assert pypdfium2.PdfDocument(data)[0].get_size() == pytest.approx((792, 612), abs=0.01)
    less, more = (148 - 139.7) / 2, (215.9 - 210) / 2
    assert squares(data, 0) == [
        pytest.approx((20 - less, 20 + more), abs=0.005),
        pytest.approx((139.7 + 20 - less, 5 + more), abs=0.005),
    ]


def test_inner_sheets_are_moved_towards_the_fold_by_the_paper_round_them() -> None:
    data = impose(booklet(12), "Hat", A5, across=297, thickness=0.1)
    for depth in range(3):
        for side in (2 * depth, 2 * depth + 1):
            (left, _), (right, _) = squares(data, side)
            assert left == pytest.approx(20.5 + 0.1 * depth, abs=0.005)
            assert right == pytest.approx(168.5 - 0.1 * depth, abs=0.005)


def test_office_paper_is_a_tenth_of_a_millimetre_thick_and_card_twice_that() -> None:
    assert thickness(80) == pytest.approx(0.1, abs=0.01)
    assert thickness(160) == 2 * thickness(80)


def test_the_middle_spread_alone_has_a_cross_on_the_fold_for_every_hole() -> None:
    data = impose(booklet(12), "Hat", A5, across=297, thickness=0.1)
    with pdfplumber.open(BytesIO(data)) as document:
        *others, middle = document.pages
        assert [page.lines for page in others] == [[]] * 5
        level = [line for line in middle.lines if line["height"] == 0]
        upright = [line for line in middle.lines if line["width"] == 0]
    assert len(level) == len(upright) == len(HOLES) == 5
    for line, share in zip(sorted(level, key=lambda line: line["y0"]), HOLES, strict=True):
        assert (line["x0"] + line["x1"]) / 2 * POINT == pytest.approx(148.5, abs=0.005)
        assert line["y0"] * POINT == pytest.approx((0.5 + share) * 210, abs=0.005)


def test_printers_are_asked_for_two_sides_short_edge_and_no_scaling() -> None:
    with pikepdf.open(
        BytesIO(impose(booklet(5), "Rain hat ⅝", A5, across=297, thickness=0))
    ) as pdf:
        assert pdf.Root.ViewerPreferences.Duplex == "/DuplexFlipShortEdge"
        assert pdf.Root.ViewerPreferences.PrintScaling == "/None"
        assert pdf.docinfo["/Title"] == "Rain hat ⅝"
        assert not pdf.check_pdf_syntax()


def test_the_same_booklet_gives_the_same_bytes() -> None:
    assert impose(booklet(6), "Hat", A5, 297, 0.1) == impose(booklet(6), "Hat", A5, 297, 0.1)
