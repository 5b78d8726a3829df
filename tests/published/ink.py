"""The ink on printed pages as pypdfium2 finds it: how wide lines are, how large type is, in what
colour either is printed."""

from __future__ import annotations

from collections.abc import Iterator
from ctypes import c_float, c_int, c_uint
from io import BytesIO
from typing import Any, NamedTuple

import pikepdf
import pypdfium2
import pypdfium2.raw as pdfium

from tests.published.printed import POINT

Colour = tuple[int, int, int, int]
"""Red, green, blue and how opaque, from 0 to 255."""

BLACK, WHITE = (0, 0, 0, 255), (255, 255, 255, 255)


class Ink(NamedTuple):
    """A line or an area or a word: how wide the line or how large the type is, mm."""

    kind: str
    size: float
    colour: Colour


def ink(pdf: bytes) -> Iterator[Ink]:
    """Everything printed on every page."""
    document = pypdfium2.PdfDocument(pdf)
    with pikepdf.open(BytesIO(pdf)) as opened:
        units = [float(page.obj.get("/UserUnit", 1)) for page in opened.pages]
    for page, unit in zip(document, units, strict=True):
        count = pdfium.FPDFPage_CountObjects(page.raw)
        for k in range(count):
            yield from _ink(pdfium.FPDFPage_GetObject(page.raw, k), unit * POINT)


def _ink(raw: Any, scale: float) -> Iterator[Ink]:
    kind = pdfium.FPDFPageObj_GetType(raw)
    scale *= _enlarged(raw)
    if kind == pdfium.FPDF_PAGEOBJ_FORM:
        for k in range(pdfium.FPDFFormObj_CountObjects(raw)):
            yield from _ink(pdfium.FPDFFormObj_GetObject(raw, k), scale)
    elif kind == pdfium.FPDF_PAGEOBJ_PATH:
        filled, stroked = c_int(), c_int()
        pdfium.FPDFPath_GetDrawMode(raw, filled, stroked)
        if stroked.value:
            width = c_float()
            pdfium.FPDFPageObj_GetStrokeWidth(raw, width)
            yield Ink("line", width.value * scale, _colour(pdfium.FPDFPageObj_GetStrokeColor, raw))
        if filled.value:
            yield Ink("area", 0, _colour(pdfium.FPDFPageObj_GetFillColor, raw))
    elif kind == pdfium.FPDF_PAGEOBJ_TEXT:
        size = c_float()
        pdfium.FPDFTextObj_GetFontSize(raw, size)
        yield Ink("type", size.value * scale, _colour(pdfium.FPDFPageObj_GetFillColor, raw))
    else:
        raise AssertionError(f"a picture or a shading on a sheet: kind {kind}")


def _enlarged(raw: Any) -> float:
    matrix = pdfium.FS_MATRIX()
    pdfium.FPDFPageObj_GetMatrix(raw, matrix)
    return float(abs(matrix.a * matrix.d - matrix.b * matrix.c) ** 0.5)


def _colour(get: Any, raw: Any) -> Colour:
    parts = [c_uint() for _ in range(4)]
    assert get(raw, *parts)
    red, green, blue, opaque = (part.value for part in parts)
    return red, green, blue, opaque
