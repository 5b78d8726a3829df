"""Printing: our faces alone, nothing fetched, true scale, the same bytes twice."""

from __future__ import annotations

from io import BytesIO

import pdfplumber
import pikepdf
import pytest
from weasyprint.urls import FatalURLFetchingError

from notchbook.composing.markup.css import font_css
from notchbook.gathering.source import Typefaces
from notchbook.gathering.typefaces import gather_typefaces
from notchbook.pressing.pdf import Printer
from notchbook.problems import Place

FONTS = {"text": ("spectral",), "label": ("ibm-plex-sans-condensed",), "others": ("noto-sans",)}


@pytest.fixture(scope="module")
def typefaces() -> Typefaces:
    return gather_typefaces(FONTS, Place("workshop.yaml", 1, 1))


@pytest.fixture(scope="module")
def printer(typefaces: Typefaces) -> Printer:
    return Printer(typefaces)


def page(body: str, typefaces: Typefaces) -> str:
    faces = font_css(typefaces, lambda face: f"font:{face.file}")
    style = f"{faces} @page{{size:210mm 297mm;margin:10mm}} body{{font-family:var(--text)}}"
    return f'<html lang="en"><head><title>Hat</title><style>{style}</style></head>{body}</html>'


def test_a_line_of_250_mm_measures_250_mm(printer: Printer, typefaces: Typefaces) -> None:
    ruler = (
        '<svg width="190mm" height="270mm" viewBox="0 0 190 270">'
        '<path d="M 5 5 V 255" stroke="#000" stroke-width="0.2" fill="none"/></svg>'
    )
    printed = printer.pdf(page(ruler, typefaces), "sheets")
    with pdfplumber.open(BytesIO(printed.data)) as document:
        (line,) = document.pages[0].lines
    assert line["height"] * 25.4 / 72 == pytest.approx(250, abs=0.01)
    assert printed.pages == 1


def test_sheets_ask_for_true_scale_and_booklets_are_tagged(
    printer: Printer, typefaces: Typefaces
) -> None:
    html = page("<h1>Hat</h1>", typefaces)
    with pikepdf.open(BytesIO(printer.pdf(html, "sheets").data)) as sheets:
        assert sheets.Root.ViewerPreferences.PrintScaling == "/None"
    with pikepdf.open(BytesIO(printer.pdf(html, "booklet").data)) as booklet:
        assert booklet.Root.MarkInfo.Marked
        assert booklet.Root.ViewerPreferences.DisplayDocTitle
        assert "/StructTreeRoot" in booklet.Root


def test_only_our_faces_are_embedded_even_for_a_family_and_a_character_we_lack(
    printer: Printer, typefaces: Typefaces
) -> None:
    body = '<p style="font-family: DejaVu Sans, sans-serif">Hat <b>bold</b> 帽 Ж</p>'
    with pikepdf.open(BytesIO(printer.pdf(page(body, typefaces), "sheets").data)) as pdf:
        names = {str(pdf_font.BaseFont) for pdf_page in pdf.pages
                 for pdf_font in pdf_page.Resources.Font.values()}  # fmt: skip
    assert names
    families = ("Spectral", "IBM-Plex-Sans-Condensed", "Noto-Sans")
    assert all(name.split("+")[1].startswith(families) for name in names)


@pytest.mark.parametrize(
    "address", ["http://example.org/a.png", "file:///etc/hostname", "a.png", "font:other.woff2"]
)
def test_nothing_is_fetched_from_anywhere(
    printer: Printer, typefaces: Typefaces, address: str
) -> None:
    with pytest.raises(FatalURLFetchingError, match="a printed page asks for"):
        printer.pdf(page(f'<img src="{address}" alt="">', typefaces), "sheets")


def test_the_same_page_gives_the_same_bytes_whatever_was_printed_before(
    printer: Printer, typefaces: Typefaces
) -> None:
    html = page("<h1>Hat</h1><p><em>Ж</em> ⅝", typefaces)
    first = printer.pdf(html, "booklet").data
    printer.pdf(page("<p>Something <b>else</b>", typefaces), "sheets")
    assert printer.pdf(html, "booklet").data == first
    assert Printer(typefaces).pdf(html, "booklet").data == first
