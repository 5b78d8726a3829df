"""Cloths laid on one another, and one cloth folded on itself: where every layer comes to lie.

A layer that lies wrong side up is seen mirrored. Layers that a seam joins are laid so that a place
of the seam is one on both, the middle of the longest stretch that their edges share, and that their
cloth lies the same way there. Without a seam, the middles of edges of one name meet so, and pieces
that have none in common lie middle on middle.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from itertools import accumulate, pairwise

from notchbook.composing.figures.layered import Layer, edges_in, meeting, paired, shares
from notchbook.drafting.draft import Seam
from notchbook.drafting.geometry.path import Point, dot, flip, unit
from notchbook.drafting.geometry.polygon import box_round, cut_off
from notchbook.drafting.shape import Edge

_FINE = 0.2
"""How far a curve drawn as points may miss the true one, mm of the piece."""

Points = tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class Gap:
    """A stretch of a seam left open: ``length`` mm about ``share`` of a piece's edge, counted from
    the edge's own start, which is ``along`` of the seam."""

    seam: str
    piece: str
    edge: str
    share: float
    along: float
    length: float

    def share_on(self, seam: Seam, layer: Layer, edge: str) -> float | None:
        """Where it lies on an edge of a layer, as a share of that; None where it lies on another.
        All layers of one piece are open in one place."""
        found = list(shares(seam, layer))
        if layer.piece.name == self.piece and self.edge in edges_in(seam, layer):
            if edge == self.edge:
                return self.share
            if len({share.opposite for share in found}) == 1:
                return None
        for share in found:
            if share.stretch.name.edge == edge and share.low <= self.along <= share.high:
                own, distance = share.spot(self.along)
                return distance / own.length()
        return None


@dataclass(frozen=True, slots=True)
class Sheet:
    """A layer as points, in mm of the piece and where it comes to lie: what is cut, what of each
    seam is stitched and what is left open. Its points p, some ``mirrored``, went to
    ``p * turn + shift``. A ``hinged`` one rises from its fold at x = 0."""

    layer: Layer
    loops: tuple[Points, ...]
    sewn: tuple[tuple[str, Points], ...]
    gaps: tuple[Points, ...]
    turn: complex = 1
    shift: Point = 0
    mirrored: bool = False
    hinged: bool = False


def lay(layers: Sequence[Layer], seams: Sequence[Seam], gap: Gap | None) -> tuple[Sheet, ...]:
    """Layers on one another, the first one lowest."""
    turned: dict[str, bool] = {}
    for layer in layers:
        turned.setdefault(layer.piece.name, _wrong(layer))
    flat = [
        _flat(layer, seams, gap, turned[layer.piece.name] if paired(layer) else _wrong(layer))
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


def fold(layer: Layer, seam: Seam, gap: Gap | None) -> tuple[Sheet, Sheet]:
    """One piece folded so that two of its edges meet, the fold along x = 0 and the seam at x > 0.
    ``layer`` is the lower half; the upper one shows its other side."""
    whole = _flat(layer, (seam,), gap, mirrored=False)
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
    top = {"right": "wrong", "wrong": "right", "": ""}[layer.side]
    return replace(lower, layer=layer), replace(upper, layer=replace(layer, side=top), hinged=True)


def _wrong(layer: Layer) -> bool:
    return layer.side == "wrong"


def _flat(layer: Layer, seams: Sequence[Seam], gap: Gap | None, mirrored: bool) -> Sheet:
    sewn: list[tuple[str, Points]] = []
    gaps: list[Points] = []
    for seam in seams:
        for edge in edges_in(seam, layer):
            points = tuple(layer.piece.flat.edges[edge].path.points(_FINE))
            share = gap.share_on(seam, layer, edge) if gap and gap.seam == seam.name else None
            if gap and share is not None:
                runs, opened = _parted(points, share, gap.length)
                sewn += [(seam.name, run) for run in runs]
                gaps.append(opened)
            else:
                sewn.append((seam.name, points))
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
        gaps=tuple(each(run) for run in sheet.gaps),
    )


def _place(sheet: Sheet, edge: Edge, distance: float) -> tuple[Point, complex]:
    """A place of a layer, ``distance`` mm along an edge, and the direction into its cloth there."""
    ((at, way),) = edge.places([distance])
    inward = way * 1j
    if sheet.mirrored:
        at, inward = flip(at), flip(inward)
    return at * sheet.turn + sheet.shift, inward * sheet.turn


def _parted(points: Points, share: float, length: float) -> tuple[list[Points], Points]:
    """Points along an edge as the runs beside a gap about a share of it, and the gap."""
    steps = [abs(b - a) for a, b in pairwise(points)]
    ends = [0.0, *accumulate(steps)]
    total = ends[-1]
    start, end = share * total - length / 2, share * total + length / 2

    def run(low: float, high: float) -> Points:
        """From one distance to another; distances wrap round a closed edge."""
        inner = [
            (at + turn, point)
            for turn in (-total, 0.0, total)
            for at, point in zip(ends[:-1], points[:-1], strict=True)
            if low < at + turn < high
        ]
        inner.sort(key=lambda pair: pair[0])
        return (_at(low), *(point for _, point in inner), _at(high))

    def _at(distance: float) -> Point:
        distance %= total
        index = next(k for k in range(len(steps)) if distance <= ends[k + 1])
        part = (distance - ends[index]) / steps[index]
        return points[index] + (points[index + 1] - points[index]) * part

    if abs(points[0] - points[-1]) < 1e-6:
        return [run(end, start + total)], run(start, end)
    start, end = max(start, 1e-6), min(end, total - 1e-6)
    return [run(1e-6, start), run(end, total - 1e-6)], run(start, end)


def _half(sheet: Sheet) -> Sheet:
    """What lies at x ≥ 0."""
    return replace(
        sheet,
        loops=tuple(half for loop in sheet.loops if len(half := _clipped(loop)) > 2),
        sewn=tuple((seam, run) for seam, run in sheet.sewn if _mostly(run)),
        gaps=tuple(run for run in sheet.gaps if _mostly(run)),
    )


def _mostly(run: Points) -> bool:
    return math.fsum(point.real for point in run) > 0


def _clipped(loop: Points) -> Points:
    """A closed loop's part at x ≥ 0."""
    kept = cut_off(loop, lambda point: point.real)
    # A point on the fold itself is found twice.
    return tuple(b for a, b in pairwise((*kept[-1:], *kept)) if abs(b - a) > 1e-6)
