"""How much cloth our lays take beside those of spyrrow, a strip packer that is given far longer.

Both get the same shapes, turns and gaps. It knows no holes, so nothing lies in a ring for it, and
no fold that a piece has to touch, so there it may put halves where it likes, each one way up only;
but no credit is given it for less than the halves take one after the other along the fold.
Where ours is as short as its longest piece, nobody can do with less, and it isn't asked.

By itself, ``python -m tests.benchmarks.lays [SECONDS [SEEDS]]`` prints every lay.
"""

from __future__ import annotations

import cmath
import math
import sys
import time
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import NamedTuple
from unittest import mock

import spyrrow
from shapely.geometry import Polygon

from notchbook.drafting.draft import Draft
from notchbook.drafting.engine import draft
from notchbook.drafting.packing import cloth
from notchbook.drafting.packing.strip import EDGE, GAP, Part, Spot, Way, pack
from notchbook.pressing.size import usual_size
from notchbook.reading.choosing import published
from notchbook.reading.recipe import Recipe
from tests.collection import recipes

SECONDS, SEEDS = 60, 3
_CELL = 3.0
"""Ours counts in cells: it can't be told from the least there is when this near, mm."""


class Strip(NamedTuple):
    """One packing: what of, onto what width, and how long ours is and took (mm, s of CPU)."""

    name: str
    kind: str
    parts: tuple[Part, ...]
    width: float
    length: float
    seconds: float


class Compared(NamedTuple):
    """All strips of a kind: how many, how many of them are as short as can be, lengths in sum of
    ours and theirs, mm, the worst single ratio, and the longest ours took, s."""

    kind: str
    strips: int
    least: int
    ours: float
    theirs: float
    worst: float
    slowest: float


def strips(collection: Sequence[Recipe]) -> Iterator[Strip]:
    """Every different strip with something to arrange, of every set of choices in the usual size:
    the cloths as recipes have them, and then the same folded."""
    seen: set[tuple[object, ...]] = set()
    for recipe in collection:
        for settled in published(recipe):
            made = draft(settled, settled.sizes[0])
            made = draft(settled, usual_size(settled, made))
            for fold in (False, True):
                for strip in _strips(made, fold):
                    key = strip.kind == "folded", strip.width, *map(_told, strip.parts)
                    if key not in seen and sum(part.count for part in strip.parts) > 1:
                        seen.add(key)
                        yield strip


def _strips(made: Draft, fold: bool) -> Iterator[Strip]:
    found: list[Strip] = []
    name = made.recipe.home

    def recorded(parts: Sequence[Part], width: float) -> tuple[Spot, ...]:
        began = time.process_time()
        spots = pack(parts, width)
        seconds = time.process_time() - began
        end = max(
            point.imag + spot.shift.imag
            for spot in spots
            for loop in parts[spot.part].ways[spot.way].polygons
            for point in loop
        )
        bias = any(len(part.ways) > 2 for part in parts)
        kind = "folded" if fold else "bias" if bias else "single"
        found.append(Strip(name, kind, tuple(parts), width, end + EDGE, seconds))
        return spots

    rules = {n: replace(rule, folded=fold) for n, rule in made.recipe.cloths.items()}
    with mock.patch.object(cloth, "pack", recorded):
        cloth.lays_of(replace(made, recipe=replace(made.recipe, cloths=rules)))
    yield from found


def _told(part: Part) -> tuple[object, ...]:
    return part.count, *(
        (round(p.real, 1), round(p.imag, 1)) for way in part.ways for p in way.polygons[0]
    )


def least(strip: Strip) -> float:
    """What no packer can do with less than, mm: the longest piece."""
    longest = max(min(map(_high, part.ways)) for part in strip.parts)
    return max(longest, _along_fold(strip)) + 2 * EDGE


def _along_fold(strip: Strip) -> float:
    """What the halves take on the fold, none of them in the hole of another."""
    taken = [
        part.count * (min(map(_high, part.ways)) + GAP)
        for part in strip.parts
        if part.ways[0].anchored
    ]
    return sum(taken) - GAP if taken else 0.0


def _high(way: Way) -> float:
    """How long a shape is; of one on the fold, how much of that it takes."""
    points = [point for loop in way.polygons for point in loop]
    ys = [p.imag for p in points if p.real <= EDGE + 0.01 or not way.anchored]
    return max(ys) - min(ys)


def theirs(strip: Strip, seconds: int, seeds: int) -> float:
    """The shortest that spyrrow finds, mm, on one thread with every seed for so long."""
    # Its strip is as high as ours is wide, and grows to the right. It keeps shapes as far from the
    # edges as from each other, and what fits exactly is half a millimetre too large for it.
    margin = 2 * (GAP - EDGE)
    items = [
        spyrrow.Item(
            str(number),
            _simple(part.ways[0]),
            part.count,
            _turns(part),
        )
        for number, part in enumerate(strip.parts)
    ]
    instance = spyrrow.StripPackingInstance(strip.name, strip.width + margin + 0.5, items)
    found = min(
        instance.solve(
            spyrrow.StripPackingConfig(
                min_items_separation=GAP, total_computation_time=seconds, num_workers=1, seed=seed
            )
        ).width
        for seed in range(1, seeds + 1)
    )
    return max(float(found) - margin, _along_fold(strip) + 2 * EDGE)


def _simple(way: Way) -> list[tuple[float, float]]:
    """The outline that it takes: what is closed up where a half has been cut straight, left out."""
    found = Polygon([(p.imag, p.real) for p in way.polygons[0]]).buffer(0)
    whole = max(getattr(found, "geoms", [found]), key=lambda each: each.area)
    return list(whole.exterior.coords)[:-1]


def _turns(part: Part) -> list[float]:
    """The turns a part may take from its first way, degrees."""
    if any(way.anchored for way in part.ways):
        return [0.0]
    (a, b), *others = (way.polygons[0][:2] for way in part.ways)
    return [0.0, *(math.degrees(cmath.phase((d - c) / (b - a))) for c, d in others)]


def compare(collection: Sequence[Recipe], seconds: int = SECONDS, seeds: int = SEEDS,
            *, tell: bool = False) -> list[Compared]:  # fmt: skip
    """All strips of all recipes, by kind."""
    rows: dict[str, list[tuple[Strip, float]]] = {}
    for strip in strips(collection):
        floor = least(strip)
        short = strip.length <= floor + _CELL
        best = floor if short else theirs(strip, seconds, seeds)
        rows.setdefault(strip.kind, []).append((strip, best))
        if tell:
            count = sum(part.count for part in strip.parts)
            print(
                f"{strip.kind:7} {strip.name:28} {strip.width:5.0f} {count:3} pieces"
                f"{strip.length:8.1f} {best:8.1f} {strip.length / best:6.3f}"
                f" {strip.seconds:5.2f} s{'  least' if short else ''}",
                flush=True,
            )
    return [
        Compared(
            kind,
            len(found),
            sum(strip.length <= least(strip) + _CELL for strip, _ in found),
            sum(strip.length for strip, _ in found),
            sum(best for _, best in found),
            max(strip.length / best for strip, best in found),
            max(strip.seconds for strip, _ in found),
        )
        for kind, found in sorted(rows.items())
    ]


if __name__ == "__main__":
    for row in compare(recipes(), *map(int, sys.argv[1:]), tell=True):
        print(row)
