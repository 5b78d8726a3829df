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

POINT = 25.4 / 72
"""Millimetres (ISO 32000-1, 8.3.2.3)."""

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
    printed = printer.sheets(page(ruler, typefaces))
    with pdfplumber.open(BytesIO(printed.data)) as document:
        (line,) = document.pages[0].lines
    assert line["height"] * 25.4 / 72 == pytest.approx(250, abs=0.01)
    assert printed.pages == 1


def test_all_ask_for_true_scale_and_booklets_are_tagged(
    printer: Printer, typefaces: Typefaces
) -> None:
    html = page("<h1>Hat</h1>", typefaces)
    with pikepdf.open(BytesIO(printer.sheets(html).data)) as sheets:
        assert sheets.Root.ViewerPreferences.PrintScaling == "/None"
    for printed in printer.booklet(html, [(148, 210), (139.7, 215.9)]):
        booklet = pikepdf.open(BytesIO(printed.data))
        assert booklet.Root.ViewerPreferences.PrintScaling == "/None"
        assert booklet.Root.MarkInfo.Marked
        assert booklet.Root.ViewerPreferences.DisplayDocTitle
        assert "/StructTreeRoot" in booklet.Root


def test_only_our_faces_are_embedded_even_for_a_family_and_a_character_we_lack(
    printer: Printer, typefaces: Typefaces
) -> None:
    body = '<p style="font-family: DejaVu Sans, sans-serif">Hat <b>bold</b> 帽 Ж</p>'
    with pikepdf.open(BytesIO(printer.sheets(page(body, typefaces)).data)) as pdf:
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
        printer.sheets(page(f'<img src="{address}" alt="">', typefaces))


def test_the_same_page_gives_the_same_bytes_whatever_was_printed_before(
    printer: Printer, typefaces: Typefaces
) -> None:
    html = page("<h1>Hat</h1><p><em>Ж</em> ⅝", typefaces)
    first = printer.booklet(html, [(210, 297)])[0].data
    printer.sheets(page("<p>Something <b>else</b>", typefaces))
    assert printer.booklet(html, [(210, 297)])[0].data == first
    assert Printer(typefaces).booklet(html, [(210, 297)])[0].data == first


def test_a_booklet_comes_with_every_size_of_page_its_type_in_the_middle(
    printer: Printer, typefaces: Typefaces
) -> None:
    html = page('<h1 id="hat">Hat</h1><p><a href="#hat">Up</a>', typefaces)
    wide, high, own = printer.booklet(html, [(220, 297), (210, 300), (210, 297)])
    seen = []
    for printed, (width, height) in ((wide, (220, 297)), (high, (210, 300)), (own, (210, 297))):
        with pikepdf.open(BytesIO(printed.data)) as pdf:
            assert not pdf.check_pdf_syntax()
            assert pdf.Root.MarkInfo.Marked
            left, bottom, right, top = (float(edge) * POINT for edge in pdf.pages[0].mediabox)
            assert (right - left, top - bottom) == pytest.approx((width, height), abs=0.001)
            seen.append((left + right, bottom + top, pdf.pages[0].Contents.read_bytes()))
    assert seen == [(pytest.approx(210, abs=0.001), pytest.approx(297, abs=0.001), seen[0][2])] * 3


def test_text_in_drawings_is_set_in_one_run_where_it_was_placed(
    printer: Printer, typefaces: Typefaces
) -> None:
    label = typefaces.label[0].family
    text = f'font-family="{label}" font-size="5">Top AV</text>'
    drawing = (
        '<body style="margin:0"><svg width="190mm" height="50mm" viewBox="0 0 190 50">'
        f'<text x="95" y="20" text-anchor="middle" {text}<text x="10" y="40" {text}</svg>'
    )
    printed = printer.sheets(page(drawing, typefaces))
    with pdfplumber.open(BytesIO(printed.data)) as document:
        chars = document.pages[0].chars
    assert "".join(char["text"] for char in chars) == "Top AV" * 2
    middle, start = chars[:6], chars[6:]
    assert start[0]["x0"] * POINT == pytest.approx(10 + 10, abs=0.01)
    assert (middle[0]["x0"] + middle[-1]["x1"]) / 2 * POINT == pytest.approx(10 + 95, abs=0.01)
    # Letter by letter, no pair would be kerned.
    unkerned = 5 * sum(typefaces.label[0].advances[char] for char in "Top AV")
    assert (start[-1]["x1"] - start[0]["x0"]) * POINT < unkerned - 0.1


def test_a_loose_booklet_has_the_same_pages_and_each_object_by_itself(
    printer: Printer, typefaces: Typefaces
) -> None:
    html = page("<h1>Hat</h1><p>⅝", typefaces)
    loose, first, last = printer.booklet(html, [(148, 210), (210, 297)], loose=True)
    assert [first, last] == list(printer.booklet(html, [(148, 210), (210, 297)]))
    assert b"/ObjStm" in last.data and b"/ObjStm" not in loose.data
    with pikepdf.open(BytesIO(loose.data)) as pdf, pikepdf.open(BytesIO(last.data)) as packed:
        assert not pdf.check_pdf_syntax()
        assert loose.pages == len(pdf.pages) == len(packed.pages)
        for one, other in zip(pdf.pages, packed.pages, strict=True):
            assert one.mediabox == other.mediabox
            assert one.Contents.read_bytes() == other.Contents.read_bytes()
            assert one.Resources.Font.keys() == other.Resources.Font.keys()
