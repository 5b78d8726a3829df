"""What a section figure asks for, read against the draft: see ``views/section`` for its keys."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from notchbook.composing import numbers
from notchbook.composing.figures import keys
from notchbook.composing.figures.cut_edge import Edge
from notchbook.composing.figures.layered import Layer, edges_in
from notchbook.composing.names import plain
from notchbook.drafting.draft import Draft, Seam
from notchbook.problems import ContentError, Problem, fault
from notchbook.reading.quantity import LENGTH, RATIO
from notchbook.reading.recipe import FigureRule, Text

_LENGTHS = ("trimmed", "under", "wire", "cord")
_KEYS = ("edge", "fold", "pieces", *_LENGTHS, "channel", "gap", "exaggerated")
_EXCLUDED = (
    ("edge", "fold"), ("wire", "cord"), ("fold", "under"), ("fold", "trimmed"), ("fold", "gap"),
)  # fmt: skip

_WIDE, _HIGH = 45.0, 44.0
"""The most a section takes, mm on the page, before its words."""

_VISIBLE = 0.7
"""No cloth is drawn thinner without being exaggerated, mm on the page."""

Lengths = Mapping[str, float | None]


@dataclass(frozen=True, slots=True)
class SectionPlan:
    """What a figure asks for. ``name`` is the seam's, the edge's or the folded piece's; ``cord``
    says that the fold is filled by a cord and not a wire; ``times`` is how many times as thick as
    it is everything is drawn."""

    name: str
    seam: Seam | None
    layers: tuple[Layer, ...]
    true: Edge
    cord: bool
    times: float

    @property
    def drawn(self) -> Edge:
        """The edge with everything as thick as it is drawn."""
        return self.true.thicker(self.times)

    @property
    def kind(self) -> str:
        """What the edge is: ``seam``, ``gap``, ``hem.once``, ``hem.twice`` or ``fold``."""
        if self.seam:
            return "gap" if self.true.gap else "seam"
        return "fold" if self.true.folded else "hem.twice" if self.true.under else "hem.once"


@dataclass(frozen=True, slots=True)
class _Named:
    """What is cut across, as the figure says it: an edge of a piece, or a piece that is folded."""

    piece: str
    edge: str
    said: str
    seam: Seam | None


def read_plan(draft: Draft, figure: FigureRule) -> SectionPlan:
    """What the figure asks for. Raises ContentError with everything that is wrong with it."""
    problems: list[Problem] = []
    table = figure.keys
    keys.check_keys(table, _KEYS, "A section figure", problems)
    for one, other in _EXCLUDED:
        if one in table.entries and other in table.entries:
            what = f"A section figure can't have both “{one}” and “{other}”."
            problems.append(Problem(table.keys[other], what, "Leave one of them out."))
    named = _named(figure, draft, problems)
    words = keys.texts(table, "pieces", problems)
    if named and not problems and len(words) < (2 if named.seam else 1):
        names = list(draft.pieces)[:2] if named.seam else [named.piece]
        problems.append(keys.missing(figure, "pieces", "section", f"[{', '.join(names)}]"))
    found = [keys.find_layer(word, draft, problems) for word in words]
    layers = tuple(Layer(piece, cloth, "") for piece, cloth in (pair for pair in found if pair))
    lengths = {key: keys.value(table, key, LENGTH, draft, problems) for key in _LENGTHS}
    rows = keys.values(table, "channel", LENGTH, draft, problems)
    gap = keys.one_of(table, "gap", ("yes", "no"), problems) == "yes"
    times = keys.value(table, "exaggerated", RATIO, draft, problems)
    given = *lengths.items(), *(("channel", mm) for mm in rows), ("exaggerated", times)
    for key, value in given:
        if value is not None and value <= 0:
            what, remedy = f"“{key}” has to be more than 0.", "Write more, or leave it out."
            problems.append(Problem(table.entries[key].place, what, remedy))
    if named and not named.seam:
        problems += _only_of_seams(figure, rows, gap)
    if len(rows) > 2 or (len(rows) == 2 and rows[0] >= rows[1]):
        what, remedy = "“channel” takes one row, or two.", "Write the one nearer the edge first."
        problems.append(Problem(table.entries["channel"].place, what, remedy))
    if problems or named is None:
        raise ContentError(problems)
    true = _edge(named, words, layers, lengths, rows, draft, problems)
    if gap:
        true = replace(true, gap=1.2 * true.inner + 1.5 * true.filled + 1.5 * true.fold)
    if not problems:
        _check_depth(true, named, figure, problems)
        _check_room(true, times or 1.0, figure, problems)
    if problems:
        raise ContentError(problems)
    name = named.seam.name if named.seam else plain(named.edge) or layers[0].piece.title
    cord = lengths["cord"] is not None
    return SectionPlan(name, named.seam, layers, true, cord, times or _enough(true))


def scale_of(plan: SectionPlan) -> float:
    """How large it is drawn, to half a time, or a quarter where it is made smaller."""
    return _scale(plan.true, plan.times)


def _named(figure: FigureRule, draft: Draft, problems: list[Problem]) -> _Named | None:
    edges = keys.texts(figure.keys, "edge", problems)
    folds = keys.texts(figure.keys, "fold", problems)
    if edges:
        found = keys.find_edge(edges[0], draft, problems)
        if found is None:
            return None
        piece, edge = found[0].name, found[1]
        return _Named(piece, edge, edges[0].value, _seam(piece, edge, draft))
    if folds:
        folded = keys.find_piece(folds[0], draft, problems)
        return _Named(folded.name, "", folds[0].value, None) if folded else None
    if not problems:
        problems.append(keys.missing(figure, "edge", "section", "PIECE.EDGE"))
    return None


def _seam(piece: str, edge: str, draft: Draft) -> Seam | None:
    """The first seam that an edge belongs to; a hem belongs to none."""
    for seam in draft.seams.values():
        if any((name.piece, name.edge) == (piece, edge) for side in seam.sides for name in side):
            return seam
    return None


def _edge(
    named: _Named,
    words: Sequence[Text],
    layers: Sequence[Layer],
    lengths: Lengths,
    rows: Sequence[float],
    draft: Draft,
    problems: list[Problem],
) -> Edge:
    """What is cut across, in true measures; with problems it is of no use."""
    pairs = list(zip(layers, words, strict=True))
    if not named.seam and layers[0].piece.name != named.piece:
        what = f"“{words[0]}” is not “{named.piece}”, which is what is turned here."
        remedy = f"Name “{named.piece}” first, and what lies in it after that."
        raise fault(words[0].place, what, remedy)
    thick = [_thickness(layer, word, draft, problems) for layer, word in pairs]
    given = [_allowance(layer, word, named, problems) for layer, word in pairs]
    last = len(layers) - 1 if named.seam else 0
    for k in sorted({0, last}):
        if given[k] <= 0 and not problems:
            what = f"“{words[k]}” has no allowance at “{named.said}” that could be turned in."
            remedy = "Show another edge, or name an outer layer first and last."
            if not named.seam:
                remedy = "Give it one, or show another edge."
            problems.append(Problem(words[k].place, what, remedy))
    trimmed = lengths["trimmed"]
    turned = [mm if trimmed is None else min(trimmed, mm) for mm in (given[0], given[last])]
    between = slice(1, last) if named.seam else slice(1, None)
    starts = [max(-mm, 0.0) for mm in given[between]]
    filled = lengths["wire"] or lengths["cord"] or 0.0
    channel, second = (*rows, 0.0, 0.0)[:2]
    seen = [mm for mm in (channel, *turned, *starts) if math.isfinite(mm)]
    end = (1.5 if channel or not named.seam else 1.8) * max(*seen, 3 * (filled + max(thick)))
    return Edge(
        (thick[0], turned[0]),
        (thick[last], turned[1]) if named.seam else None,
        tuple(zip(thick[between], starts, strict=True)),
        channel,
        filled,
        max(end, 1.2 * second),
        lengths["under"] or 0.0,
        second,
    )


def _only_of_seams(figure: FigureRule, rows: Sequence[float], gap: bool) -> list[Problem]:
    """The problems of an edge without a seam that is said to have what only a seam has."""
    table, found = figure.keys, []
    if gap:
        found.append(("gap", "No seam joins this edge, so there is no gap in one."))
    if len(rows) > 1:
        found.append(("channel", "Two rows are shown only in an edge that a seam joins."))
    remedy = "Leave it out, or show another edge."
    return [Problem(table.entries[key].place, what, remedy) for key, what in found]


def _allowance(layer: Layer, word: Text, named: _Named, problems: list[Problem]) -> float:
    """What a layer has outside the edge that its seam joins, or outside one of the same name; of a
    strip that is folded there is no end, and what lies in it goes all the way in."""
    if not named.edge:
        return math.inf if layer.piece.name == named.piece else 0.0
    allowance = layer.piece.cut_line(layer.cloth).allowance
    for name in (*(edges_in(named.seam, layer) if named.seam else ()), named.edge):
        if name in allowance:
            return allowance[name]
    part = f"no part in the seam “{named.seam.name}”, and " if named.seam else ""
    what = f"“{word}” has {part}no edge “{named.edge}”."
    problems.append(Problem(word.place, what, "Name a piece that comes as far as that."))
    return 0.0


def _thickness(layer: Layer, word: Text, draft: Draft, problems: list[Problem]) -> float:
    mm = draft.values[f"{layer.cloth}.thickness"].value
    if mm <= 0:
        what = f"The cloth “{layer.cloth}” has no thickness, so it can't be shown cut across."
        problems.append(Problem(word.place, what, "Give it one under cloths, such as 0.5 mm."))
    return mm


def _check_depth(edge: Edge, named: _Named, figure: FigureRule, problems: list[Problem]) -> None:
    """A hem is turned in by less than it is deep, and stitched where there is any of it."""
    if edge.upper is not None or edge.folded:
        return
    allowance, deep = (numbers.decimal(mm, 0.1) for mm in (edge.lower[1], edge.depth))
    if edge.under >= edge.depth:
        under = numbers.decimal(edge.under, 0.1)
        what = f"Of an allowance of {allowance} mm at “{named.said}”, {under} mm can't be turned in"
        what += " first: less would be left to cover it."
        place = figure.keys.entries["under"].place
        problems.append(Problem(place, what, "Turn in less, or give the edge more."))
    elif edge.channel >= edge.depth:
        given = numbers.decimal(edge.channel, 0.1)
        what = f"Stitches {given} mm from the edge miss the hem, which is {deep} mm deep."
        place = figure.keys.entries["channel"].place
        problems.append(Problem(place, what, "Make the channel narrower, or the hem deeper."))


def _check_room(edge: Edge, times: float, figure: FigureRule, problems: list[Problem]) -> None:
    least = edge.thicker(times).least_channel
    between = edge.second - edge.channel
    if not problems and edge.second and 1.2 * edge.filled > between:
        wide, has = (numbers.decimal(mm, 0.1) for mm in (1.2 * edge.filled, between))
        what = f"Between the two rows it needs {wide} mm, and there are {has} mm."
        place = figure.keys.entries["channel"].place
        problems.append(Problem(place, what, "Set the rows further apart."))
    if not problems and edge.channel and least > edge.channel:
        need = numbers.decimal(math.ceil(least * 10) / 10, 0.1)
        given = numbers.decimal(edge.channel, 0.1)
        drawn = "" if times == 1 else f", drawn {numbers.decimal(times, 0.1)} times as thick,"
        filled = "cord" if "cord" in figure.keys.entries else "wire"
        what = f"Fold and {filled}{drawn} need a channel of {need} mm, and this one has {given} mm."
        remedy = "Widen the channel." if times == 1 else "Exaggerate less."
        key = "channel" if times == 1 else "exaggerated"
        problems.append(Problem(figure.keys.entries[key].place, what, remedy))


def _enough(edge: Edge) -> float:
    """How many times as thick as it is everything is drawn, so that the thinnest cloth is seen."""
    plies = (edge.lower, *([edge.upper] if edge.upper else []), *edge.between)
    thinnest = min(thickness for thickness, _ in plies)
    for times in range(1, 12):
        more = edge.thicker(times + 1)
        crowded = edge.channel and more.least_channel > edge.channel
        if thinnest * times * _scale(edge, times) >= _VISIBLE or crowded or _blunt(more):
            break
    return float(times)


def _blunt(edge: Edge) -> bool:
    """Whether cloth as thick as that would fill what is turned in first."""
    return bool(edge.under) and edge.under < 3 * edge.lower[0]


def _scale(edge: Edge, times: float) -> float:
    scale = min(_WIDE / edge.end, _HIGH / (edge.height * times))
    if scale < 1:
        return max(math.floor(scale * 4) / 4, 0.25)
    return math.floor(scale * 2) / 2
