"""What a layers figure asks for, read against the draft: see ``views/layers`` for its keys."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from notchbook.composing import numbers
from notchbook.composing.figures import keys
from notchbook.composing.figures.layered import Layer, Share, edges_in, shares
from notchbook.composing.figures.stack import Gap
from notchbook.drafting.draft import Draft, Piece, Seam
from notchbook.problems import ContentError, Place, Problem
from notchbook.reading.quantity import LENGTH, RATIO
from notchbook.reading.recipe import FigureRule, Table, Text

_TOGETHER = ("right sides", "wrong sides", "nested")

_USUAL_GAP = 70.0
"""How long a gap is that says nothing of its length, mm."""


@dataclass(frozen=True, slots=True)
class LayerPlan:
    """What a figure asks for, all of it found in the draft."""

    layers: tuple[Layer, ...]
    seams: tuple[Seam, ...]
    gap: Gap | None
    folded: bool


def read_plan(draft: Draft, figure: FigureRule) -> LayerPlan:
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
    layers = _layers([pair for pair in found if pair], sides)
    _check_seams(stitch, seams, layers, problems)
    folded = count == 1 and bool(seams) and len(edges_in(seams[0], layers[0])) > 1
    gap = _gap(draft, figure, seams, layers, problems)
    if problems:
        raise ContentError(problems)
    return LayerPlan(layers, tuple(seams), gap, folded)


def _layers(found: Sequence[tuple[Piece, str]], sides: Sequence[str]) -> tuple[Layer, ...]:
    alike = [(piece.name, cloth) for piece, cloth in found]
    return tuple(
        Layer(*pair, side, alike[:k].count(alike[k]) if alike.count(alike[k]) > 1 else None)
        for k, (pair, side) in enumerate(zip(found, sides, strict=True))
    )


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
    found = _seam_of(words[0], draft, seams, layers, problems) if words else None
    share = keys.value(entry, "share", RATIO, draft, problems)
    length = keys.value(entry, "length", LENGTH, draft, problems)
    if found is None:
        return None
    seam, taken = found
    name = taken.stretch.name
    at, long = share or 0.0, _USUAL_GAP if length is None else length
    gap = Gap(seam.name, name.piece, name.edge, at, taken.along(at), long)
    if len(problems) == before:
        _check_gap(gap, seam, entry, layers, problems)
    return gap


def _check_gap(
    gap: Gap, seam: Seam, entry: Table, layers: Sequence[Layer], problems: list[Problem]
) -> None:
    """A gap has to lie on each of the seam's edges and leave some of it stitched."""

    def place(key: str) -> Place:
        return entry.entries[key].place if key in entry.entries else entry.place

    if not 0 <= gap.share <= 1:
        what = f"A gap can't be at the share {numbers.decimal(gap.share, 0.01)} of an edge."
        remedy = "Write a share from 0, the edge's start, to 1, its end."
        problems.append(Problem(place("share"), what, remedy))
    shortest = min(
        (layer.piece.flat.edges[edge].length(), f"{layer.piece.name}.{edge}")
        for layer in layers
        for edge in edges_in(seam, layer)
    )
    if not 0 < gap.length < shortest[0]:
        given, most = (numbers.length(mm).metric for mm in (gap.length, shortest[0]))
        what = f"A gap of {given} is not part of the edge {shortest[1]}, which is {most} long."
        problems.append(Problem(place("length"), what, f"Write a length between 0 mm and {most}."))


def _seam_of(
    word: Text,
    draft: Draft,
    seams: Sequence[Seam],
    layers: Sequence[Layer],
    problems: list[Problem],
) -> tuple[Seam, Share] | None:
    """The stitched seam that an edge belongs to, and what the edge takes up of it."""
    found = keys.find_edge(word, draft, problems)
    if found is None:
        return None
    piece, edge = found
    for seam in seams:
        for layer in layers:
            for share in shares(seam, layer):
                if share.stretch.pattern == (piece.name, edge):
                    return seam, share
    what = f"The edge “{word.value}” is not stitched here, so it has no gap."
    problems.append(Problem(word.place, what, "Name its seam under “stitch”, or another edge."))
    return None
