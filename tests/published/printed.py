"""A printed pattern as its reader has it: sheets taped together by their letters and marks, lines
followed from one to the next. Nothing is used but what PDFium reads in the PDF, and the look of a
line by which it is told from others."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator
from ctypes import c_float, c_int, sizeof
from dataclasses import dataclass
from functools import partial
from typing import Any

import pypdfium2
import pypdfium2.raw as pdfium
from pypdfium2 import PdfMatrix
from svgpathtools import CubicBezier, Line
from svgpathtools import Path as Seen

from notchbook.composing.symbols import PENS

POINT = 25.4 / 72
"""Millimetres: PDF's user space has 72 units to the inch (ISO 32000-1, 8.3.2.3)."""

MARK = 14.0
"""From end to end of half a completing mark, mm."""

LETTER = 4.5
"""The size of the letter in it, mm."""


@dataclass(frozen=True)
class Sheet:
    """One page: its lines by their role, and where the marks of its joins are, by their letter.
    All in mm from the page's top left corner, y down."""

    lines: dict[str, list[Seen]]
    joins: dict[str, list[complex]]


def sheets(pdf: bytes, covers: int = 0) -> list[Sheet]:
    """Every page of a PDF after its covers."""
    document = pypdfium2.PdfDocument(pdf)
    return [_sheet(document[number]) for number in range(covers, len(document))]


def _sheet(page: Any) -> Sheet:
    lines: dict[str, list[Seen]] = {role: [] for role in ("cut", "stitch", "join", "ruler")}
    letters: list[tuple[str, complex]] = []
    words = page.get_textpage()
    upright = PdfMatrix().scale(POINT, -POINT).translate(0, page.get_height() * POINT)
    for thing, around in things(page):
        placed = around.multiply(upright)
        whole = matrix_of(thing).multiply(placed)
        match pdfium.FPDFPageObj_GetType(thing):
            case pdfium.FPDF_PAGEOBJ_TEXT if abs(type_size(thing) * scale(whole) - LETTER) < 0.01:
                letters.append((_said(thing, words), _middle(thing, placed)))
            case pdfium.FPDF_PAGEOBJ_PATH:
                width, dash = _stroke(thing, scale(whole))
                for role, found in lines.items():
                    if abs(width - PENS[role].width) < 0.01 and dash == PENS[role].dash:
                        found.extend(_paths(thing, whole))
    joins: dict[str, list[complex]] = defaultdict(list)
    for line in lines["join"]:
        if abs(abs(line.end - line.start) - MARK) < 0.001:
            at = (line.start + line.end) / 2
            inside = [letter for letter, middle in letters if abs(middle - at) < MARK / 2]
            joins["".join(inside)].append(at)
    return Sheet(
        lines, {letter: sorted(at, key=lambda p: p.real + p.imag) for letter, at in joins.items()}
    )


def things(page: Any) -> Iterator[tuple[Any, PdfMatrix]]:
    """All that is drawn on a page, each with the matrix of what it is drawn within."""

    def inside(count: int, get: Callable[[int], Any], around: PdfMatrix) -> Iterator[Any]:
        for k in range(count):
            thing = get(k)
            if pdfium.FPDFPageObj_GetType(thing) == pdfium.FPDF_PAGEOBJ_FORM:
                parts = partial(pdfium.FPDFFormObj_GetObject, thing)
                matrix = matrix_of(thing).multiply(around)
                yield from inside(pdfium.FPDFFormObj_CountObjects(thing), parts, matrix)
            else:
                yield thing, around

    parts = partial(pdfium.FPDFPage_GetObject, page.raw)
    return inside(pdfium.FPDFPage_CountObjects(page.raw), parts, PdfMatrix())


def scale(matrix: PdfMatrix) -> float:
    """How much longer a matrix makes things that it does not stretch more one way than another."""
    return float(abs(matrix.a * matrix.d - matrix.b * matrix.c) ** 0.5)


def type_size(text: Any) -> float:
    """The size of a text's type, before any matrix."""
    size = c_float()
    pdfium.FPDFTextObj_GetFontSize(text, size)
    return size.value


def painted(line: Any) -> tuple[bool, float | None]:
    """Whether a path is filled, and how wide its stroke is if it has one, before any matrix."""
    filled, stroked, width = c_int(), c_int(), c_float()
    pdfium.FPDFPath_GetDrawMode(line, filled, stroked)
    pdfium.FPDFPageObj_GetStrokeWidth(line, width)
    return bool(filled.value), width.value if stroked.value else None


def matrix_of(thing: Any) -> PdfMatrix:
    """How a thing lies in what it is drawn within."""
    matrix = pdfium.FS_MATRIX()
    pdfium.FPDFPageObj_GetMatrix(thing, matrix)
    return PdfMatrix.from_raw(matrix)


def _said(text: Any, words: Any) -> str:
    """The letters of a text."""
    letters = (pdfium.FPDF_WCHAR * 16)()
    pdfium.FPDFTextObj_GetText(text, words, letters, sizeof(letters))
    return bytes(letters).decode("utf-16-le").partition("\0")[0].strip()


def _stroke(line: Any, scale: float) -> tuple[float, tuple[float, ...]]:
    """How wide a line is and how it is dashed, mm; one that is not drawn has no width."""
    _, width = painted(line)
    dash = (c_float * pdfium.FPDFPageObj_GetDashCount(line))()
    pdfium.FPDFPageObj_GetDashArray(line, dash, len(dash))
    return (width or 0.0) * scale, tuple(round(mark * scale, 2) for mark in dash)


