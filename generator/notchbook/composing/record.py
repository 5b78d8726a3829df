"""The record of a draft, ``draft.json``: every number computed from the geometry that is drawn."""

from __future__ import annotations

import hashlib
import json

from notchbook.drafting.draft import Draft, InnerLine, Lay, Opening, Piece, Seam
from notchbook.reading.quantity import (
    AREA,
    LENGTH,
    MASS,
    RATIO,
    TIME,
    VOLUME,
    Dimension,
    Quantity,
)

_UNITS = {RATIO: "", LENGTH: "mm", AREA: "mm²", VOLUME: "mm³", MASS: "g", TIME: "h"}


def record(draft: Draft, lays: tuple[Lay, ...]) -> str:
    """The text of ``draft.json``: names as in the recipe, lengths in mm, areas in mm², rounded to
    1e-6, keys in alphabetical order."""
    recipe = draft.recipe
    facts = {
        "format": 1,
        "recipe": recipe.slug,
        "title": recipe.title.value,
        "edition": {"number": recipe.edition.number, "date": recipe.edition.date},
        "licence": recipe.licence,
        "size": draft.size.id,
        "choices": dict(recipe.chosen),
        "measures": {name: _quantity(draft.values[name]) for name in recipe.measures},
        "workings": {
            name: {"formula": working.formula.text, **_quantity(draft.values[name])}
            for name, working in recipe.workings.items()
        },
        "pieces": {name: _piece(piece) for name, piece in draft.pieces.items()},
        "seams": {
            name: {**_seam(seam), "open": _open(draft.openings.get(name))}
            for name, seam in draft.seams.items()
        },
        "notions": {
            name: amount and _quantity(amount) for name, amount in draft.notions.items()
        },
        "lays": [
            {
                "cloth": lay.cloth,
                "width": _round(lay.width),
                "length": _round(lay.length),
                "buy": _round(lay.buy),
            }
            for lay in lays
        ],
    }  # fmt: skip
    return json.dumps(facts, ensure_ascii=False, indent=1, sort_keys=True) + "\n"


def fingerprint(draft: Draft, lays: tuple[Lay, ...]) -> str:
    """Ten characters that tell one draft from another: the head of its record's SHA-256."""
    return hashlib.sha256(record(draft, lays).encode()).hexdigest()[:10]


def _piece(piece: Piece) -> dict[str, object]:
    return {
        "title": piece.title,
        "shape": piece.shape,
        "edges": {name: _round(edge.length()) for name, edge in piece.flat.edges.items()},
        "area": _round(sum(loop.area() for loop in piece.flat.outline())),
        "count": dict(piece.counts),
        "pairs": dict(piece.pairs),
        "cut": [
            {
                "cloths": list(line.cloths),
                "allowance": {edge: _round(mm) for edge, mm in line.allowance.items()},
                "area": _round(sum(loop.area() for loop in line.loops)),
                "length": _round(sum(loop.length() for loop in line.loops)),
            }
            for line in piece.cut_lines
        ],
        "notches": piece.marks,
        "lines": {line.name: _line(line) for line in piece.lines},
    }


def _line(line: InnerLine) -> dict[str, object]:
    facts: dict[str, object] = {"title": line.title, "kind": line.kind}
    if line.path:
        return {**facts, "length": _round(line.path.length())}
    return {**facts, "crosses": [[_round(at.real), _round(at.imag)] for at in line.crosses]}


def _seam(seam: Seam) -> dict[str, object]:
    return {
        "sides": [
            {"edges": [str(edge) for edge in side], "length": _round(length), "ease": _round(ease)}
            for side, length, ease in zip(seam.sides, seam.lengths, seam.ease, strict=True)
        ],
        "miss": _round(seam.miss),
    }


def _open(opening: Opening | None) -> dict[str, object] | None:
    """What a step leaves open of a seam, from and to in mm along its first side."""
    if opening is None:
        return None
    return {
        "from": _round(opening.start),
        "to": _round(opening.end),
        "length": _round(opening.length),
        "left": opening.left,
        "closed": opening.closed,
    }


def _quantity(value: Quantity) -> dict[str, object]:
    return {"value": _round(value.value), "unit": _unit(value.dimension)}


def _unit(dimension: Dimension) -> str:
    if dimension in _UNITS:
        return _UNITS[dimension]
    powers = zip(("mm", "g", "h"), dimension, strict=True)
    return "·".join(f"{unit}^{power}" for unit, power in powers if power)


def _round(value: float) -> float:
    """To 1e-6, and never minus nothing."""
    return round(value, 6) + 0.0
