"""A seam as its pieces lie for it: the cloths on each other, and the run of the needle.

Where they can lie flat on each other they do, with their allowances wider than they are so that
they can be seen. Where they can't, because an edge that is sewn goes all round and its piece is a
ring or a tube by then, or because the edges are curved differently, the seam is laid straight, as
a strip of every cloth along it (``straight.py``).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise

from notchbook.composing.figures.layered import Layer, edges_in
from notchbook.composing.figures.stack import Sheet, fold, lay
from notchbook.composing.figures.track import (
    FINE,
    Part,
    Placing,
    Points,
    Track,
    apart,
    distinct,
    matched,
    parts_of,
    tracked,
)
from notchbook.drafting.allowance import cut_loops
from notchbook.drafting.draft import Opening, Piece, Seam
from notchbook.drafting.geometry.box import bounds
from notchbook.drafting.geometry.polygon import box_round
from notchbook.drafting.geometry.vector import Point, flip
from notchbook.drafting.outline import AllowanceError
from notchbook.drafting.sides import Meeting

LEAST = 2.6
"""No allowance is drawn narrower, mm on the page."""

_APART = 0.006
"""How far edges that lie on each other may be apart, as a share of their seam."""

Pleats = tuple[int, float]
"""How many pleats a layer has, and how deep each lies, as a share of its seam."""


@dataclass(frozen=True, slots=True)
class Ply:
    """A cloth as it lies on the page. ``edges`` are its stitching lines by name, in their own
    direction, of those that are on this half of a folded one; ``sewn`` those sewn before,
    ``lines`` what is drawn inside it, by name. ``mirrored``: it is seen so."""

    layer: Layer
    loops: tuple[Points, ...]
    edges: Mapping[str, Points] = field(default_factory=dict)
    sewn: tuple[Points, ...] = ()
    mirrored: bool = False
    lines: Mapping[str, Points] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Laid:
    """Plies from the lowest up, the seam's track, its shares that are sewn and that are left open
    (from, to), its marks, and creases that are folded. ``straight``: it is laid straight;
    ``halves``: its second run goes against the track. ``folds`` are the folds of pleats that are
    seen on the uppermost cloth: each ends what it is the edge of, which lies left of it."""

    plies: tuple[Ply, ...]
    track: Track
    runs: tuple[Points, ...]
    gaps: tuple[Points, ...]
    marks: tuple[tuple[float, Meeting], ...]
    creases: tuple[Points, ...] = ()
    straight: bool = False
    halves: bool = False
    folds: tuple[Points, ...] = ()

    def inward(self, number: int) -> float:
        """On which side of the way along a run (counted from 0) the cloth lies: see Track."""
        return -self.track.inward if self.halves and number == 1 else self.track.inward

    def in_halves(self) -> Laid:
        """The same sewn from both ends to the middle, where it is sewn whole."""
        first, second = self.track.between(0.0, 0.5), self.track.between(0.5, 1.0)
        return replace(self, runs=(first, second[::-1]), halves=True)

    def scaled(self, factor: float) -> Laid:
        """The same smaller or larger."""

        def sized(points: Points) -> Points:
            return tuple(p * factor for p in points)

        def each(runs: tuple[Points, ...]) -> tuple[Points, ...]:
            return tuple(map(sized, runs))

        return replace(
            self,
            plies=tuple(
                replace(
                    ply,
                    loops=each(ply.loops),
                    edges={name: sized(edge) for name, edge in ply.edges.items()},
                    sewn=each(ply.sewn),
                    lines={name: sized(line) for name, line in ply.lines.items()},
                )
                for ply in self.plies
            ),
            track=replace(self.track, points=sized(self.track.points)),
            runs=each(self.runs),
            gaps=each(self.gaps),
            creases=each(self.creases),
            folds=each(self.folds),
        )

    def turned(self) -> Laid:
        """The same sewn the other way."""
        return replace(
            self,
            track=self.track.turned(),
            runs=tuple(run[::-1] for run in reversed(self.runs)),
            gaps=tuple(gap[::-1] for gap in self.gaps),
            marks=tuple((1 - share, mark) for share, mark in self.marks),
        )


def flat(
    layers: Sequence[Layer],
    seam: Seam,
    opening: Opening | None,
    before: Sequence[Seam],
    marks: Sequence[Meeting],
    room: complex,
    bare: bool = False,
) -> Laid | None:
    """Two cloths, or one folded on itself, as they lie flat in a room on the page (mm); None where
    they can't. ``bare``: without the allowances of the seam."""
    if not _lies_flat(layers, seam, before):
        return None
    halved = len(layers) == 1
    boxes = [bounds(layer.piece.cut_line(layer.cloth).loops) for layer in layers]
    widest = max(box.width for box in boxes) / (2 if halved else 1)
    factor = min(room.real / widest, room.imag / max(box.height for box in boxes), 1.0)
    wide = [
        replace(layer, piece=_widened(layer, factor, seam if bare else None)) for layer in layers
    ]
    sheets = fold(wide[0], seam) if halved else lay(wide, [seam])
    span = box_round([p for sheet in sheets for loop in sheet.loops for p in loop])
    factor = min(room.real / span.width, room.imag / span.height, 1.0)
    places = [_placing(sheet, factor) for sheet in sheets]
    tracks = [
        tracked(sheet.layer, seam, place, halved)
        for sheet, place in zip(sheets, places, strict=True)
    ]
    found = matched([track for track in tracks if track])
    if len(found) < len(sheets) or apart(found) > _APART * seam.lengths[0] * factor + 0.4:
        return None
    track = found[-1]
    plies = tuple(
        _ply(sheet, before, place, factor, halved)
        for sheet, place in zip(sheets, places, strict=True)
    )
    creases = _crease(plies[-1]) if halved else ()
    sewn, left = parts_of(seam, opening)
    runs = [_joined(track, parts) for parts in sewn]
    gaps = [_joined(track, parts) for parts in left]
    told = tuple((mark.share, mark) for mark in marks)
    return Laid(plies, track, tuple(runs), tuple(gaps), told, creases)


