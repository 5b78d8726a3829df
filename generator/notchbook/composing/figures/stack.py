"""Cloths laid on one another, and one cloth folded on itself: where every layer comes to lie.

A layer that lies wrong side up is seen mirrored. Layers that a seam joins are laid so that a place
of the seam is one on both, the middle of the longest stretch that their edges share, and that their
cloth lies the same way there. Without a seam, the middles of edges of one name meet so, and pieces
that have none in common lie middle on middle.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import accumulate, pairwise
from types import MappingProxyType

from notchbook.composing.figures.layered import OTHER, Layer, edges_in, meeting, paired, shares
from notchbook.drafting.draft import Opening, Seam
from notchbook.drafting.geometry.polygon import box_round, cut_off
from notchbook.drafting.geometry.vector import TOUCH, Point, dot, flip, unit
from notchbook.drafting.shape import Edge

_FINE = 0.2
"""How far a curve drawn as points may miss the true one, mm of the piece."""

Points = tuple[Point, ...]
Stretch = tuple[float, float]
"""Of an edge, from one share of it to another."""

NONE: Mapping[str, Opening] = MappingProxyType({})


@dataclass(frozen=True, slots=True)
class Sheet:
    """A layer as points, in mm of the piece and where it comes to lie: what is cut, what of each
    seam is stitched and what is left open. Its points p, some ``mirrored``, went to
    ``p * turn + shift``. A ``hinged`` one rises from its fold at x = 0."""

    layer: Layer
    loops: tuple[Points, ...]
    sewn: tuple[tuple[str, Points], ...]
    gaps: tuple[tuple[str, Points], ...]
    turn: complex = 1
    shift: Point = 0
    mirrored: bool = False
    hinged: bool = False


def lay(
    layers: Sequence[Layer], seams: Sequence[Seam], openings: Mapping[str, Opening] = NONE
) -> tuple[Sheet, ...]:
    """Layers on one another, the first one lowest; ``openings`` are the seams', by name."""
    turned: dict[str, bool] = {}
    for layer in layers:
        turned.setdefault(layer.piece.name, _wrong(layer))
    flat = [
        _flat(layer, seams, openings, turned[layer.piece.name] if paired(layer) else _wrong(layer))
        for layer in layers
    ]
    laid = [flat[0]]
    for layer, sheet in zip(layers[1:], flat[1:], strict=True):
        shift, turn = 0j, 1 + 0j
        found = meeting(layer, layers[: len(laid)], seams)
        if found:
            below, there, here = found
            at, inward = _place(laid[below], *there)
            own, way = _place(sheet, *here)
            turn = inward / way
            shift = at - own * turn
        else:
            shift = box_round(laid[0].loops[0]).centre - box_round(sheet.loops[0]).centre
        laid.append(_moved(sheet, turn, shift))
    return tuple(laid)


def fold(layer: Layer, seam: Seam, openings: Mapping[str, Opening] = NONE) -> tuple[Sheet, Sheet]:
    """One piece folded so that two of its edges meet, the fold along x = 0 and the seam at x > 0.
    ``layer`` is the lower half; the upper one shows its other side."""
    whole = _flat(layer, (seam,), openings, mirrored=False)
    first, second = (layer.piece.flat.edges[side[0].edge].path for side in seam.sides[:2])
    head, foot = (first.start + second.end) / 2, (first.end + second.start) / 2
    if abs(foot - head) < 1:
        box = box_round(whole.loops[0])
        head, foot = complex(box.centre.real, box.low.imag), complex(box.centre.real, box.high.imag)
    # The fold runs down the page.
    turn = 1j / unit(foot - head) if dot(foot - head, 1j) >= 0 else 1j / unit(head - foot)
    placed = _moved(whole, turn, -head * turn)
    lower = _half(placed)
    upper = _half(_mirrored(placed))
    top = OTHER[layer.side]
    return replace(lower, layer=layer), replace(upper, layer=replace(layer, side=top), hinged=True)


def _wrong(layer: Layer) -> bool:
    return layer.side == "wrong"


def _flat(
    layer: Layer, seams: Sequence[Seam], openings: Mapping[str, Opening], mirrored: bool
) -> Sheet:
    sewn: list[tuple[str, Points]] = []
    gaps: list[tuple[str, Points]] = []
    for seam in seams:
        for edge in edges_in(seam, layer):
            points = tuple(layer.piece.flat.edges[edge].path.points(_FINE))
            opening = openings.get(seam.name)
            opened = list(_open(opening, seam, layer, edge)) if opening else []
            runs, left = _parted(points, opened) if opened else ([points], [])
            sewn += [(seam.name, run) for run in runs]
            gaps += [(seam.name, run) for run in left]
    loops = tuple(tuple(loop.points(_FINE)) for loop in layer.piece.cut_line(layer.cloth).loops)
    sheet = Sheet(layer, loops, tuple(sewn), tuple(gaps))
    return replace(_mirrored(sheet), mirrored=True) if mirrored else sheet


