"""What an along figure shows, read against the draft: the edge, rows of stitches beside it, what is
laid there with its ends, a slit."""

from __future__ import annotations

from dataclasses import dataclass

from notchbook.composing import numbers
from notchbook.composing.figures import keys
from notchbook.composing.figures.along_thing import Thing, place_on, read_thing
from notchbook.composing.figures.edge_line import EdgeLine, edge_line
from notchbook.composing.lettering.placing import Lines, walls
from notchbook.drafting.draft import Draft
from notchbook.problems import ContentError, Problem
from notchbook.reading.quantity import LENGTH
from notchbook.reading.recipe import FigureRule, Table

KINDS = ("stay", "stitch", "tack")
"""Rows of stitches: those that keep an edge from stretching, any other, those drawn out again."""

KNOWN = (
    "edge", "side", "turned", "rows", "start", "slit", "lay", "inside", "width", "from", "to",
    "lap", "under", "sleeve", "tails", "free", "at", "long", "zigzag", "other",
    "pieces", "apart", "folded", "front",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Rows:
    """Rows of one kind, each so far inside the stitching line, mm, in the order they are sewn."""

    kind: str
    inside: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class AlongPlan:
    """``side`` of the cloth is up; ``turned``: its allowance is turned in by now. Rows start in the
    ``middle`` of the edge or where it starts. ``slit`` and ``front`` are where along the edge it
    is slit and has its front."""

    line: EdgeLine
    side: str
    turned: bool
    rows: tuple[Rows, ...]
    middle: bool
    slit: float | None
    thing: Thing | None
    front: float | None = None

    @property
    def outside(self) -> float:
        """How much cloth is seen outside the stitching line, mm."""
        return 0.0 if self.turned else max(self.line.allowance, 0.0)


def read_along(draft: Draft, figure: FigureRule) -> AlongPlan:
    """The plan of a figure. Raises ContentError with all that is wrong."""
    problems: list[Problem] = []
    table = figure.keys
    keys.check_keys(table, KNOWN, "An along figure", problems)
    line = _edge(draft, figure, problems)
    side = keys.one_of(table, "side", ("right", "wrong"), problems) or "right"
    turned = keys.one_of(table, "turned", ("yes", "no"), problems) == "yes"
    start = keys.one_of(table, "start", ("middle", "end"), problems)
    rows = _rows(draft, table, problems)
    if line is None or problems:
        raise ContentError(problems)
    slit = place_on(draft, table, "slit", line, problems)
    front = place_on(draft, table, "front", line, problems)
    thing = read_thing(draft, table, line, problems)
    if not rows and thing is None and slit is None and not problems:
        what = "An along figure needs something along its edge."
        remedy = (
            "Say what is laid (“lay: NOTION”), sewn (“rows: {stay: -1 mm}”) or slit (“slit: 0”)."
        )
        problems.append(Problem(figure.view.place, what, remedy))
    _check_room(line, rows, thing, table, problems)
    plan = AlongPlan(line, side, turned, rows, start == "middle", slit, thing, front)
    if not problems:
        _check_on_cloth(plan, table, problems)
    if problems:
        raise ContentError(problems)
    return plan


def _edge(draft: Draft, figure: FigureRule, problems: list[Problem]) -> EdgeLine | None:
    words = keys.texts(figure.keys, "edge", problems)
    if not words:
        example = next(iter(draft.pieces), "PIECE")
        problems.append(keys.missing(figure, "edge", "along", f"{example}.EDGE"))
        return None
    found = keys.find_cut_edge(words[0], draft, problems)
    return edge_line(*found) if found else None


def _rows(draft: Draft, table: Table, problems: list[Problem]) -> tuple[Rows, ...]:
    entry = table.entries.get("rows")
    if entry is None:
        return ()
    if not isinstance(entry, Table):
        remedy = "Write what they are and how far inside the line: rows: {stay: -1 mm}."
        problems.append(Problem(entry.place, "“rows” takes kinds of stitches.", remedy))
        return ()
    keys.check_keys(entry, KINDS, "“rows”", problems)
    found = []
    for kind in entry.entries:
        places: list[float] = []
        for value in keys.values(entry, kind, LENGTH, draft, problems):
            if all(abs(value - other) > 1.0 for other in places):
                places.append(value)
        if places:
            found.append(Rows(kind, tuple(places)))
    return tuple(found)


def _check_room(
    line: EdgeLine,
    rows: tuple[Rows, ...],
    thing: Thing | None,
    table: Table,
    problems: list[Problem],
) -> None:
    """That every line beside the edge can be followed."""
    asked = [("rows", mm) for each in rows for mm in each.inside]
    if thing:
        asked += [("inside", thing.inside), ("width", thing.far)]
    for key, mm in asked:
        if not problems and not line.has_room(mm):
            what = f"So far from the edge “{line.name}” nothing can follow it: it bends too much."
            place = table.keys.get(key, table.place)
            problems.append(Problem(place, what, f"Make “{key}” less."))


def _check_on_cloth(plan: AlongPlan, table: Table, problems: list[Problem]) -> None:
    """That rows are sewn where there is cloth: none outside the cut edge or past the opposite one.
    Looked at are places away from the corners, where a row may well end early."""
    line = plan.line
    cloth = Lines.of(walls(line.piece.cut_line(line.cloth).loops))
    for mm in (mm for rows in plan.rows for mm in rows.inside):
        places = [line.at(line.length * share, mm)[0] for share in (0.4, 0.5, 0.6)]
        if mm < -plan.outside or not any(map(cloth.hold, places)):
            off = numbers.length(abs(mm)).metric
            way = "inside" if mm > 0 else "outside"
            what = f"A row {off} {way} the line of “{line.name}” is not on the cloth."
            outside = numbers.length(plan.outside).metric
            remedy = f"Outside the line there is {outside} of cloth: keep the rows on it."
            if mm > 0:
                remedy = "Keep the rows nearer to the edge."
            problems.append(Problem(table.keys["rows"], what, remedy))
            return
