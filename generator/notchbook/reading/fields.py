"""Values of the front matter by their kind: texts, quantities, counts, lists, parts.

Every function reports what it can't use and returns something harmless in its place, so that
reading goes on; nothing harmless leaves reading, because the findings are settled first.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import pairwise

from notchbook.problems import ContentError, Findings, Place, nearest, suggestion
from notchbook.reading.arithmetic import evaluate
from notchbook.reading.formula import (
    Formula,
    Geometry,
    Name,
    Number,
    parse,
    parse_if_any,
    references,
)
from notchbook.reading.quantity import RATIO, Dimension, Quantity, describe, with_units
from notchbook.reading.recipe import Entry, Scalar, Series, Table, Text
from notchbook.tree import Branch, Leaf, Node, Row, Spoilt

_KINDS = {Leaf: "one value", Row: "a list", Branch: "a table of names"}


@dataclass(frozen=True, slots=True)
class Part:
    """A mapping whose keys are known, what messages call it, and the place of that."""

    name: str
    branch: Branch
    place: Place
    findings: Findings
    misspelt: frozenset[str] = frozenset()
    """Keys that stand here in another spelling, which was reported."""

    def get(self, key: str) -> Node | None:
        return self.branch.entries.get(key)

    def at(self, key: str) -> Place:
        return self.branch.keys.get(key, self.place)

    def need(self, key: str, example: str) -> Node:
        """The value of a key that can't be left out."""
        node = self.get(key)
        if node is None and key in self.misspelt:
            return Spoilt(self.place)
        if node is None:
            remedy = f"Add a line such as “{key}: {example}”" + "." * (not example.endswith("."))
            self.findings.add(self.place, f"{self.name} has no “{key}”.", remedy)
            return Spoilt(self.place)
        return node

    def text(self, key: str, example: str) -> Text:
        return text(self.need(key, example), f"“{key}”", self.at(key), self.findings)

    def text_or(self, key: str, default: str) -> str:
        node = self.get(key)
        return default if node is None else self.text(key, "").value

    def texts(self, key: str) -> tuple[Text, ...]:
        """The texts of a list that may be left out."""
        label = f"each entry of “{key}”"
        return tuple(text(node, label, node.place, self.findings) for node in self.rows(key))

    def rows(self, key: str) -> tuple[Node, ...]:
        """The entries of a list that may be left out."""
        node = self.get(key)
        return () if node is None else rows(node, f"“{key}”", self.at(key), self.findings)

    def quantity(self, key: str, dimension: Dimension | None, example: str) -> Formula:
        node = self.need(key, example)
        return quantity(node, f"“{key}”", self.at(key), dimension, self.findings)

    def quantity_or_none(self, key: str, dimension: Dimension | None) -> Formula | None:
        return self.quantity(key, dimension, "") if key in self.branch.entries else None

    def yes(self, key: str) -> bool:
        """Whether something that may be left out, and then is not so, is so."""
        node = self.get(key)
        return node is not None and (
            choice(node, f"“{key}”", self.at(key), ("no", "yes"), self.findings) == "yes"
        )

    def branches(self, key: str) -> Iterator[tuple[str, Node, Place]]:
        """The named values of a mapping that may be left out."""
        node = self.get(key)
        if node is None:
            return
        found = branch(node, f"“{key}”", self.at(key), self.findings)
        for name, value in found.entries.items():
            yield name, value, found.keys[name]

    def parts(
        self, key: str, known: Iterable[str], more: bool = False
    ) -> Iterator[tuple[str, Part]]:
        """The named parts of a mapping that may be left out."""
        for name, node, place in self.branches(key):
            yield name, part(node, f"“{name}”", place, known, self.findings, more)


def part(
    node: Node,
    name: str,
    place: Place,
    known: Iterable[str],
    findings: Findings,
    more: bool = False,
) -> Part:
    """A mapping with ``known`` keys, which messages call ``name``. With ``more``, it may have
    others that someone else knows."""
    found = _rejoined(branch(node, name, place, findings), findings)
    names = list(known)
    meant: list[str] = []
    for key, at in found.keys.items():
        if key not in names and not more:
            remedy = suggestion(key, names)
            if " " in key and _is_blank(found.entries[key]):
                remedy = "A comma ends a value in braces: put the whole value in double quotes."
            findings.add(at, f"{_capital(name)} has no “{key}”.", remedy)
            meant.append(nearest(key, names) or key)
    return Part(_capital(name), found, place, findings, frozenset(meant))


def _rejoined(found: Branch, findings: Findings) -> Branch:
    """A mapping without what a comma for a decimal point cut in two: ``{width: 2,5 mm}`` has the
    keys ``width`` and ``5 mm``."""
    entries = dict(found.entries)
    for before, key in pairwise(found.entries):
        value, after = found.entries[before], found.entries[key]
        if not (isinstance(value, Leaf) and value.text.isdecimal() and _is_blank(after)):
            continue
        if re.match(r"[0-9]+\b", key):
            what = f"The comma in “{value.text},{key}” ends the value."
            remedy = f"Write decimals with a point: {value.text}.{key}."
            findings.add(value.place, what, remedy)
            entries[before] = Spoilt(value.place)
            del entries[key]
    keys = {key: place for key, place in found.keys.items() if key in entries}
    return Branch(entries, keys, found.place)


