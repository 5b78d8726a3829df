"""The fitting strip: a paper tape as long as the body is round, to cut out and wear."""

from __future__ import annotations

import math

from notchbook.composing import numbers
from notchbook.composing.drawing import Fill, Group, Item, Stroke, Text
from notchbook.composing.lettering.placing import overlap, text_items, text_tile
from notchbook.composing.pairs import both, ordered
from notchbook.composing.setting import Setting
from notchbook.composing.symbols import SMALLEST
from notchbook.drafting.draft import Draft
from notchbook.drafting.geometry.path import polyline
from notchbook.drafting.geometry.vector import Point
from notchbook.drafting.letters import SMALL, letter
from notchbook.reading.quantity import INCH
from notchbook.reading.recipe import Measure

HEIGHT = 17.0
"""Height of one length of the strip, mm."""

LOW = 14.0
"""A length no higher than this (mm) carries its numbers and letters, no other words."""

BEYOND = 40.0
"""How far the strip goes on beyond the measure, mm."""

TAB = 12.0
"""How far its lengths overlap, mm."""

LEAST = 10.0
"""How far the mark stays from the beginning of a length, where its letter is, mm."""


def girth(draft: Draft) -> Measure | None:
    """The first measure that goes round the body, as its recipe says: the pieces can't tell, since
    a cape's neck has a gap in front, and gaiters lap. None where there is no such measure."""
    return next((measure for measure in draft.recipe.measures.values() if measure.strip), None)


def lengths(mm: float, width: float) -> list[tuple[float, float]]:
    """Where on the strip each length begins and ends, so that it fits a page ``width`` mm wide and
    the mark at ``mm`` keeps off the letter that a length begins with."""
    whole, usable = mm + BEYOND, width - TAB
    before, rest = divmod(mm, usable)
    if before and rest < LEAST:
        usable = (mm - LEAST) / before
    return [(k * usable, min((k + 1) * usable, whole)) for k in range(math.ceil(whole / usable))]


def strip_height(mm: float, width: float) -> float:
    """Height of all lengths, one below the other, and the line of words above them."""
    count = len(lengths(mm, width))
    return count * _height(count) + 5


def strip(measure: Measure, mm: float, at: Point, width: float, setting: Setting) -> Group:
    """The strip for a measure of ``mm``, its top left corner at ``at``. Centimetres run along the
    upper edge, inches along the lower one."""
    tape = numbers.tape(mm)
    title = setting.say("cover.strip", measure=measure.title, length=both(tape, setting))
    parts = lengths(mm, width)
    high = _height(len(parts))
    items: list[Item] = [Text(at + 3j, title, "strong", 3.2)]
    for number, (begin, end) in enumerate(parts):
        corner = at + (5 + number * high) * 1j
        tab = TAB if number < len(parts) - 1 else 0.0
        size = complex(end - begin + tab, high)
        items.append(_border(corner, size))
        items.append(_graduations(corner, begin, end, high))
        middle = corner + high * 0.5j + 1j * 4.5 * 0.35
        if number:
            items.append(Text(middle + 3, _join(number), "name", 4.5))
        if tab:
            edge = corner + (end - begin)
            items.append(Stroke((polyline(edge, edge + high * 1j),), "stitch"))
            items.append(
                Text(middle + (end - begin) + TAB / 2, _join(number + 1), "name", 4.5, "middle")
            )
        if not number:
            items.append(Text(middle + 3, "0", "name", 4.5))
        if begin <= mm < end:
            items += _mark(corner + (mm - begin), end - mm, high, tape, setting)
        more = _figures(corner, begin, end, mm, high)
        if not begin <= mm < end:
            part = setting.say("cover.strip.part", part=number + 1, parts=len(parts))
            more.append(Text(corner + 10 + (high / 2 + 1) * 1j, part, "note", 2.8))
        items += _clear(more, items, setting)
    return Group(tuple(items), id="strip")


def _clear(texts: list[Text], items: list[Item], setting: Setting) -> list[Text]:
    """Those of the texts, the first ones first, that lie on no other and on none of the items."""
    kept: list[Text] = []
    tiles = [text_tile(text, setting) for text in text_items(items)]
    for text in texts:
        tile = text_tile(text, setting)
        if not any(overlap(tile, other) for other in tiles):
            kept.append(text)
            tiles.append(tile)
    return kept


def _height(count: int) -> float:
    return min(HEIGHT, 72 / count)


def _join(number: int) -> str:
    return letter(number - 1, SMALL)


def _border(corner: Point, size: complex) -> Stroke:
    right, low = corner + size.real, corner + size.imag * 1j
    return Stroke((polyline(corner, right, corner + size, low, corner),), "layer")


def _graduations(corner: Point, begin: float, end: float, high: float) -> Stroke:
    marks = []
    for step, every, foot, way in ((5.0, 2, corner, 1j), (INCH / 4, 4, corner + high * 1j, -1j)):
        for k in range(math.ceil(begin / step), math.floor(end / step) + 1):
            reach = 3.2 if k % every == 0 else 1.8
            start = foot + (k * step - begin)
            marks.append(polyline(start, start + way * reach))
    return Stroke(tuple(marks), "ruler")


def _figures(corner: Point, begin: float, end: float, mm: float, high: float) -> list[Text]:
    """Numbers where they are read, near the end, and now and then before that."""
    found = []
    for step, every, low, unit in ((10.0, 5, 5.6, "cm"), (INCH, 2, high - 3.8, "in")):
        for k in range(math.ceil((begin + 3) / step), math.floor((end - 3) / step) + 1):
            at = k * step
            if k == 1:
                words = f"1{numbers.SPACE}{unit}"
            elif k % every == 0 or abs(at - mm) < BEYOND:
                words = str(k)
            else:
                continue
            if k and abs(at - mm) > 4:
                place = corner + complex(at - begin, low)
                found.append(Text(place, words, "number", SMALLEST, "middle"))
    return found


def _mark(at: Point, room: float, high: float, tape: numbers.Pair, setting: Setting) -> list[Item]:
    """The line that the strip's beginning meets when the size is right, and its words on the side
    where the ``room`` mm to its right allow it."""
    bar = polyline(at - 0.4, at + 0.4, at + 0.4 + high * 1j, at - 0.4 + high * 1j, at - 0.4)
    words = setting.say("cover.strip.end", length=ordered(tape, setting)[0])
    base = at + (high / 2 + 1) * 1j
    fits = setting.width(words, 3.0, 700) + 3 < room
    beside = Text(base + 2, words, "strong", 3.0) if fits else (
        Text(base - 2, words, "strong", 3.0, "end")
    )  # fmt: skip
    # On a low strip there is room for its numbers alone; the title says where the line is.
    return [Fill((bar,), "ink"), *([beside] if high > LOW else [])]
