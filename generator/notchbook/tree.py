"""YAML to a tree of texts, every one with its place.

Scalars stay the text that was written: ``1.10`` and ``no`` are no numbers and no truths. Anchors,
aliases, tags, keys that are no text, a key twice in one mapping and deep nesting are refused.
Recipes, settings, themes and word catalogues are all read by it.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Any

from ruamel.yaml import YAML
from ruamel.yaml.error import MarkedYAMLError
from ruamel.yaml.events import (
    AliasEvent,
    DocumentStartEvent,
    Event,
    MappingEndEvent,
    MappingStartEvent,
    ScalarEvent,
    SequenceEndEvent,
    SequenceStartEvent,
)

from notchbook.problems import Findings, Place

DEEPEST = 12
"""Lists and mappings inside each other."""

_QUOTE = "Put the whole value in double quotes."


@dataclass(frozen=True, slots=True)
class Leaf:
    """A scalar. ``source`` is what stands in the file between its quotes, if it has any, from
    ``source_place`` on: folded lines as they are, so that a formula's places come out right."""

    text: str
    place: Place
    source: str
    source_place: Place


@dataclass(frozen=True, slots=True)
class Row:
    """A list."""

    entries: tuple[Node, ...]
    place: Place


@dataclass(frozen=True, slots=True)
class Branch:
    """A mapping. ``keys`` has the place of every key."""

    entries: Mapping[str, Node]
    keys: Mapping[str, Place]
    place: Place


@dataclass(frozen=True, slots=True)
class Spoilt:
    """What can't be used and has been reported."""

    place: Place


Node = Leaf | Row | Branch | Spoilt


def load(text: str, first: Place, findings: Findings) -> Branch | None:
    """The mapping that YAML ``text`` holds. ``first`` is the place of its first character, which
    begins a line. None where there is no whole mapping, which has then been reported."""
    reader = _Reader(text, first, findings)
    at = _crowd(text)
    if at is not None:
        reader.too_deep(reader.place(at))
        return None
    try:
        return reader.document(_events(text))
    except _TooDeep:
        return None
    except MarkedYAMLError as error:
        _explain(error, text, reader)
    except ValueError:
        findings.add(first, "An escape in double quotes stands for no character.", "Write it out.")
    return None


@lru_cache(maxsize=1024)
def _parsed(text: str) -> tuple[tuple[Event, ...], MarkedYAMLError | ValueError | None]:
    """The events of a text up to its first error. Kept, since reading it takes most of the time
    that a recipe takes, and of a recipe that has changed all its figures but one are the same. The
    demo workshop has some three hundred texts."""
    events = []
    try:
        for event in YAML(typ="safe", pure=True).parse(text):
            events.append(event)
    except (MarkedYAMLError, ValueError) as error:
        return tuple(events), error
    return tuple(events), None


def _events(text: str) -> Iterator[Event]:
    events, error = _parsed(text)
    yield from events
    if error:
        raise error.with_traceback(None)


class _TooDeep(Exception):
    """Reported already; nothing below it is read."""