def branch(node: Node, label: str, place: Place, findings: Findings) -> Branch:
    if isinstance(node, Branch):
        return node
    entries = node.entries if isinstance(node, Row) else (node,)
    names = [entry.text.partition(":")[0] for entry in entries if isinstance(entry, Leaf)]
    shown = ", ".join(f"{name}: …" for name in names if name) or "name: …"
    remedy = f"Write each name with its value: {{{shown}}}."
    _wrong(node, label, place, "a table of names", remedy, findings)
    return Branch({}, {}, place)


def rows(node: Node, label: str, place: Place, findings: Findings) -> tuple[Node, ...]:
    if isinstance(node, Row):
        return node.entries
    shown = node.text if isinstance(node, Leaf) and node.text else "…"
    _wrong(node, label, place, "a list", f"Put it in brackets: [{shown}].", findings)
    return ()


def leaf(node: Node, label: str, place: Place, findings: Findings) -> Leaf | None:
    if isinstance(node, Leaf) and node.text.strip():
        return node
    _wrong(node, label, place, "one value", "Write one value after the colon.", findings)
    return None


def text(node: Node, label: str, place: Place, findings: Findings) -> Text:
    found = leaf(node, label, place, findings)
    return Text(found.text.strip(), found.place) if found else Text("", place)


def whole(node: Node, label: str, place: Place, least: int, findings: Findings) -> int:
    """A whole number from ``least`` to 9999."""
    found = leaf(node, label, place, findings)
    if found is None:
        return least
    if re.fullmatch("[0-9]{1,4}", found.text) and int(found.text) >= least:
        return int(found.text)
    what = f"{_capital(label)} takes a whole number, and “{found.text}” is none it can use."
    findings.add(found.place, what, f"Write a number from {least} to 9999 in figures.")
    return least


def choice(node: Node, label: str, place: Place, known: Iterable[str], findings: Findings) -> str:
    """One of several words."""
    found, words = leaf(node, label, place, findings), list(known)
    if found is None:
        return words[0]
    if found.text not in words:
        what = f"{_capital(label)} can't be “{found.text}”."
        findings.add(found.place, what, suggestion(found.text, words))
    return found.text


def quantity(
    node: Node, label: str, place: Place, dimension: Dimension | None, findings: Findings
) -> Formula:
    """A formula. What it is made of nothing but numbers is worked out here and its kind checked."""
    found = leaf(node, label, place, findings)
    if found is None:
        return unread(place)
    try:
        formula = parse(found.source, found.source_place)
        value = None if any(references(formula.tree)) else evaluate(formula.tree, _nothing)
    except ContentError as error:
        findings.take(error)
        return unread(place)
    if value is None or dimension is None or value.dimension == dimension:
        return formula
    bare = value.dimension == RATIO and isinstance(formula.tree, Number)
    offered = with_units(formula.text, dimension) if bare else ""
    what = (
        f"{_capital(label)} takes {describe(dimension)}, "
        f"and “{formula.text}” is {describe(value.dimension)}."
    )
    remedy = f"Write its unit: {offered}." if offered else "Check its units."
    findings.add(found.source_place, what, remedy)
    return unread(place)


def constant(formula: Formula) -> Quantity | None:
    """What a formula comes to, if it is made of nothing but numbers and was read at all."""
    if any(references(formula.tree)):
        return None
    return evaluate(formula.tree, _nothing)


def unread(place: Place) -> Formula:
    """Stands in for a formula that was reported."""
    return Formula("", Name("", place), place)


def entry(node: Node) -> Entry:
    """A shape's or a figure's own value, as it is."""
    match node:
        case Row():
            return Series(tuple(entry(each) for each in node.entries), node.place)
        case Branch():
            return table(node, ())
        case Leaf():
            return Scalar(
                node.text, node.source_place, parse_if_any(node.source, node.source_place)
            )
        case Spoilt():
            return Scalar("", node.place, None)


def table(node: Branch, without: Iterable[str], place: Place | None = None) -> Table:
    """A mapping as it is, but for the keys that were read already."""
    left = {key: value for key, value in node.entries.items() if key not in without}
    return Table(
        {key: entry(value) for key, value in left.items()},
        {key: node.keys[key] for key in left},
        place or node.place,
    )


def _nothing(node: Name | Geometry) -> Quantity:
    raise AssertionError(node)


def _wrong(
    node: Node, label: str, place: Place, wanted: str, remedy: str, findings: Findings
) -> None:
    if _is_blank(node):
        remedy = "Write one after the colon, or delete the line."
        findings.add(place, f"{_capital(label)} has no value.", remedy)
    elif not isinstance(node, Spoilt):
        what = f"{_capital(label)} takes {wanted}, and {_KINDS[type(node)]} stands here."
        findings.add(node.place, what, remedy)


def _is_blank(node: Node) -> bool:
    return isinstance(node, Leaf) and not node.text.strip()


def _capital(label: str) -> str:
    return label[0].upper() + label[1:]
