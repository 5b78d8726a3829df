"""Seams measured on the drafted edges, and the notches that make their sides meet."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from notchbook.drafting.draft import Notch, Seam
from notchbook.drafting.shape import Edge, Flat
from notchbook.reading.recipe import EdgeName, SeamRule


def measure_seam(rule: SeamRule, flats: Mapping[str, Flat], ease: Mapping[int, float]) -> Seam:
    """A seam with the length of each side in mm, read off the constructed edges.

    A seam is round where any of its sides is a single round edge: then all of them close.
    """
    sides = [[flats[name.piece].edges[name.edge] for name in side] for side in rule.sides]
    return Seam(
        name=rule.name,
        sides=rule.sides,
        lengths=tuple(math.fsum(edge.path.length() for edge in side) for side in sides),
        ease=tuple(ease.get(number, 0.0) for number in range(len(sides))),
        round=any(len(side) == 1 and side[0].round for side in sides),
    )


def notch_shares(count: int, closed: bool) -> tuple[float, ...]:
    """Where notches sit along a side: at k/n from the start of a closed one (the start itself
    included), at k/(n+1) along an open one."""
    if closed:
        return tuple(k / count for k in range(count))
    return tuple(k / (count + 1) for k in range(1, count + 1))


def notches_of(
    seam: Seam,
    count: int,
    flats: Mapping[str, Flat],
    reach: Mapping[tuple[str, str], float],
) -> list[tuple[str, Notch]]:
    """Every notch of a seam with the piece it is on.

    ``reach`` gives the widest allowance of each (piece, edge) in mm. The start of a round seam
    (centre back) gets two strokes; on an edge that only closes when its own seam is sewn it falls
    on the corners of the piece and is not marked. Sides that meet run opposite ways, so notches are
    numbered from the nearer end: twins have the same number whichever way their side runs.
    """
    if not count:
        return []
    return [
        placed
        for side in seam.sides
        for placed in _side_notches(
            seam, side, [flats[name.piece].edges[name.edge] for name in side], count, reach
        )
    ]


def _side_notches(
    seam: Seam,
    names: Sequence[EdgeName],
    edges: Sequence[Edge],
    count: int,
    reach: Mapping[tuple[str, str], float],
) -> list[tuple[str, Notch]]:
    lengths = [edge.path.length() for edge in edges]
    count_of = count if seam.round else count + 1
    found: list[tuple[str, Notch]] = []
    start = 0.0
    for name, edge, length in zip(names, edges, lengths, strict=True):
        # Distances along this edge; at its ends only where the edge itself is closed.
        least = 0.0 if edge.path.closed else 1e-6
        here = [
            (share, along)
            for share in notch_shares(count, seam.round)
            if least <= (along := share * math.fsum(lengths) - start) < length
        ]
        places = edge.path.places(along for _, along in here)
        for (share, _), (at, way) in zip(here, places, strict=True):
            notch = Notch(
                edge=edge.name,
                seam=seam.name,
                number=round(min(share, 1 - share) * count_of),
                at=at,
                out=way * -1j,
                strokes=2 if share == 0.0 else 1,
                reach=max(reach[name.piece, edge.name], 0.0),
            )
            found.append((name.piece, notch))
        start += length
    return found
