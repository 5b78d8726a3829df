"""The line of a seam on the page, followed from its start, on each of the pieces it joins."""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from notchbook.composing.figures.layered import Layer, edges_in
from notchbook.drafting.draft import Opening, Seam
from notchbook.drafting.geometry.vector import Point, unit

Points = tuple[Point, ...]

Placing = Callable[[Point], Point]
"""Where a point of a piece lies on the page."""

FINE = 0.3
"""How far lines drawn as points may miss the true ones, mm of the piece."""


@dataclass(frozen=True, slots=True)
class Track:
    """The line of a seam on the page by shares of its first side, from 0 to 1: ``inward`` is 1
    where the cloth lies to the right of the way along it, −1 where to the left."""

    shares: tuple[float, ...]
    points: Points
    inward: float

    def turned(self) -> Track:
        """The same from its end."""
        shares = tuple(1 - share for share in reversed(self.shares))
        return Track(shares, self.points[::-1], -self.inward)

    def between(self, low: float, high: float) -> Points:
        """Its points from one share to another."""
        inner = [
            p for s, p in zip(self.shares, self.points, strict=True) if low + 1e-9 < s < high - 1e-9
        ]
        return (self.at(low)[0], *inner, self.at(high)[0])

    def at(self, share: float) -> tuple[Point, complex]:
        """A point of it, and the way along it there."""
        k = min(max(bisect_left(self.shares, share), 1), len(self.shares) - 1)
        a, b = self.points[k - 1], self.points[k]
        span = self.shares[k] - self.shares[k - 1]
        part = (share - self.shares[k - 1]) / span if span > 1e-12 else 0.0
        while abs(b - a) < 1e-9 and k < len(self.points) - 1:
            k += 1
            b = self.points[k]
        return a + (b - a) * part, unit(b - a)


def tracked(
    layer: Layer, seam: Seam, placing: tuple[Placing, bool], halved: bool
) -> tuple[int, Track] | None:
    """The track on the side of a seam that a layer is, with that side's number; of a folded one, on
    whichever side comes to lie on this half."""
    place, mirrored = placing
    own = edges_in(seam, layer)
    for number, side in enumerate(seam.laid):
        if not all(s.name.piece == layer.piece.name and s.name.edge in own for s in side):
            continue
        runs = [stretch.edge.path.points(FINE) for stretch in side]
        backwards = _end_to_end(runs, [stretch.backwards for stretch in side])
        shares: list[float] = []
        points: list[Point] = []
        whole = seam.lengths[number]
        for stretch, run, back in zip(side, runs, backwards, strict=True):
            steps = [0.0]
            way = run[::-1] if back else run
            for a, b in pairwise(way):
                steps.append(steps[-1] + abs(b - a))
            low, part = stretch.begin / whole, stretch.length / whole
            shares += [low + part * step / steps[-1] for step in steps]
            points += [place(point) for point in way]
        if halved and math.fsum(p.real for p in points) < 0:
            continue
        sign = (-1.0 if backwards[0] else 1.0) * (-1.0 if mirrored else 1.0)
        track = Track(tuple(shares), tuple(points), sign)
        return number, track.turned() if number else track
    return None


def _end_to_end(runs: Sequence[Sequence[Point]], told: Sequence[bool]) -> list[bool]:
    """Which edges of a side are passed backwards: as told, or else so that each begins where the
    one before it ends, if they are of one piece."""

    def ends(k: int, back: bool) -> tuple[Point, Point]:
        run = runs[k]
        return (run[-1], run[0]) if back else (run[0], run[-1])

    def gaps(ways: Sequence[bool]) -> float:
        return math.fsum(
            abs(ends(k, a)[1] - ends(k + 1, b)[0]) for k, (a, b) in enumerate(pairwise(ways))
        )

    choices = [list(told), [True] * len(told), [False] * len(told)]
    return min(choices, key=lambda ways: round(gaps(ways), 2))


def matched(tracks: Sequence[tuple[int, Track]]) -> list[Track]:
    """The tracks of a seam's sides, each run the way of the lowest numbered one, which is told."""
    if not tracks:
        return []
    first = min(tracks, key=lambda pair: pair[0])[1]
    return [
        min((track, track.turned()), key=lambda each: round(apart([first, each]), 3))
        for _, track in tracks
    ]


def apart(tracks: Sequence[Track]) -> float:
    """How far apart tracks that should be one are, mm on the page."""
    shares = [k / 12 for k in range(13)]
    return max(
        (abs(a.at(s)[0] - b.at(s)[0]) for a, b in pairwise(tracks) for s in shares), default=0.0
    )


def distinct(points: Iterable[Point]) -> Points:
    """Points without those that lie on the one before."""
    kept: list[Point] = []
    for point in points:
        if not kept or abs(point - kept[-1]) > 1e-6:
            kept.append(point)
    return tuple(kept)


Part = tuple[float, float]


def parts_of(seam: Seam, opening: Opening | None) -> tuple[list[list[Part]], list[list[Part]]]:
    """What is sewn and what is left of a seam, each run as shares one after the other."""
    if opening is None:
        return [[(0.0, 1.0)]], []
    low, high = opening.start / seam.lengths[0], opening.end / seam.lengths[0]
    if not seam.round:
        sewn = [[part] for part in ((0.0, low), (high, 1.0)) if part[1] - part[0] > 1e-6]
        return sewn, [[(low, high)]]
    if low > high:
        return [[(high, low)]], [[(low, 1.0), (0.0, high)]]
    return [[(high, 1.0), (0.0, low)]], [[(low, high)]]
