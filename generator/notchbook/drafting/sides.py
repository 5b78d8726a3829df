"""Sides of a seam: the edges of one side laid end to end, which way each is passed, and the places
at which the sides are to meet."""

from __future__ import annotations

import math
from bisect import bisect
from collections import Counter
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise, product

from notchbook.drafting.shape import Edge, Flat
from notchbook.reading.recipe import EdgeName, SeamRule

Link = frozenset[tuple[str, str]]
"""Two edges, each a piece and an edge's name, that some seam joins; one if it joins two copies."""

SAME = 0.5
"""Places nearer to each other than this, mm, are one place."""

CROWDED = 8.0
"""No notch stands nearer than this, mm, to where two pieces meet: it would be taken for that."""


@dataclass(frozen=True, slots=True)
class Stretch:
    """An edge in its place in a side: from ``begin`` on it takes up ``length`` mm of it, as it is
    sewn. Its path's segments end at ``ends``. ``backwards``: the side passes it from its end to its
    start. ``joint``: it begins at a seam of its piece with the one before it in the side."""

    name: EdgeName
    edge: Edge
    ends: tuple[float, ...]
    begin: float
    length: float
    backwards: bool
    joint: bool

    @property
    def end(self) -> float:
        """Where it ends in the side, mm."""
        return self.begin + self.length

    @property
    def pattern(self) -> tuple[str, str]:
        """What is drawn once, however often it is cut: piece and edge."""
        return self.name.piece, self.name.edge

    def along(self, place: float) -> float:
        """How far along the edge a place of the side lies, mm."""
        here = place - self.begin
        return self.length - here if self.backwards else here

    def inside(self, place: float, margin: float) -> bool:
        """Whether a place of the side lies on this edge and not within ``margin`` mm of its ends; a
        closed edge has none."""
        if self.edge.path.closed:
            return 0 <= place - self.begin < self.length
        return margin < place - self.begin < self.length - margin


Side = tuple[Stretch, ...]


@dataclass(frozen=True, slots=True)
class Meeting:
    """A place at which the sides of a seam meet and are marked, as a share of the first side from
    its start. ``number`` is what its notches carry; none where edges that are cut from one pattern
    would need several. ``joint``: two pieces of one side meet there."""

    share: float
    number: int | None
    joint: bool

    @property
    def margin(self) -> float:
        """A side has no mark for it so near to the end of an edge, mm: the end is mark enough."""
        return CROWDED if self.joint else SAME


def laid(names: Sequence[EdgeName], flats: Mapping[str, Flat], links: Collection[Link]) -> Side:
    """The edges of one side, end to end.

    A side is named in the order it is sewn, and an edge has a direction of its own, with its cloth
    on the right. Which way each is passed follows from the recipe's other seams: of two neighbours,
    those ends meet at which a seam joins their pieces. Where that leaves a choice, edges are passed
    in their own direction; where all would be passed against it, the whole side is turned round.
    """
    ways = _ways(names, flats, links)
    if len(names) > 1 and all(ways):
        names, ways = tuple(reversed(names)), (False,) * len(names)
    found: list[Stretch] = []
    begin = 0.0
    for name, backwards in zip(names, ways, strict=True):
        edge = flats[name.piece].edges[name.edge]
        ends = edge.path.ends()
        length = edge.sewn(ends[-1])
        before = found[-1].pattern if found else None
        joint = before is not None and (
            before[0] != name.piece or before == (name.piece, name.edge)
        )
        found.append(Stretch(name, edge, ends, begin, length, backwards, joint))
        begin += length
    return tuple(found)


def links_of(rules: Collection[SeamRule]) -> frozenset[Link]:
    """Every two edges that meet in some seam."""
    return frozenset(
        frozenset(((a.piece, a.edge), (b.piece, b.edge)))
        for rule in rules
        for k, first in enumerate(rule.sides)
        for second in rule.sides[k + 1 :]
        for a, b in product(first, second)
    )


def _ways(
    names: Sequence[EdgeName], flats: Mapping[str, Flat], links: Collection[Link]
) -> tuple[bool, ...]:
    """For each edge whether it is passed backwards: the sequence with most neighbours joined, and
    of several the one with fewest edges backwards."""
    best: dict[bool, tuple[int, int, tuple[bool, ...]]] = {
        way: (0, -way, (way,)) for way in (False, True)
    }
    for a, b in pairwise(names):
        following = {}
        for way in (False, True):
            entry = (b.piece, _neighbour(flats[b.piece], b.edge, way))
            options = []
            for last, (joined, forward, ways) in best.items():
                leave = (a.piece, _neighbour(flats[a.piece], a.edge, not last))
                met = frozenset((leave, entry)) in links
                options.append((joined + met, forward - way, (*ways, way)))
            following[way] = max(options, key=lambda option: option[:2])
        best = following
    return max(best.values(), key=lambda option: option[:2])[2]