@dataclass(slots=True)
class _Reader:
    text: str
    first: Place
    findings: Findings
    starts: list[int] = field(init=False)

    def __post_init__(self) -> None:
        self.starts = [0, *(found.end() for found in re.finditer("\n", self.text))]

    def place(self, at: int) -> Place:
        line = bisect_right(self.starts, at) - 1
        return Place(self.first.file, self.first.line + line, at - self.starts[line] + 1)

    def too_deep(self, place: Place) -> None:
        what = f"Lists and mappings stand more than {DEEPEST} deep inside each other here."
        self.findings.add(place, what, "Close some of them; no text here needs that many.")

    def document(self, events: Iterator[Event]) -> Branch | None:
        found: Branch | None = None
        documents = 0
        for event in events:
            if isinstance(event, DocumentStartEvent):
                documents += 1
                if documents > 1:
                    place = self.place(event.start_mark.index)
                    what = "A second YAML document begins here."
                    self.findings.add(place, what, "Delete the “...” or “---” that ends the first.")
                    return None
                node = self.node(next(events), events, 1)
                if isinstance(node, Branch):
                    found = node
                elif not isinstance(node, Spoilt):
                    what = "Names with values are wanted here."
                    self.findings.add(node.place, what, "Write lines such as “title: Tall hat”.")
        if not documents:
            what = "Nothing is written here."
            self.findings.add(self.first, what, "Write lines such as “title: Tall hat”.")
        return found

    def node(self, event: Event, events: Iterator[Event], depth: int) -> Node:
        place = self.place(event.start_mark.index)
        if depth > DEEPEST:
            self.too_deep(place)
            raise _TooDeep
        self.refuse_properties(event, place)
        if isinstance(event, ScalarEvent):
            return self.leaf(event, place)
        if isinstance(event, SequenceStartEvent):
            entries: list[Node] = []
            while not isinstance(event := next(events), SequenceEndEvent):
                entries.append(self.node(event, events, depth + 1))
            return Row(tuple(entries), place)
        if isinstance(event, MappingStartEvent):
            return self.branch(events, place, depth)
        return Spoilt(place)

    def branch(self, events: Iterator[Event], place: Place, depth: int) -> Branch:
        entries: dict[str, Node] = {}
        keys: dict[str, Place] = {}
        while not isinstance(event := next(events), MappingEndEvent):
            key = self.node(event, events, depth + 1)
            value = self.node(next(events), events, depth + 1)
            if isinstance(key, Row | Branch):
                what = "A list or mapping can't be a name."
                self.findings.add(key.place, what, "Write a plain name in front of the colon.")
            elif isinstance(key, Leaf) and key.text in keys:
                first = keys[key.text]
                what = f"“{key.text}” stands here a second time; the first is on line {first.line}."
                self.findings.add(key.place, what, "Keep one of the two.")
            elif isinstance(key, Leaf):
                entries[key.text], keys[key.text] = value, key.place
        return Branch(entries, keys, place)

    def leaf(self, event: ScalarEvent, place: Place) -> Node:
        text: str = event.value
        if any("\ud800" <= character <= "\udfff" for character in text):
            what = "An escape in these quotes stands for no character."
            self.findings.add(place, what, "Write the character itself.")
            return Spoilt(place)
        start, end = event.start_mark.index, event.end_mark.index
        if event.style in ("'", '"'):
            start, end = start + 1, end - 1
        elif event.style in ("|", ">"):
            start = self.text.find("\n", start, end) + 1 or end
        source = self.text[start:end]
        if source.split() == text.split():
            return Leaf(text, place, source, self.place(start))
        return Leaf(text, place, text, place)

    def refuse_properties(self, event: Event, place: Place) -> None:
        if isinstance(event, AliasEvent):
            what = f"“*{event.anchor}” is an alias, and none is used here."
            remedy = "Write the value out once more, or in double quotes if it begins with “*”."
            self.findings.add(place, what, remedy)
            return
        properties: Any = event
        if getattr(properties, "anchor", None):
            what = f"“&{properties.anchor}” is an anchor, and none is used here."
            remedy = "Delete it, or put a value that begins with “&” in double quotes."
            self.findings.add(place, what, remedy)
        if getattr(properties, "tag", None):
            what = "This value has a tag (a word after “!”), and none is used here."
            remedy = "Delete it, or put a value that begins with “!” in double quotes."
            self.findings.add(place, what, remedy)


def _crowd(text: str) -> int | None:
    """Where brackets are opened inside each other beyond all measure, if they are. The scanner
    needs time that grows with the square of that, so it must not even see such a text."""
    depth = 0
    for found in re.finditer(r"[\[{\]}]", text):
        depth = depth + 1 if found[0] in "[{" else max(depth - 1, 0)
        if depth > 10 * DEEPEST:
            return found.start()
    return None


_FAULTS = (
    (
        "mapping values are not allowed",
        "A colon followed by a space stands inside a value.",
        "Put the whole value in double quotes, or indent a new name as its neighbours are.",
    ),
    ("'\\t'", "A tab stands where only spaces may.", "Indent with spaces."),
    ("cannot start any token", "A value can't begin with this character.", _QUOTE),
    (
        "unknown escape",
        "A backslash in double quotes begins an escape nobody knows.",
        "Write two of them for one.",
    ),
    (
        "expected ',' or '}'",
        "These braces are not closed where they should be.",
        "Close them with “}”, and separate their names with commas.",
    ),
    (
        "expected ',' or ']'",
        "This list is not closed where it should be.",
        "Close it with “]”, and separate its entries with commas.",
    ),
    ("expected alphabetic or numeric", "“*” or “&” can't begin a value.", _QUOTE),
    ("while scanning a quoted scalar", "This quote is never closed.", "Close it."),
    ("while scanning a double-quoted scalar", "This quote is never closed.", "Close it."),
    ("could not find expected ':'", "No colon follows this name.", "Write name: value."),
    (
        "expected chomping",
        "Words stand on the line of a “|” or “>”.",
        "Begin them on the next line.",
    ),
    ("sequence entries", "A list entry begins inside a value.", "Begin it on a line of its own."),
    ("tag", "A value that begins with “!” is a tag, and none is used here.", _QUOTE),
    ("expected the node content", "This closes nothing.", "Delete it."),
    (
        "<block end>",
        "This does not fit in with what stands before it.",
        "Indent a new name as its neighbours are; put values that hold quotes in double quotes.",
    ),
)
"""What the scanner says, what that means, and what to do."""

_AT_START = ("expected ',' or", "never closed")


def _explain(error: MarkedYAMLError, text: str, reader: _Reader) -> None:
    said = f"{error.context or ''} {error.problem or ''}"
    mark = error.problem_mark or error.context_mark
    unknown = ("", f"This is not YAML: {said.strip()}.", _QUOTE)
    sign, what, remedy = next((fault for fault in _FAULTS if fault[0] in said), unknown)
    if error.context_mark and any(start in sign + what for start in _AT_START):
        mark = error.context_mark
    reader.findings.add(reader.place(min(mark.index, len(text)) if mark else 0), what, remedy)
