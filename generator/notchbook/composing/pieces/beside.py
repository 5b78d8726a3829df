"""The words of a piece that has no room for any inside: beside it, with a line that leads to it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from notchbook.composing.drawing import Item, Stroke
from notchbook.composing.lettering.placing import Tile, Wall, nearest_on
from notchbook.composing.lettering.room import Room
from notchbook.composing.pieces.text import Label, blocks
from notchbook.composing.setting import Setting
from notchbook.drafting.draft import Draft, Piece
from notchbook.drafting.geometry.path import polyline
from notchbook.drafting.geometry.vector import Point

_FIRST = 4
"""The first of ever smaller sizes of words that is small enough to stand beside a piece."""

_ROUND = 5.0
"""Kept free round them, mm: notches reach out of the pieces next to it."""

_NEAR = 15.0
"""The leader of the largest words is no longer, mm, if smaller ones can stand nearer."""

_SPOTS = 400
"""Looked at, where there is more than one place."""


class _Place(NamedTuple):
    """Words, where they stand, and their leader from there to the piece."""

    words: Label
    tile: Tile
    foot: Point
    end: Point

    @property
    def leader(self) -> float:
        """Length of the leader, mm."""
        return abs(self.end - self.foot)


def words_beside(
    piece: Piece,
    draft: Draft,
    setting: Setting,
    cuts: Sequence[Wall],
    right: float,
    around: Room | None,
) -> tuple[Item, ...]:
    """To the right of everything drawn of a piece, which ends at ``right``; or, where it is known
    what room there is ``around`` it, wherever in that they are nearest."""
    forms = list(blocks(piece, draft, setting))[_FIRST:]
    first = forms[0][0]
    width = first.width(setting)
    edge = max((p for wall in cuts for p in wall), key=lambda p: (p.real, p.imag))
    tile = Tile(complex(right + 8 + width / 2, edge.imag), width, first.height)
    place = _Place(first, tile, complex(right + 6.5, edge.imag), edge)
    if around:
        all_forms = [form for size in forms for form in size]
        found = [*_placed(all_forms, tile.centre, cuts, around, setting)]
        near = (each for each in found if each.leader <= _NEAR)
        place = next(near, min(found, key=lambda each: each.leader, default=place))
    leader = Stroke((polyline(place.foot, place.end),), "leader")
    return leader, *place.words.items(place.tile, setting)


def _placed(
    forms: Sequence[Label],
    target: Point,
    cuts: Sequence[Wall],
    around: Room,
    setting: Setting,
) -> Iterator[_Place]:
    """Every form that has a place, in the one with the shortest leader."""
    ends = [start + (end - start) * k / 8 for start, end in cuts for k in range(8)]
    for form in forms:
        spots = around.spots(form.width(setting), form.height, _ROUND).nearby(target, _SPOTS)
        places = [_led(form, tile, ends) for tile in spots]
        if places:
            yield min(places, key=lambda place: place.leader)


def _led(words: Label, tile: Tile, ends: Sequence[Point]) -> _Place:
    end = min(ends, key=lambda point: abs(point - tile.centre))
    return _Place(words, tile, nearest_on(tile.grown(1.5), end), end)
