"""What a clip figure asks for, read against the draft: see ``views/clip`` for its keys."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from notchbook.composing import numbers
from notchbook.composing.figures import keys
from notchbook.composing.figures.facts import step_of
from notchbook.composing.names import plain
from notchbook.drafting.clips import STANDS, Cuts, cuts_along, cuts_of
from notchbook.drafting.draft import Draft, Piece
from notchbook.problems import ContentError, Problem, suggestion
from notchbook.reading.quantity import LENGTH
from notchbook.reading.recipe import FigureRule

SHORT = 1.5
"""How far from the stitching a cut ends, mm: as it is printed on every pattern."""


@dataclass(frozen=True, slots=True)
class Clipped:
    """An edge that is cut: its allowance as it was trimmed and as the pattern has it, mm, and its
    cuts. ``spreads``: it lies straight or nearly so when it is cut, and round what it is sewn to
    after that."""

    piece: Piece
    edge: str
    allowance: float
    whole: float
    cuts: Cuts
    spreads: bool

    @property
    def radius(self) -> float:
        """Where it bends most, mm: what the spacing of the cuts follows from."""
        return self.cuts.closest**2 / (8 * STANDS)

    @property
    def name(self) -> str:
        """As it is said: ``Brim, outer``."""
        return f"{self.piece.title}, {plain(self.edge)}"


@dataclass(frozen=True, slots=True)
class ClipPlan:
    """The edges, the one that is drawn first; how far outside the stitching line they were
    stay-stitched, mm, or 0; and the piece to whose side all of them are folded together."""

    edges: tuple[Clipped, ...]
    stay: float
    to: Piece | None

    @property
    def others(self) -> tuple[Piece, ...]:
        """The cloths that lie on the one they are folded to."""
        found = dict.fromkeys(each.piece.name for each in self.edges)
        pieces = {each.piece.name: each.piece for each in self.edges}
        return tuple(pieces[name] for name in found if self.to and name != self.to.name)


def read_plan(draft: Draft, figure: FigureRule) -> ClipPlan:
    """What the figure asks for: every edge that is cut, each once for clips and once for notches.
    Raises ContentError with everything that is wrong with it."""
    problems: list[Problem] = []
    keys.check_keys(figure.keys, ("edge", "trimmed", "stay", "to"), "A clip figure", problems)
    trimmed = keys.value(figure.keys, "trimmed", LENGTH, draft, problems)
    stay = keys.value(figure.keys, "stay", LENGTH, draft, problems) or 0.0
    words = keys.texts(figure.keys, "edge", problems)
    named: list[tuple[Piece, str, str | None]] = []
    for word in words:
        if found := keys.find_edge(word, draft, problems):
            cloth = word.value.rpartition(".")[0].rpartition(" ")[0] or None
            named.append((*found, cloth))
    step = step_of(draft, figure)
    if not words and step:
        named = [(draft.pieces[n.piece], n.edge, n.cloth) for n in step.facts.clip]
    found_: list[Clipped] = []
    for piece, edge, cloth in named:
        name = f"{piece.name}.{edge}"
        line = piece.cut_line(cloth) if cloth and cloth in piece.counts else piece.cut_lines[0]
        wide = line.allowance[edge]
        cuts = cuts_of(piece, edge)
        if not cuts or wide <= SHORT:
            why = "is straight, so that its allowance lies flat uncut"
            why = why if not cuts else "has no allowance to clip"
            place = words[0].place if words else figure.view.place
            problems.append(Problem(place, f"The edge “{name}” {why}.", "Name another edge."))
        own = [(c.how, round(c.closest, 1)) for c in cuts_along(piece.flat.edges[edge].path)]
        left = wide if trimmed is None else min(wide, trimmed)
        found_ += [
            Clipped(piece, edge, left, wide, each, (each.how, round(each.closest, 1)) not in own)
            for each in cuts
        ]
    if not named and not problems:
        example = next(iter(draft.pieces), "PIECE")
        problems.append(keys.missing(figure, "edge", "clip", f"{example}.EDGE"))
    to = _folded_to(figure, found_, problems)
    if not 0 <= stay < SHORT:
        off = numbers.decimal(stay, 0.1)
        what = f"Cuts end {SHORT} mm outside the stitching line, so a row {off} mm outside it"
        what += " would be cut through." if stay > 0 else " is not in the allowance."
        remedy = "Stay-stitch 1 mm outside the line: stay: 1 mm."
        problems.append(Problem(figure.keys.entries["stay"].place, what, remedy))
    if problems:
        raise ContentError(problems)
    return ClipPlan(tuple(found_), stay, to)


def _folded_to(
    figure: FigureRule, clipped: Sequence[Clipped], problems: list[Problem]
) -> Piece | None:
    """The piece that ``to`` names, one of at least two that are clipped."""
    pieces = {each.piece.name: each.piece for each in clipped}
    for word in keys.texts(figure.keys, "to", problems):
        if len(pieces) > 1 and word.value in pieces:
            return pieces[word.value]
        what = f"“{word}” is not one of several cloths that are clipped here."
        remedy = suggestion(word.value, pieces) if len(pieces) > 1 else "Leave “to” out."
        problems.append(Problem(word.place, what, remedy))
    return None
