"""Seams: which edges meet, in which order, with what fullness."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from notchbook.problems import Place
from notchbook.reading.fields import Part, leaf, quantity, whole
from notchbook.reading.findings import Findings
from notchbook.reading.formula import Formula
from notchbook.reading.quantity import LENGTH
from notchbook.reading.recipe import EdgeName, SeamRule
from notchbook.reading.tree import Node, Row

KEYS = ("join", "notches", "ease")

_EDGE = re.compile(r"(?:(\w+)\s+)?(\w+)\.(\w+)")
_Side = tuple[EdgeName, ...]


def read(seam: Part, name: str) -> SeamRule:
    """One seam from its keys ``join``, ``notches`` and ``ease``."""
    findings = seam.findings
    joined = seam.need("join", "[crown.left, crown.right]")
    entries = joined.entries if isinstance(joined, Row) else seam.rows("join")
    sides = tuple(_side(entry, findings) for entry in entries)
    if isinstance(joined, Row) and len(sides) < 2:
        what = f"{seam.name} joins {len(sides) or 'no'} side, and a seam has two or more."
        findings.add(joined.place, what, "Name what meets: [crown.left, crown.right].")
    notches = seam.get("notches")
    count = 0
    if notches is not None:
        count = whole(notches, "“notches”", seam.at("notches"), 0, findings)
    return SeamRule(name, sides, _eases(seam, sides), count, seam.place)


def _side(node: Node, findings: Findings) -> _Side:
    entries = node.entries if isinstance(node, Row) else (node,)
    if isinstance(node, Row) and not entries:
        findings.add(node.place, "This side names no edge.", "Write one, as in brim.outer.")
    edges = (_edge(entry, findings) for entry in entries)
    return tuple(edge for edge in edges if edge)


def _edge(node: Node, findings: Findings) -> EdgeName | None:
    found = leaf(node, "a side of a seam", node.place, findings)
    if found is None:
        return None
    parts = _EDGE.fullmatch(found.text.strip())
    if parts is None:
        what = f"“{found.text}” names no edge."
        remedy = "Write piece.edge, with the cloth in front if need be: shell brim.outer."
        findings.add(found.place, what, remedy)
        return None
    cloth, piece, edge = parts.groups()
    return EdgeName(piece, edge, cloth, found.place)


def _eases(seam: Part, sides: Sequence[_Side]) -> Mapping[int, Formula]:
    """Ease by the number of its side."""
    eases: dict[int, Formula] = {}
    for name, node, place in seam.branches("ease"):
        formula = quantity(node, f"“{name}”", place, LENGTH, seam.findings)
        number = _number(name, place, sides, seam)
        if number is not None:
            eases[number] = formula
    return eases


def _number(name: str, place: Place, sides: Sequence[_Side], seam: Part) -> int | None:
    fits = [number for number, side in enumerate(sides) if name in _calls(side)]
    known = ", ".join(str(side[0]) for side in sides[1:] if side)
    if len(fits) != 1:
        which = "more than one side" if fits else "no side"
        what = f"“{name}” names {which} of {seam.name}."
        seam.findings.add(place, what, f"Name one by its piece or its edge: {known}.")
        return None
    if fits[0] == 0:
        what = f"“{name}” is the first side of {seam.name}, which the others are measured by."
        seam.findings.add(place, what, "List the side that is eased in second under “join”.")
        return None
    return fits[0]


def _calls(side: _Side) -> set[str]:
    """What a side may be called: by a piece, a cloth and its piece, or an edge."""
    pieces = {edge.piece for edge in side} | {f"{edge.cloth} {edge.piece}" for edge in side}
    return pieces | {f"{edge.piece}.{edge.edge}" for edge in side} | {str(edge) for edge in side}
