"""Lines inside a piece: what is stitched, folded or placed there, and where it runs."""

from __future__ import annotations

from notchbook.problems import Findings
from notchbook.reading.choices import read_when
from notchbook.reading.fields import Part, choice, part
from notchbook.reading.formula import Formula
from notchbook.reading.quantity import LENGTH
from notchbook.reading.recipe import Between, Crosses, LineRule, Parallel, Spot
from notchbook.tree import Node, Row

KINDS = ("stitched", "folded", "placed", "arrow")
"""What a line is for."""

FORMS = ("along", "between", "marks")
"""How a line is told, one of them: a parallel of an edge, a straight line, crosses."""

LINE_KEYS = ("title", "kind", *FORMS, "inside", "from", "to", "when")
SPOT_KEYS = ("edge", "at", "inside")
_EXAMPLES = {
    "along": "top, inside: 3 cm",
    "between": "[{edge: top, at: 0.5}, {edge: bottom, at: 0.5}]",
    "marks": "[{edge: top, at: 5 cm, inside: 2 cm}]",
}


def read_line(line: Part, name: str) -> LineRule:
    """One line from its keys: ``title``, ``kind``, how it is drawn, and ``when``."""
    need = line.need("kind", "stitched")
    kind = choice(need, "“kind”", line.at("kind"), KINDS, line.findings)
    title = line.text("title", "Row of stitches")
    return LineRule(name, title, kind, _drawn(line), line.place, read_when(line))


def _drawn(line: Part) -> Parallel | Between | Crosses:
    findings = line.findings
    given = [form for form in FORMS if line.get(form) is not None]
    if len(given) != 1 and not line.misspelt:
        how = "in no way" if not given else f"by {' and by '.join(f'“{form}”' for form in given)}"
        what = f"{line.name} is told {how}, and one is wanted."
        remedy = f"Write “along: {_EXAMPLES['along']}”, “between: …” or “marks: …”."
        findings.add(line.at(given[-1]) if given else line.place, what, remedy)
    form = given[0] if given else "marks"
    for key in ("inside", "from", "to"):
        if form != "along" and given and line.get(key) is not None:
            what = f"“{key}” goes with “along”, and {line.name} is told by “{form}”."
            findings.add(line.at(key), what, "Put it inside the place, or delete it.")
    if form == "along":
        start, end = (line.quantity_or_none(key, None) for key in ("from", "to"))
        inside = line.quantity("inside", LENGTH, "3 cm")
        return Parallel(line.text("along", "top"), inside, start, end)
    node = line.get(form)
    entries = node.entries if isinstance(node, Row) else (node,) if node else ()
    spots = tuple(_spot(entry, findings) for entry in entries)
    if form == "marks":
        if isinstance(node, Row) and not spots:
            findings.add(node.place, f"{line.name} marks no place.", "Name one or more.")
        return Crosses(spots)
    if len(spots) != 2:
        what = f"{line.name} runs between {len(spots) or 'no'} places, and two are wanted."
        findings.add(line.at(form), what, f"Write {_EXAMPLES['between']}.")
        return Crosses(spots)
    return Between(*spots)


def _spot(node: Node, findings: Findings) -> Spot:
    each = part(node, "a place", node.place, SPOT_KEYS, findings)
    edge = each.text("edge", "top")
    at = each.quantity("at", None, "0.5")
    return Spot(edge, at, each.quantity_or_none("inside", LENGTH), each.place)


def formulas_of(line: LineRule) -> tuple[Formula, ...]:
    """Every formula of a line."""
    match line.drawn:
        case Parallel(_, inside, start, end):
            found = (inside, start, end)
        case Between(start_, end_):
            return (*_of(start_), *_of(end_))
        case Crosses(spots):
            return tuple(formula for spot in spots for formula in _of(spot))
    return tuple(formula for formula in found if formula is not None)


def _of(spot: Spot) -> tuple[Formula, ...]:
    return (spot.at, spot.inside) if spot.inside else (spot.at,)