def _mirrored(sheet: Sheet) -> Sheet:
    return changed(sheet, flip)


def _moved(sheet: Sheet, turn: complex, shift: Point) -> Sheet:
    there = changed(sheet, lambda point: point * turn + shift)
    return replace(there, turn=turn, shift=shift)


def changed(sheet: Sheet, change: Callable[[Point], Point]) -> Sheet:
    """The sheet with every point where ``change`` takes it."""

    def each(points: Points) -> Points:
        return tuple(change(point) for point in points)

    return replace(
        sheet,
        loops=tuple(each(loop) for loop in sheet.loops),
        sewn=tuple((seam, each(run)) for seam, run in sheet.sewn),
        gaps=tuple((seam, each(run)) for seam, run in sheet.gaps),
    )


def _place(sheet: Sheet, edge: Edge, distance: float) -> tuple[Point, complex]:
    """A place of a layer, ``distance`` mm along an edge, and the direction into its cloth there."""
    ((at, way),) = edge.places([distance])
    inward = way * 1j
    if sheet.mirrored:
        at, inward = flip(at), flip(inward)
    return at * sheet.turn + sheet.shift, inward * sheet.turn


def _open(opening: Opening, seam: Seam, layer: Layer, edge: str) -> Iterator[Stretch]:
    """What an opening takes of an edge, as shares of that."""
    whole = seam.lengths[0]
    start, end = opening.start / whole, opening.end / whole
    for share in shares(seam, layer):
        if share.stretch.name.edge != edge:
            continue
        for low, high in [(start, end)] if start < end else [(start, 1.0), (0.0, end)]:
            low, high = max(low, share.low), min(high, share.high)
            if high > low:
                ends = [at / own.length() for own, at in (share.spot(low), share.spot(high))]
                yield min(ends), max(ends)


def _parted(points: Points, opened: Iterable[Stretch]) -> tuple[list[Points], list[Points]]:
    """Points along an edge as the runs that are stitched and those that are open, which are told
    in shares of it."""
    ends = [0.0, *accumulate(abs(b - a) for a, b in pairwise(points))]
    total = ends[-1]
    cuts = [(low * total, high * total) for low, high in sorted(set(opened))]
    closed = abs(points[0] - points[-1]) < TOUCH
    if closed and len(cuts) > 1 and cuts[0][0] < TOUCH and cuts[-1][1] > total - TOUCH:
        # Open across the start of a closed edge: one run, round from the last to the first.
        cuts = [*cuts[1:-1], (cuts[-1][0], total + cuts[0][1])]

    def run(low: float, high: float) -> Points:
        """From one distance to another, which may be beyond the start of a closed edge."""
        inner = (
            point
            for turn in (0.0, total)
            for at, point in zip(ends[:-1], points[:-1], strict=True)
            if low + TOUCH < at + turn < high - TOUCH
        )
        return (spot(points, low), *inner, spot(points, high - total if high > total else high))

    begin = max(cuts[-1][1] - total, 0.0) if cuts else 0.0
    stops = [begin, *(stop for cut in cuts for stop in cut), total]
    between = zip(stops[::2], stops[1::2], strict=True)
    sewn = [run(low, high) for low, high in between if high > low + TOUCH]
    return sewn, [run(low, high) for low, high in cuts]


def spot(points: Points, distance: float) -> Point:
    """The place so far, mm, along a run of points."""
    ends = [0.0, *accumulate(abs(b - a) for a, b in pairwise(points))]
    index = next((k for k, end in enumerate(ends[1:]) if distance <= end), len(ends) - 2)
    part = (distance - ends[index]) / (ends[index + 1] - ends[index])
    return points[index] + (points[index + 1] - points[index]) * part


def _half(sheet: Sheet) -> Sheet:
    """What lies at x ≥ 0."""
    return replace(
        sheet,
        loops=tuple(half for loop in sheet.loops if len(half := _clipped(loop)) > 2),
        sewn=tuple((seam, run) for seam, run in sheet.sewn if _mostly(run)),
        gaps=tuple((seam, run) for seam, run in sheet.gaps if _mostly(run)),
    )


def _mostly(run: Points) -> bool:
    return math.fsum(point.real for point in run) > 0


def _clipped(loop: Points) -> Points:
    """A closed loop's part at x ≥ 0."""
    kept = cut_off(loop, lambda point: point.real)
    # A point on the fold itself is found twice.
    return tuple(b for a, b in pairwise((*kept[-1:], *kept)) if abs(b - a) > 1e-6)
