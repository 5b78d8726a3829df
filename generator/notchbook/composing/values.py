"""Values as readers see them: one span per unit system, so that a page can show either or both."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from markupsafe import Markup, escape

from notchbook.composing import numbers
from notchbook.composing.kinds import Kind
from notchbook.composing.numbers import Pair
from notchbook.reading.quantity import LENGTH, RATIO, Quantity
from notchbook.reading.recipe import Text
from notchbook.reading.workshop import Units


@dataclass(frozen=True, slots=True)
class Values:
    """Sets values in HTML, the workshop's own units first."""

    units: Units

    def pair(self, pair: Pair) -> Markup:
        """Both ways of writing a value; one span where they are the same words."""
        metric, inch = pair
        if metric == inch:
            return Markup('<span class="q">{}</span>').format(metric)
        spans = [
            Markup('<span class="mm">{}</span>').format(metric),
            Markup('<span class="in">{}</span>').format(inch),
        ]
        if self.units == "inch":
            spans.reverse()
        return Markup('<span class="q">{}</span>').format(Markup(" ").join(spans))

    def quantity(self, value: Quantity, kind: Kind = "number") -> Markup:
        """Any quantity, rounded as its kind is; a ratio is a bare number unless ``kind`` tells
        more of it."""
        if value.dimension == RATIO and kind != "number":
            write = numbers.angle if kind == "angle" else numbers.percent
            return self.pair(write(value.value))
        return self.pair(numbers.quantity(value))

    def length(self, mm: float) -> Markup:
        """A length, to 1 mm and 1/8 in."""
        return self.pair(numbers.length(mm))

    def radius(self, mm: float) -> Markup:
        """A radius to draw by hand, to 0.5 mm and 1/32 in."""
        return self.pair(numbers.radius(mm))

    def tape(self, mm: float) -> Markup:
        """A body measure or a length of cloth, in cm and inches."""
        return self.pair(numbers.tape(mm))

    def cloth(self, mm: float) -> Markup:
        """A length of cloth to ask for, rounded up as shops cut it."""
        return self.pair(numbers.cloth(mm))

    def thread(self, mm: float) -> Markup:
        """A length of thread, rounded up to whole metres and yards."""
        return self.pair(numbers.thread(mm))

    def body(self, value: Quantity) -> Markup:
        """A measure's value: lengths as a tape shows them."""
        return self.tape(value.value) if value.dimension == LENGTH else self.quantity(value)

    def bought(self, value: Quantity) -> Markup:
        """An amount to buy: lengths of 30 cm and more as a tape shows them."""
        return self.body(value) if value.value >= 295 else self.quantity(value)

    def span(self, low: Quantity, high: Quantity) -> Markup:
        """From one value to another: ``52–66 cm``, with the unit once in each system."""
        first, last = (
            numbers.tape(v.value) if v.dimension == LENGTH else numbers.quantity(v)
            for v in (low, high)
        )
        metric, inch = (
            f"{_bare(a, b)}–{b}" for a, b in ((first.metric, last.metric), (first.inch, last.inch))
        )
        return self.pair(Pair(metric, inch))


def _bare(first: str, last: str) -> str:
    """``first`` without its unit where ``last`` has the same."""
    number, _, unit = first.partition(numbers.SPACE)
    return number if unit and last.endswith(numbers.SPACE + unit) else first


def words(text: str, **values: object) -> Markup:
    """A catalogue text in HTML: the text and plain values escaped, markup values kept."""
    return escape(glued(text)).format(**{name: curled(value) for name, value in values.items()})


def curled(value: object) -> object:
    """An author's plain text with printers' quotation marks; anything else as it is.

    >>> curled("the wearer's \"best\" hat")
    'the wearer’s “best” hat'
    """
    if isinstance(value, Text):
        value = value.value
    if not isinstance(value, str) or isinstance(value, Markup):
        return value
    for opening, mark, text in _MARKS:
        value = opening.sub(mark, value).replace(text, _CLOSING[mark])
    return glued(value)


def glued(text: str) -> str:
    """``text`` with every number and its unit on one line.

    >>> glued("a 30 cm ruler") == "a 30\N{NO-BREAK SPACE}cm ruler"
    True
    """
    return _LOOSE.sub(numbers.SPACE, text)


_LOOSE = re.compile(r"(?<=[0-9¼½¾⅛⅜⅝⅞]) (?=(?:mm|cm|m|in|ft|yd|g|kg|l|h|min|%)(?!\w))")
_CLOSING = {"‘": "’", "“": "”"}
# A straight mark opens at the start, after a space and after an opening bracket or dash.
_MARKS = tuple(
    (re.compile(rf"(?<![^\s(\[–—‘“]){straight}(?=\S)"), mark, straight)
    for mark, straight in (("“", '"'), ("‘", "'"))
)


def day(iso: str, catalogue: Mapping[str, str]) -> str:
    """A date as people write it, from its ISO 8601 form: ``24 November 2026``."""
    year, month, day = iso.split("-")
    months = catalogue["date.months"].split()
    return catalogue["date"].format(day=int(day), month=months[int(month) - 1], year=year)