def _middle(text: Any, placed: PdfMatrix) -> complex:
    """The middle of a text's ink, mm."""
    left, bottom, right, top = edges = [c_float() for _ in range(4)]
    pdfium.FPDFPageObj_GetBounds(text, *edges)
    return complex(*placed.on_point((left.value + right.value) / 2, (bottom.value + top.value) / 2))


def _paths(line: Any, placed: PdfMatrix) -> Iterator[Seen]:
    """The runs of a path as svgpathtools sees them, mm."""
    run: list[Line | CubicBezier] = []
    at = start = 0j
    bend: list[complex] = []
    for k in range(pdfium.FPDFPath_CountSegments(line)):
        part, x, y = pdfium.FPDFPath_GetPathSegment(line, k), c_float(), c_float()
        pdfium.FPDFPathSegment_GetPoint(part, x, y)
        point = complex(*placed.on_point(x.value, y.value))
        match pdfium.FPDFPathSegment_GetType(part):
            case pdfium.FPDF_SEGMENT_MOVETO:
                if run:
                    yield Seen(*run)
                run, at, start = [], point, point
            case pdfium.FPDF_SEGMENT_LINETO:
                run.append(Line(at, point))
                at = point
            case pdfium.FPDF_SEGMENT_BEZIERTO:
                bend.append(point)
                if len(bend) == 3:
                    run.append(CubicBezier(at, *bend))
                    at, bend = point, []
        if pdfium.FPDFPathSegment_GetClose(part) and at != start:
            run.append(Line(at, start))
            at = start
    if run:
        yield Seen(*run)


@dataclass(frozen=True)
class Taped:
    """Sheets taped together."""

    sheets: list[Sheet]
    places: list[complex]
    """Where each sheet's top left corner comes to lie, mm."""

    def lines(self, role: str) -> list[Seen]:
        """All lines of a role where they come to lie."""
        laid = zip(self.sheets, self.places, strict=True)
        return [line.translated(at) for sheet, at in laid for line in sheet.lines[role]]

    def gaps(self, role: str) -> list[float]:
        """How far, mm, from every place where a line of a role leaves a sheet at one of its joins
        the nearest line comes in on another sheet."""
        found = []
        laid = list(zip(self.sheets, self.places, strict=True))
        for sheet, place in laid:
            starts = [
                line.start + at
                for other, at in laid
                if other is not sheet
                for line in other.lines[role]
            ]
            for line in sheet.lines[role]:
                if any(_on(line.end, marks) for marks in sheet.joins.values()):
                    found.append(min(abs(start - line.end - place) for start in starts))
        return found


def _on(point: complex, marks: list[complex]) -> bool:
    """Whether a point lies on the line through the two marks of a join, which is level or
    upright."""
    one, two = (mark - point for mark in marks)
    return max(abs(one.real), abs(two.real)) < 0.05 or max(abs(one.imag), abs(two.imag)) < 0.05


def taped(loose: Iterable[Sheet]) -> list[Taped]:
    """Sheets laid so that marks of the same letter complete each other, in groups that no letter
    holds together."""
    left = list(loose)
    groups = []
    while left:
        group = Taped([left.pop(0)], [0j])
        for sheet, place in zip(group.sheets, group.places, strict=False):  # grows as it goes
            for other in [o for o in left if sheet.joins.keys() & o.joins.keys()]:
                left.remove(other)
                group.sheets.append(other)
                group.places.append(place + _shift(sheet, other))
        groups.append(group)
    return groups


def _shift(sheet: Sheet, other: Sheet) -> complex:
    """From one sheet's corner to the other's, by the mean of the marks they share."""
    pairs = [
        (one, two)
        for letter in sheet.joins.keys() & other.joins.keys()
        for one, two in zip(sheet.joins[letter], other.joins[letter], strict=True)
    ]
    assert len(pairs) >= 2
    shift = sum(one - two for one, two in pairs) / len(pairs)
    assert all(abs(one - two - shift) < 0.01 for one, two in pairs)
    return shift


def loops(lines: Iterable[Seen], gap: float = 0.1) -> list[list[Seen]]:
    """Closed lines, put together from their parts: each as its edges, which end where it turns a
    corner. Parts belong together where one ends within ``gap`` mm of where another starts."""
    left = list(lines)
    found = []
    while left:
        loop = [left.pop()]
        while abs(loop[-1].end - loop[0].start) > gap:
            following = [line for line in left if abs(line.start - loop[-1].end) <= gap]
            if len(following) != 1:
                raise Gap(f"{len(following)} lines go on at {loop[-1].end:.1f}")
            left.remove(following[0])
            loop.append(following[0])
        found.append(list(_edges(loop)))
    return found


class Gap(Exception):
    """A line that does not go on."""


def _edges(loop: list[Seen]) -> Iterator[Seen]:
    """The parts of a loop in as many runs as it has corners, or one where it has none."""
    ways = [(_direction(loop[k - 1], 1), _direction(loop[k], 0)) for k in range(len(loop))]
    corners = [k for k, (before, after) in enumerate(ways) if (after / before).real < 0.999] or [0]
    for number, first in enumerate(corners):
        last = corners[(number + 1) % len(corners)]
        run = loop[first:last] if last > first else loop[first:] + loop[:last]
        yield Seen(*(segment for part in run for segment in part))


def _direction(line: Seen, end: int) -> complex:
    """Of travel where a line starts (0) or ends (1)."""
    along = line.point(0.002) - line.start if end == 0 else line.end - line.point(0.998)
    return complex(along / abs(along))
