"""Seams measured on the drafted edges, and the notches that make their sides meet."""

from __future__ import annotations

import math
from collections.abc import Collection, Iterator, Mapping, Sequence

from notchbook.drafting.draft import Notch, Pleat, Seam
from notchbook.drafting.shape import Flat
from notchbook.drafting.sides import SAME, Link, Meeting, Side, laid, meetings, place
from notchbook.reading.recipe import SeamRule


def measure_seam(
    rule: SeamRule,
    flats: Mapping[str, Flat],
    ease: Mapping[int, float],
    gather: Mapping[int, float] | None = None,
    depth: Mapping[int, float] | None = None,
    links: Collection[Link] = (),
) -> Seam:
    """A seam with the length of each side in mm, read off the constructed edges.

    A seam is round where any of its sides is a single round edge: then all of them close. Gathers
    (ratios to the first side) and pleats (each twice its ``depth``, mm) are ease too. ``links``:
    which edges meet in any seam of the recipe.
    """
    gather, depth = gather or {}, depth or {}
    sides = tuple(laid(side, flats, links) for side in rule.sides)
    lengths = tuple(math.fsum(stretch.length for stretch in side) for side in sides)
    gathers = tuple(gather.get(number, 1.0) for number in range(len(sides)))
    pleats = {number: 2 * rule.pleats[number].count * deep for number, deep in depth.items()}
    return Seam(
        name=rule.name,
        sides=rule.sides,
        lengths=lengths,
        ease=tuple(
            ease.get(number, 0.0) + (ratio - 1) * lengths[0] + pleats.get(number, 0.0)
            for number, ratio in enumerate(gathers)
        ),
        round=any(len(side) == 1 and side[0].edge.round for side in sides),
        laid=sides,
        gathers=gathers,
    )


def pleats_of(seam: Seam, number: int, count: int, depth: float) -> list[tuple[str, Pleat]]:
    """The pleats of one side of a seam with the piece each is on, evenly along it and laid towards
    the end of its edge. ValueError where one does not lie on a single edge, or where they do not
    fall alike on the copies of one edge.

    Edges run with their cloth on the right, as it lies under the foot of a machine from the right
    side; from the wrong side the foot goes against them, and what it meets of a pleat is its under
    fold, which points the other way. So it runs off every fold, whichever side is up.

    Each stands in the middle of an equal share of the side. A notch between two shares therefore
    lies at the same share of the side before it is pleated and after.
    """
    each = seam.lengths[number] / count
    middles = [(k + 0.5) * each for k in range(count)]
    found: list[tuple[str, Pleat]] = []
    drawn: dict[tuple[str, str], list[float]] = {}
    for stretch in seam.laid[number]:
        name, edge, length = stretch.name, stretch.edge, stretch.length
        here = sorted(
            along for along in map(stretch.along, middles) if -depth < along < length + depth
        )
        if any(not depth <= middle <= length - depth for middle in here):
            raise ValueError(f"A pleat would fall across the end of “{name}”.")
        if (before := drawn.setdefault(stretch.pattern, here)) is not here:
            if len(before) != len(here) or any(
                abs(a - b) > SAME for a, b in zip(before, here, strict=True)
            ):
                raise ValueError(f"The pleats fall differently on each “{name}”.")
            continue
        for middle in here:
            (fold, across), (onto, beyond) = edge.places((middle - depth, middle + depth))
            pleat = Pleat(edge.name, seam.name, (fold, across * -1j), (onto, beyond * -1j))
            found.append((name.piece, pleat))
    return found


def notches_of(
    seam: Seam, count: int, reach: Mapping[tuple[str, str], float]
) -> list[tuple[str, Notch]]:
    """Every notch of a seam with the piece it is on.

    ``reach`` gives the widest allowance of each (piece, edge) in mm. The start of a round seam
    (centre back) gets two strokes; on an edge that only closes when its own seam is sewn it falls
    on the corners of the piece and is not marked. Which places are marked and what their numbers
    are: see ``sides.meetings``.
    """
    marked = meetings(seam.laid, count, seam.round)
    return [
        placed
        for k, side in enumerate(seam.laid)
        for placed in _on(seam, side, marked, k > 0, reach)
    ]


def _on(
    seam: Seam,
    side: Side,
    marked: Sequence[Meeting],
    turned: bool,
    reach: Mapping[tuple[str, str], float],
) -> Iterator[tuple[str, Notch]]:
    """The notches on one side; those of an edge it has several times once."""
    drawn: set[tuple[str, str]] = set()
    places = [place(side, meeting.share, turned) for meeting in marked]
    for stretch in side:
        if stretch.pattern in drawn:
            continue
        drawn.add(stretch.pattern)
        here = sorted(
            (stretch.along(at), k)
            for k, (at, meeting) in enumerate(zip(places, marked, strict=True))
            if stretch.inside(at, meeting.margin)
        )
        spots = stretch.edge.places((along for along, _ in here), stretch.ends)
        for (_, k), (spot, way) in zip(here, spots, strict=True):
            notch = Notch(
                edge=stretch.edge.name,
                seam=seam.name,
                number=marked[k].number,
                at=spot,
                out=way * -1j,
                strokes=2 if marked[k].share == 0.0 else 1,
                reach=max(reach[stretch.pattern], 0.0),
            )
            yield stretch.name.piece, notch
