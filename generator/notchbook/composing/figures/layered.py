"""A layer of a stack, its part in a seam, and where two layers meet."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import product

from notchbook.composing.names import plain
from notchbook.composing.setting import Setting
from notchbook.drafting.draft import Piece, Seam
from notchbook.drafting.shape import Edge
from notchbook.drafting.sides import Stretch
from notchbook.reading.recipe import EdgeName

Spot = tuple[Edge, float]
"""A place on an edge, mm along it as it is sewn."""


OTHER = {"right": "wrong", "wrong": "right", "": ""}
"""The other side of a cloth; of one that lies either way up, either."""


@dataclass(frozen=True, slots=True)
class Layer:
    """One cloth of a stack. ``side`` is the one that lies up: ``right``, ``wrong``, or empty where
    nothing is said of it. ``copy`` counts those cut alike from 0; None where it is the only one."""

    piece: Piece
    cloth: str
    side: str
    copy: int | None = None


def edges_in(seam: Seam, layer: Layer) -> tuple[str, ...]:
    """The edges of a layer that a seam joins; none where it has no part in it. Of several cut alike
    that a seam joins to each other, each has one side's."""
    sides = [
        edges
        for side in seam.sides
        if (edges := [name.edge for name in side if _names(name, layer)])
    ]
    if layer.copy is not None and sides:
        sides = [sides[layer.copy % len(sides)]]
    return tuple(dict.fromkeys(edge for edges in sides for edge in edges))


def layer_words(layer: Layer, setting: Setting) -> str:
    """A layer and which side of it is up: ``shell, wrong side up``."""
    cloth = plain(layer.cloth)
    return setting.say(f"layers.{layer.side}", cloth=cloth) if layer.side else cloth


def paired(layer: Layer) -> bool:
    """Whether a layer that faces another of its piece is no mirror image of it: unless both come
    from one cloth and are cut alike, they are cut as a pair."""
    return layer.copy is None or layer.cloth in layer.piece.pairs


def _names(name: EdgeName, layer: Layer) -> bool:
    return name.piece == layer.piece.name and name.cloth in (None, layer.cloth)


def meeting(
    layer: Layer, below: Sequence[Layer], seams: Sequence[Seam]
) -> tuple[int, Spot, Spot] | None:
    """The nearest layer below that is the same piece, that a seam joins to this one or that has a
    round edge of the same name; and a place on each of the two that is one in the stack."""
    for index in reversed(range(len(below))):
        same = below[index].piece.name == layer.piece.name
        if same and paired(layer):
            half = _half_way(next(iter(layer.piece.flat.edges.values())))
            return index, half, half
        for seam in seams:
            common = _common(seam, below[index], layer)
            if common:
                return index, *common
        edges = below[index].piece.flat.edges
        for name, own in layer.piece.flat.edges.items():
            if name in edges and own.round:
                return index, _half_way(edges[name]), _half_way(own)
    return None


def _common(seam: Seam, below: Layer, layer: Layer) -> tuple[Spot, Spot] | None:
    """The middle of the longest stretch of a seam that two layers share, on each of them; of
    several as long, the one nearest to the middle of the seam."""
    shared: list[tuple[float, float, int, tuple[Spot, Spot]]] = []
    for there, here in product(shares(seam, below), shares(seam, layer)):
        low, high = max(there.low, here.low), min(there.high, here.high)
        if high - low > 1e-6:
            middle = (low + high) / 2
            spots = there.spot(middle), here.spot(middle)
            off = round(abs(middle - 0.5), 6)
            shared.append((-round(high - low, 6), off, len(shared), spots))
    return min(shared)[3] if shared else None


@dataclass(frozen=True, slots=True)
class Share:
    """What an edge takes up of a seam, as shares of its length from where its sides start: other
    sides than the first run the opposite way."""

    stretch: Stretch
    low: float
    high: float
    opposite: bool

    def spot(self, share: float) -> Spot:
        """A place of the seam on this edge."""
        passed = (share - self.low) / (self.high - self.low)
        along = 1 - passed if self.opposite else passed
        stretch = self.stretch
        return stretch.edge, stretch.along(stretch.begin + stretch.length * along)

    def along(self, share: float) -> float:
        """As a share of the seam, what is a share of this edge from its own start."""
        against = self.stretch.backwards != self.opposite
        return self.low + (self.high - self.low) * (1 - share if against else share)


def shares(seam: Seam, layer: Layer) -> Iterator[Share]:
    """What the edges of a layer take up of a seam."""
    own = edges_in(seam, layer)
    for number, (side, whole) in enumerate(zip(seam.laid, seam.lengths, strict=True)):
        for stretch in side:
            if _names(stretch.name, layer) and stretch.name.edge in own:
                low, high = stretch.begin / whole, stretch.end / whole
                ends = (1 - high, 1 - low) if number else (low, high)
                yield Share(stretch, *ends, opposite=number > 0)


def _half_way(edge: Edge) -> Spot:
    return edge, edge.length() / 2
