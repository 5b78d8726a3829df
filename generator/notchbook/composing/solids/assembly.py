"""Assembly: pieces put together in space along the seams that are sewn.

A piece comes to stand where a seam joins one of its round edges to one that stands already: their
planes fall together, their middles, and their starts, which is notch 0 on notch 0. Of two pieces
that would then lie on the same side of the seam, one is turned over, unless it is meant to lie
there: a lining does, being of another cloth, and so does a facing or an under brim, which is cut
almost alike.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import combinations

from notchbook.composing.solids.gores import copies_of, rounded
from notchbook.composing.solids.surface import (
    TAKEN_IN,
    Line3,
    Place3,
    Surface,
    bent_to,
    centre,
    flat_round,
    length,
    placed,
    surface,
    taken_in,
)
from notchbook.drafting.draft import Draft, Piece, Seam
from notchbook.drafting.geometry.develop import Point3
from notchbook.reading.recipe import EdgeName

Ply = tuple[str, str]
"""A piece and the cloth it is cut from."""

Joint = tuple[Ply, str]
"""An edge of a ply."""

ALIKE = 0.06
"""Pieces whose edges differ by less than this share lie on each other."""


@dataclass(frozen=True, slots=True)
class Part:
    """A ply in its place; a piece that goes round in several copies has a surface for each.
    ``inner``: it lies along another, as a lining does."""

    ply: Ply
    surfaces: tuple[Surface, ...]
    inner: bool = False


@dataclass(frozen=True, slots=True)
class Line:
    """A line to be drawn: where cloth ends or is turned (``edge``), where pieces meet (``seam``) or
    lie in folds (``fold``). ``parts`` are the numbers of those it belongs to."""

    points: Line3
    kind: str
    parts: frozenset[int]


@dataclass(frozen=True, slots=True)
class Solid:
    """All that hangs together."""

    parts: tuple[Part, ...]
    lines: tuple[Line, ...]

    def edge(self, joint: Joint) -> Line3 | None:
        """Where an edge lies; none if it isn't there."""
        part = next((part for part in self.parts if part.ply == joint[0]), None)
        return part.surfaces[0].edges.get(joint[1]) if part else None

    @property
    def points(self) -> Iterator[Point3]:
        """Every point of every surface."""
        for part in self.parts:
            for each in part.surfaces:
                for row in each.rows:
                    yield from row


def assembled(draft: Draft, sewn: Collection[str], folded: Collection[str] = ()) -> list[Solid]:
    """What stands once these seams are sewn, the largest first: all that hangs together apiece.
    Pieces that no seam has touched are left out, and so are those without a form."""
    seams = [seam for name, seam in draft.seams.items() if name in sewn]
    makes = _Making(draft, seams, folded)
    found: list[Solid] = []
    while makes.left:
        parts = makes.together()
        lines = lines_of(parts, seams, draft)
        found.append(Solid(tuple(parts.values()), tuple(lines)))
    return sorted(found, key=lambda solid: -len(solid.parts))


