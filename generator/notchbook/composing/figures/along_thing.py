"""What is laid along an edge: where it lies and how it ends, read against the draft."""

from __future__ import annotations

import re
from dataclasses import dataclass

from notchbook.composing.figures import keys
from notchbook.composing.figures.edge_line import EdgeLine, edge_line
from notchbook.drafting.draft import Draft
from notchbook.drafting.geometry.box import bounds
from notchbook.problems import Problem, suggestion
from notchbook.reading.quantity import LENGTH, RATIO
from notchbook.reading.recipe import Scalar, Series, Table, Text

_OF_THING = ("inside", "width", "from", "to", "lap", "under", "sleeve", "tails", "free", "at",
    "long", "zigzag", "other", "pieces", "apart", "folded")  # fmt: skip

_SQUARE = ("at", "width", "long", "folded")

_TURNING = ("zigzag", "other")

_NEEDS = {"long": "at", "other": "zigzag", "apart": "pieces", "under": "lap", "folded": "at"}
"""Keys that mean nothing without another one."""

_SHORTEST = 1.0
"""Nothing laid is shorter along the edge, nor is the way from one turn to the next, mm."""


@dataclass(frozen=True, slots=True)
class Thing:
    """What is laid: ``width`` mm of it from ``inside`` the stitching line on, from one place of the
    edge to another, which is past the edge's end where it goes across its start. ``whole``: all
    round, its ends passing each other by ``lap``, the upper one turned ``under`` so much.
    ``sleeve`` is the title of what holds the ends, ``tails`` how much of each hangs out; ``free``:
    it is fastened at its ends alone.

    Or it lies square to the edge ``at`` some places, its raw end level with the cut edge, reaching
    so ``long`` inwards, or ``folded`` in half with both its ends there; or so many times up and
    down (``zigzag``) between the edge and an ``other`` one; or in ``pieces`` so long, so far
    ``apart``, as many as fit."""

    title: str
    inside: float
    width: float
    start: float
    end: float
    whole: bool
    lap: float = 0.0
    under: float = 0.0
    sleeve: str = ""
    tails: float = 0.0
    free: bool = False
    at: tuple[float, ...] = ()
    long: float = 0.0
    folded: bool = False
    zigzag: int = 0
    other: EdgeLine | None = None
    pieces: float = 0.0
    apart: float = 0.0

    @property
    def parts(self) -> tuple[tuple[float, float], ...]:
        """From where to where along the edge it lies: all of it, or its pieces."""
        if not self.pieces:
            return ((self.start, self.end),)
        step = self.pieces + self.apart
        count = int((self.end - self.start + self.apart + 1e-6) // step)
        starts = [self.start + k * step for k in range(count)]
        return tuple((start, start + self.pieces) for start in starts)

    @property
    def far(self) -> float:
        """How far inside the stitching line its farther side lies, mm."""
        return self.inside + self.width


def place_on(
    draft: Draft, table: Table, key: str, line: EdgeLine, problems: list[Problem]
) -> float | None:
    """A place along the edge, told as a share of it or a length from its start, mm."""
    entry = table.entries.get(key)
    if entry is None:
        return None
    if isinstance(entry, Scalar) and entry.formula:
        found = keys.worked_out(entry.formula, draft, problems)
        if found is None:
            return None
        told = found.value * line.length if found.dimension == RATIO else found.value
        if found.dimension in (LENGTH, RATIO) and -1e-6 <= told <= line.length + 1e-6:
            return min(max(told, 0.0), line.length)
    what = f"“{key}” has to be a place on the edge “{line.name}”."
    remedy = "Write a share of it from 0 to 1, or a length from its start."
    problems.append(Problem(entry.place, what, remedy))
    return None


def read_thing(draft: Draft, table: Table, line: EdgeLine, problems: list[Problem]) -> Thing | None:
    words = keys.texts(table, "lay", problems)
    if not words:
        for key in _OF_THING:
            if key in table.entries and not problems:
                what = f"“{key}” is said of something laid along the edge, and nothing is."
                place = table.keys.get(key, table.place)
                problems.append(Problem(place, what, "Name it with a line like “lay: ribbon”."))
        return None
    titles = {
        key: _notion(draft, word, problems)
        for key in ("lay", "sleeve")
        for word in keys.texts(table, key, problems)
    }
    _check_kind(table, problems)
    if "at" in table.entries:
        return _across(draft, table, line, titles["lay"], problems)
    if "zigzag" in table.entries:
        return _zigzag(draft, table, line, titles["lay"], problems)
    start = place_on(draft, table, "from", line, problems)
    end = place_on(draft, table, "to", line, problems)
    low, high = start or 0.0, line.length if end is None else end
    if line.path.closed and high <= low:
        high += line.length
    whole = line.goes_round and start is None and end is None
    free = keys.one_of(table, "free", ("yes", "no"), problems) == "yes"
    inside = keys.value(table, "inside", LENGTH, draft, problems) or 0.0
    width, lap, under, tails, pieces, apart = (
        _length(draft, table, key, problems)
        for key in ("width", "lap", "under", "tails", "pieces", "apart")
    )
    thing = Thing(
        titles["lay"], inside, width, low, high, whole, lap, under, titles.get("sleeve", ""), tails,
        free, pieces=pieces, apart=apart,
    )  # fmt: skip
    if not problems:
        _check_ends(thing, table, line, problems)
    return thing


def _length(draft: Draft, table: Table, key: str, problems: list[Problem]) -> float:
    """A length that can't be less than 0, mm; 0 where the key is not there."""
    found = keys.value(table, key, LENGTH, draft, problems) or 0.0
    if found < 0:
        what = f"“{key}” can't be less than 0."
        problems.append(Problem(table.entries[key].place, what, "Write a length such as 1 cm."))
    return max(found, 0.0)


def _check_kind(table: Table, problems: list[Problem]) -> None:
    """That no key is given that is said of what lies in another way."""
    for kind, known, called in (
        ("at", _SQUARE, "What lies square to an edge"),
        ("zigzag", _TURNING, "A zigzag"),
    ):
        if kind in table.entries:
            for key in _OF_THING:
                if key in table.entries and key not in known:
                    what = f"{called} has no “{key}”."
                    problems.append(Problem(table.keys[key], what, "Leave that line out."))
            return
    for key, other in _NEEDS.items():
        if key in table.entries and other not in table.entries:
            what = f"“{key}” means nothing without “{other}”."
            problems.append(Problem(table.keys[key], what, f"Add “{other}”, or leave “{key}” out."))


def _check_ends(thing: Thing, table: Table, line: EdgeLine, problems: list[Problem]) -> None:
    """That what follows the edge can end as it is said to."""
    if "pieces" in table.entries and (thing.pieces < _SHORTEST or len(thing.parts) < 2):
        what = f"No two pieces as long as “pieces” find room along the edge “{line.name}”."
        remedy = "Make “pieces” less, or “apart”."
        if thing.pieces < _SHORTEST:
            what, remedy = "“pieces” is less than 1 mm.", "Write how long each of them is."
        problems.append(Problem(table.keys["pieces"], what, remedy))
    if thing.end - thing.start < _SHORTEST:
        what = f"From “from” to “to” nothing is left of the edge “{line.name}”."
        place = table.keys.get("to", table.keys.get("from", table.place))
        problems.append(Problem(place, what, "Let it end farther along the edge than it begins."))
    if (thing.lap or thing.tails) and not thing.whole:
        key = "lap" if thing.lap else "tails"
        what = f"Only what goes all round can have “{key}”, and this does not."
        remedy = f"Leave “{key}” out, or “from” and “to”, and name an edge that goes round."
        problems.append(Problem(table.keys[key], what, remedy))
    if thing.lap and thing.tails:
        what = "Ends that hang out don't pass each other."
        problems.append(Problem(table.keys["lap"], what, "Leave “lap” out, or “tails”."))
    if thing.lap > line.length:
        what = f"“lap” is more than the edge “{line.name}” is long."
        problems.append(Problem(table.keys["lap"], what, "Make “lap” less."))
    if thing.under > thing.lap:
        what = "More is turned under of the upper end than lies on the lower one."
        problems.append(Problem(table.keys["under"], what, "Make “under” less, or “lap” more."))


def _across(
    draft: Draft, table: Table, line: EdgeLine, title: str, problems: list[Problem]
) -> Thing:
    """What lies square to the edge at some places."""
    entry = table.entries["at"]
    each = entry.entries if isinstance(entry, Series) else (entry,)
    places = [
        place_on(draft, Table({"at": one}, {"at": one.place}, one.place), "at", line, problems)
        for one in each
    ]
    width = _length(draft, table, "width", problems)
    long = _length(draft, table, "long", problems)
    folded = keys.one_of(table, "folded", ("yes", "no"), problems) == "yes"
    if (not width or not long) and not problems:
        what = "What lies square to an edge needs its “width”, and how “long” it reaches inwards."
        problems.append(Problem(entry.place, what, "Add lines like “width: 25 mm”, “long: 8 cm”."))
    found = tuple(place for place in places if place is not None)
    if not found and not problems:
        what = "“at” names no place along the edge."
        problems.append(Problem(entry.place, what, "Write one such as “at: 0.5”, or several."))
    # No further than the box round the piece: past that it would not lie on the cloth.
    box = bounds(list(line.piece.cut_line(line.cloth).loops))
    ends = [line.at(place, long)[0] - box.low for place in found]
    reaches = any(
        not (-1 <= end.real <= box.width + 1 and -1 <= end.imag <= box.height + 1) for end in ends
    )
    for key, too_much in (("long", reaches), ("width", width > line.length)):
        if too_much and not problems:
            what = f"What is so {'long' if key == 'long' else 'wide'} goes beyond the piece"
            place = table.keys[key]
            problems.append(Problem(place, f"{what} “{line.piece.name}”.", f"Make “{key}” less."))
    first = found[0] if found else 0.0
    return Thing(title, 0.0, width, first, first, False, at=found, long=long, folded=folded)


def _zigzag(
    draft: Draft, table: Table, line: EdgeLine, title: str, problems: list[Problem]
) -> Thing:
    """What goes up and down between the edge and another of its piece."""
    entry = table.entries["zigzag"]
    times = keys.value(table, "zigzag", RATIO, draft, problems) or 0.0
    other = None
    for word in keys.texts(table, "other", problems):
        found = keys.find_edge(word, draft, problems)
        if found and found[0] is line.piece and found[1] != line.name:
            other = edge_line(line.piece, line.cloth, found[1])
        elif found:
            what = f"“{word}” is no other edge of the piece “{line.piece.name}”."
            problems.append(Problem(word.place, what, suggestion(found[1], line.piece.flat.edges)))
    if not problems and (times < 1 or abs(times - round(times)) > 1e-9 or other is None):
        what = "A zigzag is a whole number of times, between this edge and an “other” one."
        remedy = "Add lines like “zigzag: 8” and “other: side.top”."
        problems.append(Problem(entry.place, what, remedy))
    if not problems and line.length < 2 * times * _SHORTEST:
        what = f"So many turns find no room along the edge “{line.name}”."
        problems.append(Problem(entry.place, what, "Make “zigzag” less."))
    return Thing(
        title, 0.0, 0.0, 0.0, line.length, line.goes_round, zigzag=round(times), other=other
    )


def _notion(draft: Draft, word: Text, problems: list[Problem]) -> str:
    """What a notion is called, without what a shop has to know."""
    rule = draft.recipe.notions.get(word.value)
    if rule is None:
        what = f"There is no notion “{word.value}” in this recipe."
        problems.append(Problem(word.place, what, suggestion(word.value, draft.recipe.notions)))
        return ""
    title = rule.title.value
    return re.split("[,:;]", title)[0].strip() or title
