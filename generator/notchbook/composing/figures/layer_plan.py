"""What a layers figure asks for, read against the draft: see ``views/layers`` for its keys."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from notchbook.composing.figures import keys
from notchbook.composing.figures.layered import OTHER, Layer, edges_in
from notchbook.drafting.draft import Draft, Opening, Piece, Seam
from notchbook.problems import ContentError, Problem
from notchbook.reading.recipe import FigureRule, Text

_TOGETHER = ("right sides", "wrong sides", "nested")


@dataclass(frozen=True, slots=True)
class LayerPlan:
    """What a figure asks for, all of it found in the draft, and what steps leave open of its
    seams."""

    layers: tuple[Layer, ...]
    seams: tuple[Seam, ...]
    openings: Mapping[str, Opening]
    folded: bool


def read_plan(draft: Draft, figure: FigureRule) -> LayerPlan:
    """What the figure asks for. Raises ContentError with everything that is not there."""
    problems: list[Problem] = []
    known = ("pieces", "together", "stitch")
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
    sides = sides_up(count, together, [meeting for meeting in meetings if meeting], problems)
    layers = _layers([pair for pair in found if pair], sides)
    _check_seams(stitch, seams, layers, problems)
    folded = count == 1 and bool(seams) and len(edges_in(seams[0], layers[0])) > 1
    if problems:
        raise ContentError(problems)
    openings = {
        seam.name: draft.openings[seam.name] for seam in seams if seam.name in draft.openings
    }
    return LayerPlan(layers, tuple(seams), openings, folded)


def _layers(found: Sequence[tuple[Piece, str]], sides: Sequence[str]) -> tuple[Layer, ...]:
    alike = [(piece.name, cloth) for piece, cloth in found]
    return tuple(
        Layer(*pair, side, alike[:k].count(alike[k]) if alike.count(alike[k]) > 1 else None)
        for k, (pair, side) in enumerate(zip(found, sides, strict=True))
    )


def sides_up(
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
        other = OTHER[facing]
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
            continue
        shown = {
            edge.path.closed: f"{layer.piece.name}.{name}"
            for layer in layers
            for name in edges_in(seam, layer)
            for edge in (layer.piece.flat.edges[name],)
        }
        if len(shown) == 2:
            what = (
                f"The edge {shown[True]} goes all round and {shown[False]} does not, so that their "
                f"pieces can't be laid on each other flat along “{seam.name}”."
            )
            remedy = "Show what it becomes in a solid view, or each of them in a flat one."
            problems.append(Problem(word.place, what, remedy))