class _Making:
    """The plies that can stand, until they are taken together."""

    def __init__(self, draft: Draft, seams: Sequence[Seam], folded: Collection[str]) -> None:
        self.draft = draft
        self.seams = seams
        self.sides = [
            (seam, [[joint_of(name, draft) for name in side] for side in seam.sides])
            for seam in seams
        ]
        touched = dict.fromkeys(
            joint[0] for _, sides in self.sides for side in sides for joint in side
        )
        self.flat = {ply: draft.pieces[ply[0]] for ply in touched}
        found: dict[Ply, Surface] = {}
        # A piece is the same in every cloth.
        made: dict[str, Surface | None] = {}
        for ply, piece in self.flat.items():
            if not self._closed(ply) or self._loose(ply):
                continue
            if piece.name not in made:
                made[piece.name] = surface(piece, piece.name in folded)
            if stands := made[piece.name]:
                found[ply] = stands
        self.left = dict(
            sorted(found.items(), key=lambda item: _weight(item[0], item[1], self.flat))
        )

    def _loose(self, ply: Ply) -> bool:
        """Whether a round piece is taken in to a shorter edge."""
        joint = ply, flat_round(self.flat[ply])
        return any(
            min(seam.lengths) < TAKEN_IN * self.flat[ply].flat.edges[joint[1]].path.length()
            for seam, sides in self.sides
            if joint[1] and any(joint in side for side in sides)
        )

    def _closed(self, ply: Ply) -> bool:
        """Whether a ply's own seam is sewn, if it has one."""
        piece = self.draft.pieces[ply[0]]
        own = piece.form.seam if piece.form else None
        if piece.shape in ("strip", "gore"):
            own = ("left", "right")
        if own is None:
            return True
        ends = [(ply, end) for end in own]
        return any(
            any(ends[0] in side for side in sides) and any(ends[1] in side for side in sides)
            for _, sides in self.sides
        ) or (piece.shape == "gore" and self._sewn_round(ends))

    def _sewn_round(self, ends: Sequence[Joint]) -> bool:
        """Gores that differ are sewn to each other."""
        return all(any(end in side for _, sides in self.sides for side in sides) for end in ends)

    def together(self) -> dict[Ply, Part]:
        """The first ply that is left, and all that hang on it."""
        first = next(iter(self.left))
        parts = {first: self._part(first, self.left.pop(first))}
        grown = True
        while grown:
            grown = False
            for _, sides in self.sides:
                joints = [joint for side in sides for joint in dict.fromkeys(side)]
                holding = next((j for j in joints if _anchor(parts, j)), None)
                for joint in joints if holding else ():
                    if joint[0] not in parts and holding:
                        there = [other for other, _ in joints if other in parts]
                        along = any(self._along(joint[0], other) for other in there)
                        part = self._joined(joint, holding, parts, along)
                        if part:
                            parts[joint[0]] = part
                            self.left.pop(joint[0], None)
                            grown = True
        return parts

    def _joined(
        self, joint: Joint, holding: Joint, parts: Mapping[Ply, Part], along: bool
    ) -> Part | None:
        """A ply where it is held by one that stands; ``along``: beside another that is there."""
        ply, edge = joint
        anchor = _anchor(parts, holding)
        assert anchor
        base = parts[holding[0]]
        held = base.surfaces[0]
        around = held.edges[holding[1]]
        piece = self.flat[ply]
        inner = base.inner or along
        if flat_round(piece) == edge and self._loose(ply):
            reach = math.sqrt(abs(piece.flat.outline()[0].area()) / math.pi)
            return Part(ply, (taken_in(reach, around),), inner)
        made = self.left.get(ply)
        own = _anchor_of(made, edge) if made else None
        if made is None or own is None:
            return None
        rises = made.middle - made.edges[edge][0][2]
        over = not along and rises * (held.middle - around[0][2]) > 1.0
        start = math.pi - own[1] if over else own[1]
        turn = anchor[1] - start
        place = Place3(over, math.cos(turn), math.sin(turn))
        x, y, z = place.point(own[0])
        to = anchor[0]
        place = replace(place, shift=(to[0] - x, to[1] - y, to[2] - z))
        part = replace(self._part(ply, made, place), inner=inner)
        if holding[1] in held.caps:
            return part
        if edge in made.caps:
            return replace(part, surfaces=tuple(rounded(s, around) for s in part.surfaces))
        return replace(part, surfaces=tuple(bent_to(s, edge, around) for s in part.surfaces))

    def _along(self, ply: Ply, other: Ply) -> bool:
        """Whether a ply lies along another rather than going on from it."""
        return ply[1] != other[1] or _alike(self.flat[ply], self.flat[other])

    def _part(self, ply: Ply, made: Surface, place: Place3 | None = None) -> Part:
        """A ply in its place, with all its copies round the axis if it is a gore."""
        place = place or Place3()
        piece = self.draft.pieces[ply[0]]
        if piece.shape != "gore":
            return Part(ply, (placed(made, place),))
        copies = copies_of(made, piece.counts[ply[1]])
        return Part(ply, tuple(placed(copy, place) for copy in copies))


def _weight(ply: Ply, made: Surface, pieces: Mapping[Ply, Piece]) -> tuple[bool, bool, float]:
    """What stands first, as its own shape says: flat pieces, which other cloth bends to, and of
    these the largest; gores after all others."""
    heights = {round(z, 3) for row in made.rows for _, _, z in row}
    area = pieces[ply].flat.outline()[0].area()
    return pieces[ply].shape == "gore", len(heights) > 1, -abs(area)