def _lies_flat(layers: Sequence[Layer], seam: Seam, before: Sequence[Seam]) -> bool:
    """Whether there are two cloths, or one with both sides of its seam on it, neither of them a
    tube or a cone by now."""
    if len(seam.sides) != 2 or len(layers) > 2:
        return False
    if len(layers) == 1 and any(len(side) != 1 for side in seam.sides):
        return False
    for layer in layers:
        path_ends = [layer.piece.flat.edges[name] for name in edges_in(seam, layer)]
        if any(edge.round and not edge.path.closed for edge in path_ends):
            return False
        form = layer.piece.form
        closing = form.seam if form else None
        for other in before:
            if closing and set(closing) <= set(edges_in(other, replace(layer, copy=None))):
                return False
    return True


def _widened(layer: Layer, factor: float, bare: Seam | None) -> Piece:
    """A layer's piece with allowances that are seen at a scale, as far as there is room for them;
    with none along a ``bare`` seam."""
    none = edges_in(bare, layer) if bare else ()
    piece, line = layer.piece, layer.piece.cut_line(layer.cloth)
    for least in (LEAST, LEAST / 2, LEAST / 4):
        wide = {
            edge: 0.0 if edge in none else max(mm, least / factor) if mm > 0.05 else mm
            for edge, mm in line.allowance.items()
        }
        try:
            loops = cut_loops(piece.flat, wide)
        except AllowanceError:
            continue
        return replace(piece, cut_lines=(replace(line, loops=loops),))
    return piece


def _placing(sheet: Sheet, factor: float) -> tuple[Placing, bool]:
    """Where points of a sheet's piece lie on the page, and whether they are seen mirrored."""

    def place(point: Point) -> Point:
        if sheet.mirrored:
            point = flip(point)
        there = point * sheet.turn + sheet.shift
        return (flip(there) if sheet.hinged else there) * factor

    return place, sheet.mirrored or sheet.hinged


def _ply(
    sheet: Sheet,
    before: Sequence[Seam],
    placing: tuple[Placing, bool],
    factor: float,
    halved: bool,
) -> Ply:
    place, mirrored = placing
    edges = {
        name: distinct(place(p) for p in edge.path.points(FINE))
        for name, edge in sheet.layer.piece.flat.edges.items()
    }
    lines = {
        line.name: distinct(place(p) for p in line.path.points(FINE))
        for line in sheet.layer.piece.lines
        if line.path
    }
    if halved:
        edges = {name: _right_half(points) for name, points in edges.items()}
        lines = {name: _right_half(points) for name, points in lines.items()}
    whole = replace(sheet.layer, copy=None)
    names = [name for seam in before for name in edges_in(seam, whole)]
    sewn = tuple(edges[name] for name in dict.fromkeys(names) if len(edges[name]) > 1)
    loops = tuple(tuple(p * factor for p in loop) for loop in sheet.loops)
    return Ply(sheet.layer, loops, edges, sewn, mirrored, lines)


def _right_half(points: Points) -> Points:
    """What of a line lies on this side of the fold, at x ≥ 0."""
    kept: list[Point] = []
    for a, b in pairwise(points):
        if a.real >= 0:
            kept.append(a)
        if (a.real < 0) != (b.real < 0):
            kept.append(a + (b - a) * a.real / (a.real - b.real))
    if points[-1].real >= 0:
        kept.append(points[-1])
    return distinct(kept)


def _crease(ply: Ply) -> tuple[Points, ...]:
    """The fold of a piece folded on itself, which is at x = 0."""
    heights = [p.imag for p in ply.loops[0] if abs(p.real) < 0.01]
    return ((complex(0, min(heights)), complex(0, max(heights))),) if heights else ()


def _joined(track: Track, parts: Sequence[Part]) -> Points:
    found: list[Point] = []
    for low, high in parts:
        found += track.between(low, high)
    return distinct(found)
