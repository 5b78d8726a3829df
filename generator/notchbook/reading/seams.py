"""Seams: which edges meet, in which order, with what fullness."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from notchbook.problems import Findings, Place
from notchbook.reading.choices import read_when
from notchbook.reading.fields import Part, leaf, quantity, whole
from notchbook.reading.formula import Formula
from notchbook.reading.quantity import LENGTH, RATIO
from notchbook.reading.recipe import EdgeName, PleatRule, SeamRule
from notchbook.tree import Node, Row

KEYS = ("join", "notches", "ease", "gather", "pleats", "when")
_PLEATS = ("count", "depth")

_EDGE = re.compile(r"(?:(\d+)\s+)?(?:(\w+)\s+)?(\w+)\.(\w+)")
_MOST = 100
"""How often a side can have one edge."""
_Side = tuple[EdgeName, ...]


def read(seam: Part, name: str) -> SeamRule:
    """One seam from its keys ``join``, ``notches``, ``ease``, ``gather``, ``pleats`` and
    ``when``."""
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
    ease, gather = _fullness(seam, "ease", sides), _fullness(seam, "gather", sides)
    pleats = _pleats(seam, sides)
    for number in gather.keys() & pleats.keys():
        what = f"One side of {seam.name} is both gathered and pleated."
        findings.add(pleats[number].place, what, "Keep “gather” or “pleats” for it.")
    return SeamRule(name, sides, ease, count, seam.place, gather, pleats, read_when(seam))


def _side(node: Node, findings: Findings) -> _Side:
    entries = node.entries if isinstance(node, Row) else (node,)
    if isinstance(node, Row) and not entries:
        findings.add(node.place, "This side names no edge.", "Write one, as in brim.outer.")
    return tuple(edge for entry in entries for edge in edges(entry, "a side of a seam", findings))


def edges(node: Node, label: str, findings: Findings) -> tuple[EdgeName, ...]:
    """``brim.outer``, ``shell brim.outer``, or ``6 gore.base``: that edge as many times."""
    found = leaf(node, label, node.place, findings)
    if found is None:
        return ()
    parts = _EDGE.fullmatch(found.text.strip())
    if parts is None:
        what = f"“{found.text}” names no edge."
        remedy = "Write piece.edge, with the cloth in front if need be: shell brim.outer."
        findings.add(found.place, what, remedy)
        return ()
    count, cloth, piece, edge = parts.groups()
    if count and not (len(count) <= len(str(_MOST)) and 1 <= int(count) <= _MOST):
        what = f"“{found.text}” counts {count} edges."
        findings.add(found.place, what, f"Count from 1 to {_MOST}.")
        return ()
    return (EdgeName(piece, edge, cloth, found.place),) * int(count or 1)


def _fullness(seam: Part, key: str, sides: Sequence[_Side]) -> Mapping[int, Formula]:
    """Ease (lengths) or gathers (ratios) by the number of their side."""
    found: dict[int, Formula] = {}
    dimension = LENGTH if key == "ease" else RATIO
    for name, node, place in seam.branches(key):
        formula = quantity(node, f"“{name}”", place, dimension, seam.findings)
        number = _number(name, place, sides, seam)
        if number is not None:
            found[number] = formula
    return found


def _pleats(seam: Part, sides: Sequence[_Side]) -> Mapping[int, PleatRule]:
    """Pleats by the number of their side."""
    found: dict[int, PleatRule] = {}
    for name, part in seam.parts("pleats", _PLEATS):
        need = part.need("count", "8")
        count = whole(need, "“count”", part.at("count"), 1, seam.findings)
        depth = part.quantity("depth", LENGTH, "2 cm")
        number = _number(name, part.place, sides, seam)
        if number is not None:
            found[number] = PleatRule(count, depth, part.place)
    return found


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
        seam.findings.add(place, what, "List the longer side after it under “join”.")
        return None
    return fits[0]


def _calls(side: _Side) -> set[str]:
    """What a side may be called: by a piece, a cloth and its piece, or an edge."""
    pieces = {edge.piece for edge in side} | {f"{edge.cloth} {edge.piece}" for edge in side}
    return pieces | {f"{edge.piece}.{edge.edge}" for edge in side} | {str(edge) for edge in side}
