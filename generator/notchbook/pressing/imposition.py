"""Booklets imposed: two pages side by side on each side of a sheet, to print on both sides, fold
and staple through the fold."""

from __future__ import annotations

from collections.abc import Sequence
from io import BytesIO
from typing import NamedTuple

from pypdf import PageObject, PdfReader, PdfWriter
from pypdf.generic import (
    ArrayObject,
    DecodedStreamObject,
    DictionaryObject,
    EncodedStreamObject,
    FloatObject,
    IndirectObject,
    NameObject,
)

from notchbook.reading.quantity import INCH

POINT = INCH / 72
"""Millimetres in a PDF point (ISO 32000-1, 8.3.2.3)."""

Extent = tuple[float, float]
"""Width and height, mm."""

Corners = tuple[float, float, float, float]
"""Left, bottom, right and top of a page, points."""


def trimmed(box: Sequence[float], extent: Extent) -> Corners:
    """A page's corners when it is cut or lengthened to ``extent``, as much on either side, with
    what is in its middle where it was."""
    left, bottom, right, top = box
    across, up = (extent[0] / POINT - right + left) / 2, (extent[1] / POINT - top + bottom) / 2
    return left - across, bottom - up, right + across, top + up


class Side(NamedTuple):
    """One side of a sheet as it lies: page numbers from 1, none where a page stays blank.
    ``depth`` counts sheets from the outside of the booklet, from 0."""

    left: int | None
    right: int | None
    depth: int


def saddle(pages: int) -> tuple[Side, ...]:
    """The sides of a booklet's sheets, front and back of the outermost first.

    Sheets folded into each other hold a multiple of four pages, and the two on any side add up to
    one more than that (the printers' rule). Blanks go in before the last page, which stays the
    back cover.
    """
    full = -(-pages // 4) * 4

    def page(place: int) -> int | None:
        if place == full:
            return pages
        return place if place < pages else None

    sides = []
    for depth in range(full // 4):
        first = 2 * depth + 1
        sides.append(Side(page(full + 1 - first), page(first), depth))
        sides.append(Side(page(first + 1), page(full - first), depth))
    return tuple(sides)


def impose(
    booklet: PdfReader, title: str, page: Extent, across: float, thickness: float = 0.1
) -> bytes:
    """A booklet's PDF with its pages, trimmed to the extent of ``page``, in pairs, on sheets
    ``across`` mm wide that are folded in the middle.

    ``thickness`` is that of the paper in mm. The paper round an inner sheet pushes it outwards by
    about its thickness (creep): the pages of each are moved as far towards the fold, so that all
    outer margins come out alike once the edge is trimmed.
    """
    writer = PdfWriter()
    writer.pdf_header = "%PDF-1.7"
    box = trimmed([float(edge) for edge in booklet.pages[0].mediabox], page)
    width, height = page[0] / POINT, page[1] / POINT
    forms = [_form(writer, page, box) for page in booklet.pages]
    fold = across / POINT / 2
    for left, right, depth in saddle(len(forms)):
        creep = depth * thickness / POINT
        places = ((left, fold - width + creep), (right, fold - creep))
        placed = [(number, x) for number, x in places if number]
        sheet = writer.add_blank_page(2 * fold, height)
        names = {NameObject(f"/P{number}"): forms[number - 1] for number, _ in placed}
        resources = DictionaryObject({NameObject("/XObject"): DictionaryObject(names)})
        sheet[NameObject("/Resources")] = resources
        drawn = (
            f"q 1 0 0 1 {x - box[0]:.4f} {-box[1]:.4f} cm /P{number} Do Q" for number, x in placed
        )
        sheet.replace_contents(_stream("\n".join(drawn).encode()))
    writer.root_object[NameObject("/ViewerPreferences")] = DictionaryObject(
        {
            NameObject("/PrintScaling"): NameObject("/None"),
            NameObject("/Duplex"): NameObject("/DuplexFlipShortEdge"),
        }
    )
    writer.metadata = {"/Title": title}
    made = BytesIO()
    writer.write(made)
    return made.getvalue()


def _form(writer: PdfWriter, page: PageObject, box: Corners) -> IndirectObject:
    """What a page shows within a box, to be drawn again (form XObject, ISO 32000-1, 8.10)."""
    contents = page.get_contents()
    form = _stream(contents.get_data() if contents is not None else b"")
    form.update(
        {
            NameObject("/Type"): NameObject("/XObject"),
            NameObject("/Subtype"): NameObject("/Form"),
            NameObject("/BBox"): ArrayObject(FloatObject(round(edge, 4)) for edge in box),
            NameObject("/Resources"): page["/Resources"].clone(writer),
        }
    )
    return writer._add_object(form)


def _stream(data: bytes) -> EncodedStreamObject:
    plain = DecodedStreamObject()
    plain.set_data(data)
    return plain.flate_encode()
