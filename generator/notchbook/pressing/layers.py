"""Lines on a printed page, in layers that a reader switches on and off: optional content."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from io import BytesIO
from typing import NamedTuple

from pypdf import PdfReader, PdfWriter
from pypdf.generic import (
    ArrayObject,
    DecodedStreamObject,
    DictionaryObject,
    FloatObject,
    NameObject,
    TextStringObject,
)

from notchbook.composing.drawing import Stroke
from notchbook.composing.symbols import BLACK, PENS
from notchbook.drafting.geometry.arcs import as_cubics
from notchbook.drafting.geometry.path import Path
from notchbook.drafting.geometry.segments import Arc, Cubic, Line
from notchbook.drafting.geometry.vector import Point
from notchbook.pressing.imposition import POINT


class Layer(NamedTuple):
    """Strokes under one title, in mm, y down the page."""

    title: str
    strokes: tuple[Stroke, ...]


def add_layers(pdf: bytes, layers: Sequence[Layer], corner: Point, unit: int = 1) -> bytes:
    """The one page of a PDF with layers on it, all of them shown at first; ``corner`` is the point
    of the drawing, in mm, in the page's top left corner. The unit of the page is made ``unit``
    times the usual one: what was on it is then so many times as large (ISO 32000-1, 8.11 for
    layers, table 30 for ``UserUnit``).

    The same arguments give the same bytes.
    """
    writer = PdfWriter(clone_from=PdfReader(BytesIO(pdf)))
    writer.pdf_header = "%PDF-1.7"  # layers came with 1.5, UserUnit with 1.6
    (page,) = writer.pages
    height = float(page.mediabox.height)
    groups = ArrayObject()
    names = DictionaryObject()
    parts = []
    for number, layer in enumerate(layers):
        group = DictionaryObject(
            {
                NameObject("/Type"): NameObject("/OCG"),
                NameObject("/Name"): TextStringObject(layer.title),
            }
        )
        groups.append(writer._add_object(group))
        names[NameObject(f"/L{number}")] = groups[-1]
        drawn = "\n".join(line for stroke in layer.strokes for line in _drawn(stroke))
        parts.append(f"/OC /L{number} BDC\n{drawn}\nEMC")
    # From millimetres down the page to the page's own units up it.
    scale = 1 / (POINT * unit)
    x, y = -corner.real * scale, height + corner.imag * scale
    matrix = " ".join(f"{each:.8f}" for each in (scale, 0, 0, -scale, x, y))
    # They come first, so that nothing what the page draws leaves behind has a hold on them.
    text = "\n".join(("q", f"{matrix} cm", *parts, "Q", ""))
    stream = DecodedStreamObject()
    stream.set_data(text.encode("ascii"))
    page[NameObject("/Contents")] = ArrayObject(
        [writer._add_object(stream.flate_encode()), page.raw_get("/Contents")]
    )
    page["/Resources"].get_object()[NameObject("/Properties")] = names  # type: ignore[index]
    if unit > 1:
        page[NameObject("/UserUnit")] = FloatObject(unit)
    writer.root_object[NameObject("/OCProperties")] = DictionaryObject(
        {
            NameObject("/OCGs"): groups,
            NameObject("/D"): DictionaryObject(
                {NameObject("/Order"): ArrayObject(groups), NameObject("/ON"): ArrayObject(groups)}
            ),
        }
    )
    # Viewers open their list of layers at once.
    writer.root_object[NameObject("/PageMode")] = NameObject("/UseOC")
    written = BytesIO()
    writer.write(written)
    return written.getvalue()


def _drawn(stroke: Stroke) -> Iterator[str]:
    """Operators that draw a stroke with its pen (ISO 32000-1, 8.4.4 and 8.5.2)."""
    pen = PENS[stroke.role]
    assert pen.colour == BLACK
    dash = " ".join(f"{length:.4f}" for length in pen.dash)
    yield f"0 G {pen.width:.4f} w {1 if pen.cap == 'round' else 0} J [{dash}] 0 d"
    for path in stroke.paths:
        yield from _path(path)
    yield "S"


def _path(path: Path) -> Iterator[str]:
    yield f"{_point(path.start)} m"
    for segment in path.segments:
        match segment:
            case Line():
                yield f"{_point(segment.end)} l"
            case Arc():
                yield from map(_curve, as_cubics(segment))
            case Cubic():
                yield _curve(segment)
    if path.closed:
        yield "h"


def _curve(cubic: Cubic) -> str:
    return f"{_point(cubic.leave)} {_point(cubic.arrive)} {_point(cubic.end)} c"


def _point(point: Point) -> str:
    return f"{point.real:.4f} {point.imag:.4f}"
