"""Truing of what is joined: that sides meet, that twin notches carry one mark, that what closes a
piece on itself is sewn, and that nothing is sewn where it is no longer open."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import groupby

from notchbook.drafting.draft import Draft, Piece, Seam
from notchbook.drafting.marks import Marks
from notchbook.drafting.sides import Meeting, Side, meetings, place
from notchbook.problems import Problem
from notchbook.reading.recipe import EdgeName, SeamRule

Ply = tuple[str, str]
"""A piece and a cloth it is cut from."""

SEAM_MISS = 0.5
"""How far the sides of a seam may differ beyond their declared ease, and twin notches lie from
where they meet, mm."""


def check_joins(made: Draft) -> Iterator[tuple[Problem, float]]:
    """What is wrong with the seams of a draft, each problem with a weight: the heavier, the
    worse."""
    for seam in made.seams.values():
        if seam.miss > SEAM_MISS:
            sides = " against ".join(
                f"{_listed(names)} {length:.1f} mm"
                for names, length in zip(seam.sides, seam.lengths, strict=True)
            )
            what = f"The sides of seam “{seam.name}” do not meet: {sides}, {seam.miss:.1f} mm off."
            remedy = "Mend the formula of one side, or declare the difference as ease."
            yield Problem(made.recipe.seams[seam.name].place, what, remedy), seam.miss
    for problem in (*_twins(made), *_left_open(made), *_sewn_shut(made), *_to_itself(made)):
        yield problem, 0.0


def _twins(made: Draft) -> Iterator[Problem]:
    """Notches of a seam whose twin on another side is missing or is marked with other words.

    Every side is walked to each share of its length at which the seam has a notch, and the marks
    printed there are compared. A place that falls on a corner of its piece needs no mark.
    """
    marks = Marks.of(made)
    for seam in made.seams.values():
        rule = made.recipe.seams[seam.name]
        marked = meetings(seam.laid, rule.notches, seam.round)
        sides = [
            _printed(made, seam, side, k > 0, marked, marks) for k, side in enumerate(seam.laid)
        ]
        for twins in zip(*sides, strict=True):
            if len({mark for mark in twins if mark is not None}) > 1:
                said = ", ".join(
                    f"{mark} on {_listed(side)}"
                    for side, mark in zip(seam.sides, twins, strict=True)
                    if mark is not None
                )
                what = f"Twin notches of seam “{seam.name}” are not marked alike: {said}."
                remedy = "Give both sides the same notches, or leave them out of this seam."
                yield Problem(rule.place, what, remedy)


def _printed(
    made: Draft,
    seam: Seam,
    side: Side,
    turned: bool,
    marked: Sequence[Meeting],
    marks: Marks,
) -> list[str | None]:
    """What is printed at the places of a seam on one side, in words; None on a corner of its
    piece."""
    found: list[str | None] = [None] * len(marked)
    places = [place(side, meeting.share, turned) for meeting in marked]
    for stretch in side:
        here = [
            (k, stretch.along(at))
            for k, (at, meeting) in enumerate(zip(places, marked, strict=True))
            if stretch.inside(at, meeting.margin)
        ]
        notches = [
            notch
            for notch in made.pieces[stretch.name.piece].notches
            if (notch.edge, notch.seam) == (stretch.edge.name, seam.name)
        ]
        spots = stretch.edge.places((along for _, along in here), stretch.ends)
        for (k, _), (spot, _) in zip(here, spots, strict=True):
            near = next((notch for notch in notches if abs(notch.at - spot) < SEAM_MISS), None)
            words = marks.words(near) if near else ""
            found[k] = f"“{words}”" if words else "a plain notch" if near else "no notch"
    return found


def _left_open(made: Draft) -> Iterator[Problem]:
    """Pieces that close on themselves but whose own edges no seam joins."""
    sewn = {
        (name.piece, name.edge)
        for rule in made.recipe.seams.values()
        for side in rule.sides
        for name in side
    }
    for piece in made.pieces.values():
        own = piece.form.seam if piece.form else None
        missing = [edge for edge in own or () if (piece.name, edge) not in sewn]
        if own and missing:
            edges = " and ".join(f"“{edge}”" for edge in missing)
            what = f"No seam of the recipe sews {edges} of piece “{piece.name}”, so it stays open."
            yield Problem(made.recipe.pieces[piece.name].place, what, _closing(piece, own))


def _sewn_shut(made: Draft) -> Iterator[Problem]:
    """Edges that are sewn again after their piece's own seam has closed them."""
    for piece in made.pieces.values():
        own = piece.form.seam if piece.form else None
        for cloth in piece.counts if own else ():
            users = {
                rule.name: found
                for rule in made.recipe.seams.values()
                if (found := [n for n in _names(rule) if _ply(made, n) == (piece.name, cloth)])
            }
            closing = [
                seam
                for seam, names in users.items()
                if {*(own or ())} <= {name.edge for name in names}
            ]
            for seam, names in users.items() if closing else ():
                again = next((name for name in names if name.edge in (own or ())), None)
                if again is not None and seam != closing[0]:
                    what = f"“{again}” is sewn here, but seam “{closing[0]}” has closed it already."
                    remedy = "Leave it out of one of the two seams."
                    yield Problem(again.place, what, remedy)


def _to_itself(made: Draft) -> Iterator[Problem]:
    """Edges that a seam needs more often than they are cut."""
    for rule in made.recipe.seams.values():
        for (ply, edge), uses in Counter((_ply(made, n), n.edge) for n in _names(rule)).items():
            piece, cloth = ply
            cut = made.pieces[piece].counts[cloth]
            if uses > cut:
                what = (
                    f"Seam “{rule.name}” joins {uses} times “{cloth} {piece}.{edge}”, "
                    f"which is cut {'once' if cut == 1 else f'{cut} times'}."
                )
                remedy = f"Cut “{piece}” {uses} times, or name the edge that it meets."
                yield Problem(rule.place, what, remedy)


def _listed(names: Sequence[EdgeName]) -> str:
    """The edges of a side, those that follow themselves with how often: ``6 gore.base``."""
    runs = [(name, len(list(same))) for name, same in groupby(map(str, names))]
    return " + ".join(name if count == 1 else f"{count} {name}" for name, count in runs)


def _names(rule: SeamRule) -> list[EdgeName]:
    return [name for side in rule.sides for name in side]


def _ply(made: Draft, name: EdgeName) -> Ply:
    return name.piece, made.pieces[name.piece].cloth_or_first(name.cloth)


def _closing(piece: Piece, own: tuple[str, str]) -> str:
    """The line that closes a piece."""
    cloths = list(piece.counts)
    front = f"{cloths[0]} " if len(cloths) > 1 else ""
    join = ", ".join(f"{front}{piece.name}.{edge}" for edge in own)
    return f"Add below “seams”: “{piece.name.replace('_', ' ')} seam: {{join: [{join}]}}”."