def _neighbour(flat: Flat, edge: str, after: bool) -> str:
    """The edge that follows another in its loop, or goes before it."""
    loop = next(loop for loop in flat.loops if any(each.name == edge for each in loop))
    k = next(k for k, each in enumerate(loop) if each.name == edge)
    return loop[(k + 1) % len(loop) if after else k - 1].name


def notch_shares(count: int, closed: bool) -> tuple[float, ...]:
    """Where notches are asked for along a side: at k/n from the start of a closed one (the start
    itself included), at k/(n+1) along an open one."""
    if closed:
        return tuple(k / count for k in range(count))
    return tuple(k / (count + 1) for k in range(1, count + 1))


def meetings(sides: Sequence[Side], count: int, closed: bool) -> tuple[Meeting, ...]:
    """The places of a seam that are marked, in order along the first side.

    They are those that are asked for, and every joint: where two pieces meet on one side, the
    others have a notch. An edge that a side has several times is drawn once, and none of its copies
    can be told from the others. What is asked for inside one of them is therefore marked only where
    it falls in the same place on each of them; and where it would carry another number on each, it
    carries none.
    """
    if not count:
        return ()
    joints = sorted(share for k, side in enumerate(sides) for share in _joints(side, k > 0))
    least = min(_length(side) for side in sides)

    def near(share: float, others: Sequence[float], gap: float) -> bool:
        """Whether a share lies so near, mm, to one of some in order."""
        k = bisect(others, share)
        return any(abs(share - other) * least < gap for other in others[max(k - 1, 0) : k + 1])

    asked = [
        share
        for share in notch_shares(count, closed)
        if share == 0.0 or not near(share, joints, CROWDED)
    ]
    before = -1
    while len(asked) != before:
        before = len(asked)
        lone = {
            share
            for k, side in enumerate(sides)
            for copies, here in _repeated(side, asked, k > 0)
            if len({copy for copy, _ in here}) < copies
            for _, share in here
        }
        asked = [share for share in asked if share not in lone]
    numbers = _numbers(sides, asked, closed)
    found = [Meeting(share, numbers.get(share), False) for share in asked]
    for before_, share in pairwise((-math.inf, *joints)):
        if (share - before_) * least > SAME and not near(share, asked, SAME):
            found.append(Meeting(share, None, True))
    return tuple(sorted(found, key=lambda meeting: meeting.share))


def _length(side: Side) -> float:
    last = side[-1]
    return last.begin + last.length


def _joints(side: Side, turned: bool) -> Iterator[float]:
    """The shares of the first side at which pieces of a side meet."""
    for stretch in side:
        if stretch.joint:
            share = stretch.begin / _length(side)
            yield 1 - share if turned else share


def place(side: Side, share: float, turned: bool) -> float:
    """How far along a side, mm, a share of the first side meets it. Sides that are sewn together
    run opposite ways, so that all but the first are ``turned``."""
    return _length(side) * ((1 - share) % 1 if turned else share)


def _repeated(
    side: Side, shares: Sequence[float], turned: bool
) -> Iterator[tuple[int, list[tuple[int, float]]]]:
    """Every place on an edge that a side has several times at which any of its copies would be
    marked: how many copies there are, and which of them are marked there, each with its share."""
    counts = Counter(stretch.pattern for stretch in side)
    several = [(pattern, copies) for pattern, copies in counts.items() if copies > 1]
    at = sorted((place(side, share, turned), share) for share in shares) if several else []
    for pattern, copies in several:
        found = sorted(
            (stretch.along(here), copy, share)
            for copy, stretch in enumerate(side)
            if stretch.pattern == pattern
            for here, share in at[bisect(at, (stretch.begin,)) : bisect(at, (stretch.end, 2.0))]
            if stretch.inside(here, SAME)
        )
        group: list[tuple[int, float]] = []
        last = -math.inf
        for along, copy, share in found:
            if along - last > SAME and group:
                yield copies, group
                group = []
            group.append((copy, share))
            last = along
        if group:
            yield copies, group


def _numbers(sides: Sequence[Side], shares: Sequence[float], closed: bool) -> dict[float, int]:
    """Numbers by the order from the nearer end, so that twins have the same whichever way their
    side runs; the start of a closed seam is 0. Marks of one pattern that would carry several
    numbers carry none, and so do their twins."""
    near = {share: round(min(share, 1 - share), 9) for share in shares}

    def rank(kept: Collection[float]) -> dict[float, int]:
        order = sorted({near[share] for share in kept})
        number = {value: k for k, value in enumerate(order, start=0 if closed else 1)}
        return {share: number[near[share]] for share in kept}

    numbers = rank(shares)
    unclear = {
        numbers[share]
        for k, side in enumerate(sides)
        for _, here in _repeated(side, shares, k > 0)
        if len({numbers[share] for _, share in here}) > 1
        for _, share in here
    }
    return rank([share for share, number in numbers.items() if number not in unclear])
