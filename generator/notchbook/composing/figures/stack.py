"""Cloths laid on one another, and one cloth folded on itself: where every layer comes to lie.

A layer that lies wrong side up is seen mirrored. Layers that a seam joins are laid so that the
middles of its edges meet and their cloth lies the same way. Without a seam, edges of one name meet
so, and pieces that have none in common lie middle on middle.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from itertools import accumulate, pairwise

from notchbook.composing.lettering.placing import box_round
from notchbook.drafting.draft import Piece, Seam
from notchbook.drafting.geometry.path import Point, dot, flip, unit

_FINE = 0.2
"""How far a curve drawn as points may miss the true one, mm of the piece."""

Points = tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class Layer:
    """One cloth of a stack. ``side`` is the one that lies up: ``right``, ``wrong``, or empty where
    nothing is said of it."""

    piece: Piece
    cloth: str
    side: str


@dataclass(frozen=True, slots=True)
class Gap:
    """A stretch of a seam left open: ``length`` mm about ``share`` of its edges."""

    seam: str
    share: float
    length: float


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
    # Two cloths of one piece that face each other are cut as a pair: the second is no mirror image.
    mirrored: dict[str, bool] = {}
    for layer in layers:
        mirrored.setdefault(layer.piece.name, layer.side == "wrong")
    flat = [_flat(layer, seams, gap, mirrored[layer.piece.name]) for layer in layers]
    laid = [flat[0]]
    for layer, sheet in zip(layers[1:], flat[1:], strict=True):
        shift, turn = 0j, 1 + 0j
        meeting = _meeting(layer, layers[: len(laid)], seams)
        if meeting:
            below, there, here = meeting
            at, inward = _middle(laid[below], there)
            own, way = _middle(sheet, here)
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


def edges_in(seam: Seam, layer: Layer) -> tuple[str, ...]:
    """The edges of a layer that a seam joins; none where it has no part in it."""
    return tuple(
        name.edge
        for side in seam.sides
        for name in side
        if name.piece == layer.piece.name and name.cloth in (None, layer.cloth)
    )


def _flat(layer: Layer, seams: Sequence[Seam], gap: Gap | None, mirrored: bool) -> Sheet:
    sewn: list[tuple[str, Points]] = []
    gaps: list[Points] = []
    for seam in seams:
        for edge in edges_in(seam, layer):
            points = tuple(layer.piece.flat.edges[edge].path.points(_FINE))
            if gap and gap.seam == seam.name:
                runs, opened = _parted(points, gap)
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


def _meeting(
    layer: Layer, below: Sequence[Layer], seams: Sequence[Seam]
) -> tuple[int, str, str] | None:
    """The nearest layer below that a seam joins to this one, that has a round edge of the same
    name, or that is the same piece; and the edges of the two that meet."""
    for index in reversed(range(len(below))):
        for seam in seams:
            there, here = edges_in(seam, below[index]), edges_in(seam, layer)
            if there and here:
                return index, there[0], here[0]
        edges = below[index].piece.flat.edges
        for edge, own in layer.piece.flat.edges.items():
            if edge in edges and own.round:
                return index, edge, edge
        if below[index].piece.name == layer.piece.name:
            edge = next(iter(edges))
            return index, edge, edge
    return None


def _middle(sheet: Sheet, edge: str) -> tuple[Point, complex]:
    """The middle of an edge of a layer, and the direction into its cloth there."""
    path = sheet.layer.piece.flat.edges[edge].path
    half = path.length() / 2
    at, inward = path.point_at(half), path.tangent_at(half) * 1j
    if sheet.mirrored:
        at, inward = flip(at), flip(inward)
    return at * sheet.turn + sheet.shift, inward * sheet.turn


def _parted(points: Points, gap: Gap) -> tuple[list[Points], Points]:
    """Points along an edge as the runs beside a gap, and the gap."""
    steps = [abs(b - a) for a, b in pairwise(points)]
    ends = [0.0, *accumulate(steps)]
    total = ends[-1]
    start, end = gap.share * total - gap.length / 2, gap.share * total + gap.length / 2

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
        share = (distance - ends[index]) / steps[index]
        return points[index] + (points[index + 1] - points[index]) * share

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
    """A closed loop's part at x ≥ 0 (Sutherland and Hodgman's clipping, against one line)."""
    kept: list[Point] = []
    for a, b in pairwise((*loop, loop[0])):
        if (a.real >= 0) != (b.real >= 0):
            kept.append(complex(0, a.imag + (b.imag - a.imag) * a.real / (a.real - b.real)))
        if b.real >= 0:
            kept.append(b)
    # A point on the fold itself is found twice.
    return tuple(b for a, b in pairwise((*kept[-1:], *kept)) if abs(b - a) > 1e-6)