def joint_of(name: EdgeName, draft: Draft) -> Joint:
    """The ply and edge that a seam's side names."""
    return (name.piece, draft.pieces[name.piece].cloth_or_first(name.cloth)), name.edge


def _alike(one: Piece, other: Piece) -> bool:
    """Whether two pieces have the same edges, almost equally long."""
    edges, others = one.flat.edges, other.flat.edges
    return edges.keys() == others.keys() and all(
        abs(edge.length() - others[name].length()) < ALIKE * edge.length()
        for name, edge in edges.items()
    )


def _anchor(parts: Mapping[Ply, Part], joint: Joint) -> tuple[Point3, float] | None:
    part = parts.get(joint[0])
    return _anchor_of(part.surfaces[0], joint[1]) if part else None


def _anchor_of(made: Surface, edge: str) -> tuple[Point3, float] | None:
    """The middle of a round edge and the direction of its start; none for one that is not round.
    Gores, and what several of them make together, go round their axis from centre back."""
    points = made.edges.get(edge)
    if points is None:
        return None
    if edge in made.caps:
        return (0.0, 0.0, points[0][2]), -math.pi / 2
    if not made.closed and edge in ("left", "right") and made.rows[0][0] != made.rows[0][-1]:
        return None
    if math.dist(points[0], points[-1]) > 1e-6 or len(points) < 4:
        return None
    middle = centre(points)
    return middle, cmath.phase(complex(points[0][0] - middle[0], points[0][1] - middle[1]))


# Lines.


def lines_of(parts: Mapping[Ply, Part], seams: Sequence[Seam], draft: Draft) -> Iterator[Line]:
    """Every edge once: of those that are sewn together, the longest."""
    numbers = {ply: k for k, ply in enumerate(parts)}
    groups = _groups(parts, seams, draft)
    drawn: list[tuple[Point3, Point3, Point3]] = []
    for joints in groups:
        owners = {ply for ply, _ in joints}
        shown = [
            [s.edges[edge] for s in parts[ply].surfaces if edge in s.edges]
            for ply, edge in joints
            if not all(edge in s.caps for s in parts[ply].surfaces) or len(owners) == 1
        ]
        best = max(shown, key=lambda lines: max(map(length, lines), default=0.0), default=[])
        kind = "seam" if _meets(joints, owners, draft) else "edge"
        for points in best:
            mark = points[0], points[len(points) // 2], points[-1]
            if length(points) < 1.0 or any(_same(mark, other) for other in drawn):
                continue
            drawn.append(mark)
            yield Line(points, kind, frozenset(numbers[ply] for ply in owners))
    for ply, part in parts.items():
        for each in part.surfaces:
            for fold in each.folds:
                kind = "fold" if each.soft else "edge"
                yield Line(fold, kind, frozenset((numbers[ply],)))


def _same(one: Sequence[Point3], other: Sequence[Point3]) -> bool:
    near = all(math.dist(a, b) < 0.5 for a, b in zip(one, other, strict=True))
    return near or all(math.dist(a, b) < 0.5 for a, b in zip(one, other[::-1], strict=True))


def _groups(parts: Mapping[Ply, Part], seams: Sequence[Seam], draft: Draft) -> list[list[Joint]]:
    """Edges that are sewn together, in the order of the pieces."""
    group: dict[Joint, list[Joint]] = {}
    for ply, part in parts.items():
        names = part.surfaces[0].edges or dict.fromkeys(draft.pieces[ply[0]].flat.edges)
        for edge in names:
            group[(ply, edge)] = [(ply, edge)]
    for seam in seams:
        joints = [joint_of(name, draft) for side in seam.sides for name in side]
        there = [joint for joint in dict.fromkeys(joints) if joint in group]
        for joint in there[1:]:
            one, other = group[there[0]], group[joint]
            if one is not other:
                one += other
                for each in other:
                    group[each] = one
    found: list[list[Joint]] = []
    for joints in group.values():
        if not any(joints is other for other in found):
            found.append(joints)
    return found


def _meets(joints: Sequence[Joint], owners: Collection[Ply], draft: Draft) -> bool:
    """Whether pieces meet at an edge, rather than line or face one another there."""
    if len(owners) == 1:
        return len(joints) > 1
    return any(
        one[1] == other[1] and not _alike(draft.pieces[one[0]], draft.pieces[other[0]])
        for one, other in combinations(owners, 2)
    )
