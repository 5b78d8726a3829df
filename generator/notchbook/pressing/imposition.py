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


BULK = 1.3
"""Volume of uncoated paper for printers, cm³ a gram: 80 g a square metre is 0.104 mm thick."""

HOLES = (-0.36, -0.18, 0.0, 0.18, 0.36)
"""Where a needle goes through the fold, in shares of its length from the middle: all five, or the
first, third and fifth. A stapler's two go in at the second and fourth."""


def thickness(weight: float) -> float:
    """Of paper of so many grams a square metre, mm: weight × bulk, for 1 g/m² × 1 cm³/g = 1 µm."""
    return weight * BULK / 1000


def impose(booklet: PdfReader, title: str, page: Extent, across: float, thickness: float) -> bytes:
    """A booklet's PDF with its pages, trimmed to the extent of ``page``, in pairs, on sheets
    ``across`` mm wide that are folded in the middle.

    ``thickness`` is that of the paper, mm. Sheets creased hard touch each other at the fold, each
    one thickness further out than the sheet round it, and so are its outer edges (creep; round a
    fold not creased it would be π/2 of that, the difference of two quarter circles). The pages of
    each are moved as far towards the fold, so that all outer margins come out alike once the edge
    is trimmed. The middle spread is marked where staples or thread go through.
    """
    writer = PdfWriter()
    writer.pdf_header = "%PDF-1.7"
    box = trimmed([float(edge) for edge in booklet.pages[0].mediabox], page)
    width, height = page[0] / POINT, page[1] / POINT
    forms = [_form(writer, page, box) for page in booklet.pages]
    fold = across / POINT / 2
    sides = saddle(len(forms))
    for number, (left, right, depth) in enumerate(sides, start=1):
        creep = depth * thickness / POINT
        places = ((left, fold - width + creep), (right, fold - creep))
        placed = [(shown, x) for shown, x in places if shown]
        sheet = writer.add_blank_page(2 * fold, height)
        names = {NameObject(f"/P{shown}"): forms[shown - 1] for shown, _ in placed}
        resources = DictionaryObject({NameObject("/XObject"): DictionaryObject(names)})
        sheet[NameObject("/Resources")] = resources
        drawn = [
            f"q 1 0 0 1 {x - box[0]:.4f} {-box[1]:.4f} cm /P{shown} Do Q" for shown, x in placed
        ]
        if number == len(sides):
            drawn.append(_holes(fold, height))
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


def _holes(fold: float, height: float) -> str:
    """A small cross on the fold for every hole, points."""
    arm = 0.8 / POINT
    strokes = (
        f"{fold - arm:.4f} {y:.4f} m {fold + arm:.4f} {y:.4f} l "
        f"{fold:.4f} {y - arm:.4f} m {fold:.4f} {y + arm:.4f} l S"
        for y in ((0.5 + share) * height for share in HOLES)
    )
    return "\n".join(["q 0 G 0.5 w", *strokes, "Q"])


def _form(writer: PdfWriter, page: PageObject, box: Corners) -> IndirectObject:
    """What a page shows within a box, to be drawn again (form XObject, ISO 32000-1, 8.10)."""
    contents = page.get("/Contents")
    form = contents.clone(writer) if contents is not None else _stream(b"")
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
