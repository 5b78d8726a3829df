"""The ink on printed pages as pypdfium2 finds it: how wide lines are, how large type is, in what
colour either is printed."""

from __future__ import annotations

from collections.abc import Iterator
from ctypes import c_uint
from io import BytesIO
from typing import Any, NamedTuple

import pikepdf
import pypdfium2
import pypdfium2.raw as pdfium

from tests.published.printed import POINT, matrix_of, painted, scale, things, type_size

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
        for thing, around in things(page):
            yield from _ink(thing, scale(matrix_of(thing).multiply(around)) * unit * POINT)


def _ink(thing: Any, scale: float) -> Iterator[Ink]:
    kind = pdfium.FPDFPageObj_GetType(thing)
    if kind == pdfium.FPDF_PAGEOBJ_PATH:
        filled, width = painted(thing)
        if width is not None:
            yield Ink("line", width * scale, _colour(pdfium.FPDFPageObj_GetStrokeColor, thing))
        if filled:
            yield Ink("area", 0, _colour(pdfium.FPDFPageObj_GetFillColor, thing))
    elif kind == pdfium.FPDF_PAGEOBJ_TEXT:
        colour = _colour(pdfium.FPDFPageObj_GetFillColor, thing)
        yield Ink("type", type_size(thing) * scale, colour)
    else:
        raise AssertionError(f"a picture or a shading on a sheet: kind {kind}")


def _colour(get: Any, raw: Any) -> Colour:
    parts = [c_uint() for _ in range(4)]
    assert get(raw, *parts)
    red, green, blue, opaque = (part.value for part in parts)
    return red, green, blue, opaque
