"""What a layers figure asks for, read against the draft: see ``figures/layers`` for its keys."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from notchbook.composing import figure_keys as keys
from notchbook.composing.stack import Gap, Layer, edges_in
from notchbook.drafting.draft import Draft, Seam
from notchbook.drafting.engine import evaluate_in
from notchbook.problems import ContentError, Place, Problem, suggestion
from notchbook.reading.quantity import LENGTH, RATIO, Dimension, describe
from notchbook.reading.recipe import FigureRule, Scalar, Table, Text

_TOGETHER = ("right sides", "wrong sides", "nested")

_USUAL_GAP = 70.0
"""How long a gap is that says nothing of its length, mm."""


@dataclass(frozen=True, slots=True)
class Plan:
    """What a figure asks for, all of it found in the draft."""

    layers: tuple[Layer, ...]
    seams: tuple[Seam, ...]
    gap: Gap | None
    folded: bool


def read_plan(draft: Draft, figure: FigureRule) -> Plan:
    """What the figure asks for. Raises ContentError with everything that is not there."""
    problems: list[Problem] = []
    known = ("pieces", "together", "stitch", "open")
    keys.check_keys(figure.keys, known, "A layers figure", problems)
    words = keys.texts(figure.keys, "pieces", problems)
    found = [keys.find_layer(word, draft, problems) for word in words]
    if not words and not problems:
        example = ", ".join(list(draft.pieces)[:2])
        problems.append(keys.missing(figure, "pieces", "layers", f"[{example}]"))
    stitch = keys.texts(figure.keys, "stitch", problems)
    seams = [seam for word in stitch if (seam := keys.find_seam(word, draft, problems))]
    together = keys.texts(figure.keys, "together", problems)
    meetings = [keys.find_word(word, _TOGETHER, "together", problems) for word in together]
    if problems:
        raise ContentError(problems)
    count = len(found)
    sides = _sides(count, together, [meeting for meeting in meetings if meeting], problems)
    layers = tuple(
        Layer(piece, cloth, side)
        for (piece, cloth), side in zip([pair for pair in found if pair], sides, strict=False)
    )
    _check_seams(stitch, seams, layers, problems)
    folded = count == 1 and bool(seams) and len(edges_in(seams[0], layers[0])) > 1
    gap = _gap(draft, figure, seams, layers, problems)
    if problems:
        raise ContentError(problems)
    return Plan(layers, tuple(seams), gap, folded)


def _sides(
    count: int, together: Sequence[Text], meetings: Sequence[str], problems: list[Problem]
) -> list[str]:
    """Which side of every layer lies up."""
    if not meetings:
        return ["right"] * count
    if len(meetings) == 1:
        first, last = {
            "right sides": ("right", "wrong"),
            "wrong sides": ("wrong", "right"),
            "nested": ("right", "right"),
        }[meetings[0]]
        between = first if first == last else ""
        return [first, *[between] * (count - 2), *[last] * (count > 1)]
    if len(meetings) != count - 1:
        what = f"“together” has {len(meetings)} entries, but {count} layers meet {count - 1} times."
        remedy = "Write one word, or one for each meeting from the lowest up."
        problems.append(Problem(together[0].place, what, remedy))
        return ["right"] * count
    sides = ["wrong" if meetings[0] == "wrong sides" else "right"]
    for word, meeting in zip(together, meetings, strict=True):
        facing = sides[-1]
        if meeting != "nested" and meeting != f"{facing} sides":
            what = f"Here the layer below lies {facing} side up, so “{meeting}” can't meet."
            remedy = f"Write “{facing} sides” or “nested”, or change the meetings below it."
            problems.append(Problem(word.place, what, remedy))
        other = {"right": "wrong", "wrong": "right"}[facing]
        sides.append(facing if meeting == "nested" else other)
    return sides


def _check_seams(
    stitch: Sequence[Text],
    seams: Sequence[Seam],
    layers: Sequence[Layer],
    problems: list[Problem],
) -> None:
    for word, seam in zip(stitch, seams, strict=True):
        if not any(edges_in(seam, layer) for layer in layers):
            what = f"The seam “{seam.name}” joins none of the pieces shown."
            joined = sorted({str(name) for side in seam.sides for name in side})
            remedy = f"It joins {', '.join(joined)}: show those, or name another seam."
            problems.append(Problem(word.place, what, remedy))


def _gap(
    draft: Draft,
    figure: FigureRule,
    seams: Sequence[Seam],
    layers: Sequence[Layer],
    problems: list[Problem],
) -> Gap | None:
    entry = figure.keys.entries.get("open")
    if entry is None:
        return None
    if not isinstance(entry, Table):
        remedy = "Write open: {edge: PIECE.EDGE, share: 0, length: 7 cm}."
        problems.append(Problem(entry.place, "“open” says where and how long.", remedy))
        return None
    before = len(problems)
    keys.check_keys(entry, ("edge", "share", "length"), "“open”", problems)
    words = keys.texts(entry, "edge", problems)
    if not words and len(problems) == before:
        what, remedy = "“open” does not say which edge.", "Add edge: PIECE.EDGE."
        problems.append(Problem(entry.place, what, remedy))
    seam = _seam_of(words[0], draft, seams, layers, problems) if words else None
    share = _value(entry, "share", RATIO, 0.0, draft, problems)
    length = _value(entry, "length", LENGTH, _USUAL_GAP, draft, problems)
    return Gap(seam.name, share, length) if seam else None


def _seam_of(
    word: Text,
    draft: Draft,
    seams: Sequence[Seam],
    layers: Sequence[Layer],
    problems: list[Problem],
) -> Seam | None:
    """The stitched seam that an edge belongs to."""
    front, _, edge = word.value.rpartition(".")
    if not front:
        what, remedy = f"“{word.value}” is no edge.", "Write the piece in front: PIECE.EDGE."
        problems.append(Problem(word.place, what, remedy))
        return None
    name = front.split(" ")[-1]
    shift = len(front) - len(name)
    at = Place(word.place.file, word.place.line, word.place.column + shift)
    piece = keys.find_piece(Text(name, at), draft, problems)
    if piece is None:
        return None
    if edge not in piece.flat.edges:
        at = replace(word.place, column=word.place.column + len(front) + 1)
        what = f"The piece “{name}” has no edge “{edge}”."
        problems.append(Problem(at, what, suggestion(edge, piece.flat.edges)))
        return None
    for seam in seams:
        for layer in layers:
            if layer.piece.name == name and edge in edges_in(seam, layer):
                return seam
    what = f"The edge “{word.value}” is not stitched here, so it has no gap."
    problems.append(Problem(word.place, what, "Name its seam under “stitch”, or another edge."))
    return None


def _value(
    table: Table,
    key: str,
    dimension: Dimension,
    usual: float,
    draft: Draft,
    problems: list[Problem],
) -> float:
    """A number under a key, in base units."""
    entry = table.entries.get(key)
    if entry is None:
        return usual
    if isinstance(entry, Scalar) and entry.formula:
        quantity = evaluate_in(draft, entry.formula)
        if quantity.dimension == dimension:
            return quantity.value
    what = f"“{key}” has to be {describe(dimension)}."
    remedy = "Write a length such as 7 cm." if dimension == LENGTH else "Write a share from 0 to 1."
    problems.append(Problem(entry.place, what, remedy))
    return usual
