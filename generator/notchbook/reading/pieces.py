"""Cloths, pieces, and how pieces are cut from cloths."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from notchbook.problems import Findings, Place
from notchbook.reading.choices import read_when
from notchbook.reading.fields import Part, choice, constant, part, quantity, table, whole
from notchbook.reading.formula import Formula, Number
from notchbook.reading.inner_lines import LINE_KEYS, read_line
from notchbook.reading.quantity import LENGTH, RATIO, Quantity
from notchbook.reading.recipe import Cloth, Cut, PieceRule
from notchbook.tree import Branch, Node, Row

CLOTH_KEYS = ("title", "thickness", "widths", "shrinkage", "narrows", "nap", "lay")
LAYS = ("single", "folded")
"""How a cloth may lie for cutting."""
CUT_KEYS = ("count", "pairs", "allowance")
PIECE_KEYS = ("title", "shape", "allowance", "cut", "lines", "when", "paper")
PAPER = ("whole", "half", "quarter")
"""How much of a piece is printed on a home printer's sheets, for its reader to trace and flip."""
CORNERS = ("mitred", "squared", "turned back")
"""What the corners of an edge's allowance can be asked to be."""

_Allowance = Mapping[str, Formula]


def read_cloth(cloth: Part, name: str) -> Cloth:
    findings = cloth.findings
    sold = cloth.need("widths", "[112 cm, 150 cm]")
    entries = cloth.rows("widths")
    widths = tuple(quantity(entry, "a width", entry.place, LENGTH, findings) for entry in entries)
    if isinstance(sold, Row) and not entries:
        what = f"{cloth.name} is sold in no width."
        findings.add(sold.place, what, "Write one or more: [112 cm, 150 cm].")
    thickness = cloth.quantity("thickness", LENGTH, "0.8 mm")
    shrinkage = cloth.quantity_or_none("shrinkage", RATIO)
    if shrinkage is None:
        shrinkage = Formula("0 %", Number(Quantity(0.0), cloth.place), cloth.place)
    narrows = cloth.quantity_or_none("narrows", RATIO)
    if narrows is not None:
        _sensible(narrows, 0, 0.5, "Shrinkage is", findings)
    _sensible(thickness, 0, 100, "A thickness is", findings)
    _sensible(shrinkage, 0, 0.5, "Shrinkage is", findings)
    for width in widths:
        _sensible(width, 1, 1e5, "A width is", findings)
    title, nap = cloth.text("title", "firm twill"), cloth.yes("nap")
    lies = cloth.get("lay")
    folded = lies is not None and choice(lies, "“lay”", cloth.at("lay"), LAYS, findings) == "folded"
    return Cloth(name, title, thickness, widths, shrinkage, nap, cloth.place, narrows, folded)


def _sensible(formula: Formula, low: float, high: float, label: str, findings: Findings) -> None:
    value = constant(formula)
    if value is not None and not low <= value.value <= high:
        what = f"{label} never {formula.text}."
        bare = isinstance(formula.tree, Number) and formula.text.replace(".", "").isdecimal()
        percent = bare and value.value <= 100 * high
        remedy = f"Write {formula.text} %." if percent else "Check the number and its unit."
        findings.add(formula.place, what, remedy)


def read_piece(piece: Part, name: str) -> PieceRule:
    findings = piece.findings
    allowance, places = _allowance(piece)
    need = piece.need("cut", "{shell: 1}")
    cuts = tuple(_cut(*entry, findings) for entry in piece.branches("cut"))
    if isinstance(need, Branch) and not cuts:
        what = f"{piece.name} is cut from no cloth."
        findings.add(need.place, what, "Write a cloth and how many: {shell: 1}.")
    return PieceRule(
        name,
        piece.text("title", "Brim"),
        piece.text("shape", "ring"),
        table(piece.branch, PIECE_KEYS, piece.place),
        allowance,
        places,
        _corners(piece),
        cuts,
        piece.place,
        read_when(piece),
        {line: read_line(each, line) for line, each in piece.parts("lines", LINE_KEYS)},
        _paper(piece),
    )


def _paper(piece: Part) -> str:
    node = piece.get("paper")
    if node is None:
        return "whole"
    return choice(node, "“paper”", piece.at("paper"), PAPER, piece.findings)


def _cut(cloth: str, node: Node, place: Place, findings: Findings) -> Cut:
    label = f"“{cloth}”"
    if not isinstance(node, Branch):
        return Cut(cloth, whole(node, label, place, 1, findings), 0, {}, place)
    cut = part(node, label, place, CUT_KEYS, findings)
    allowance = _allowance(cut)[0]
    if _corners(cut):
        what = "The corners of an allowance are the same for every cloth."
        findings.add(cut.at("allowance"), what, "Give “corner” in the allowance of the piece.")
    paired = cut.get("pairs")
    if paired is None:
        count = whole(cut.need("count", "1"), "“count”", cut.at("count"), 1, findings)
        return Cut(cloth, count, 0, allowance, place)
    if cut.get("count") is not None:
        what = "“count” and “pairs” both say how often this is cut."
        findings.add(cut.at("pairs"), what, "Keep one of them: a pair is two pieces, one mirrored.")
    pairs = whole(paired, "“pairs”", cut.at("pairs"), 1, findings)
    return Cut(cloth, 2 * pairs, pairs, allowance, place)


def _allowance(owner: Part) -> tuple[_Allowance, Mapping[str, Place]]:
    """Allowances by edge, with the places of their keys; ``""`` stands for every edge."""
    pairs = list(_allowances(owner))
    return (
        {edge: formula for edge, formula, _ in pairs},
        {edge: place for edge, _, place in pairs},
    )


def _corners(owner: Part) -> Mapping[str, str]:
    """What the corners of an edge's allowance are asked to be: ``{width: …, corner: …}``."""
    if not isinstance(owner.get("allowance"), Branch):
        return {}
    return {
        edge: choice(node, "“corner”", value.keys["corner"], CORNERS, owner.findings)
        for edge, value, _ in owner.branches("allowance")
        if isinstance(value, Branch) and (node := value.entries.get("corner")) is not None
    }


def _allowances(owner: Part) -> Iterator[tuple[str, Formula, Place]]:
    node, place = owner.get("allowance"), owner.at("allowance")
    if isinstance(node, Branch):
        for edge, value, at in owner.branches("allowance"):
            if isinstance(value, Branch):
                given = part(value, f"“{edge}”", at, ("width", "corner"), owner.findings)
                yield edge, given.quantity("width", LENGTH, "25 mm"), at
            else:
                yield edge, quantity(value, f"“{edge}”", at, LENGTH, owner.findings), at
    elif node is not None:
        yield "", quantity(node, "“allowance”", place, LENGTH, owner.findings), place
