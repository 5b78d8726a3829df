"""A printed pattern as its reader has it: sheets taped together by their letters and marks, lines
followed from one to the next. Nothing is used but what pdfplumber reads in the PDF, and the look of
a line by which it is told from others."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from io import BytesIO
from typing import Any

import pdfplumber
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
    """Every page of a PDF after its covers, which would take as long to read as all others."""
    with pdfplumber.open(BytesIO(pdf)) as document:
        return [_sheet(page) for page in document.pages[covers:]]


def _sheet(page: Any) -> Sheet:
    lines: dict[str, list[Seen]] = {role: [] for role in ("cut", "stitch", "join", "ruler")}
    for stroke in (*page.lines, *page.curves, *page.rects):
        for role, found in lines.items():
            if stroke["stroke"] and _drawn_as(role, stroke):
                found.append(path(stroke["path"]))
    letters = [char for char in page.chars if abs(char["size"] * POINT - LETTER) < 0.01]
    joins: dict[str, list[complex]] = defaultdict(list)
    for line in lines["join"]:
        if abs(abs(line.end - line.start) - MARK) < 0.001:
            at = (line.start + line.end) / 2
            inside = [char for char in letters if abs(_middle(char) - at) < MARK / 2]
            joins["".join(char["text"] for char in inside)].append(at)
    return Sheet(
        lines, {letter: sorted(at, key=lambda p: p.real + p.imag) for letter, at in joins.items()}
    )


def _drawn_as(role: str, stroke: Any) -> bool:
    pen, dash = PENS[role], stroke["dash"][0] if stroke["dash"] else []
    return abs(stroke["linewidth"] * POINT - pen.width) < 0.01 and tuple(dash) == pen.dash


def _middle(char: Any) -> complex:
    return complex(char["x0"] + char["x1"], char["top"] + char["bottom"]) / 2 * POINT


def path(operators: Iterable[tuple[Any, ...]]) -> Seen:
    """A PDF's path operators as svgpathtools sees them, mm."""
    segments: list[Line | CubicBezier] = []
    at = start = 0j
    for name, *corners in operators:
        points = [complex(*corner) * POINT for corner in corners]
        match name:
            case "m":
                at = start = points[0]
                continue
            case "l":
                segments.append(Line(at, points[0]))
            case "c":
                segments.append(CubicBezier(at, *points))
            case "h":
                points = [start]
                if at != start:
                    segments.append(Line(at, start))
            case _:
                raise AssertionError(f"unknown operator {name}")
        at = points[-1]
    return Seen(*segments)


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
