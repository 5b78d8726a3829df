"""The draft: the pieces of one recipe for one set of measures, with all that is counted of them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from notchbook.drafting.geometry.path import Path
from notchbook.drafting.geometry.vector import Point
from notchbook.drafting.moves import Move
from notchbook.drafting.shape import Flat, Form
from notchbook.drafting.sides import Side
from notchbook.reading.quantity import Quantity
from notchbook.reading.recipe import EdgeName, Recipe, Size


@dataclass(frozen=True, slots=True)
class CutLine:
    """One cutting line of a piece and the cloths that are cut along it, outline first, then
    holes. ``allowance`` gives each edge's, in mm."""

    cloths: tuple[str, ...]
    loops: tuple[Path, ...]
    allowance: Mapping[str, float]


@dataclass(frozen=True, slots=True)
class Notch:
    """A mark on an edge that meets its twin: where on the stitching line, which way is out of the
    cloth, and how many strokes (two at the start of a round seam, one elsewhere). ``number`` is
    its twins' too; none where its edge is cut several times and would need another on each."""

    edge: str
    seam: str
    number: int | None
    at: Point
    out: complex
    strokes: int
    reach: float
    """From the stitching line to the outermost cutting line there, mm."""


@dataclass(frozen=True, slots=True)
class Pleat:
    """A pleat marked on an edge: cloth is folded at ``fold`` and laid so that it comes to lie on
    ``onto``; each a point of the stitching line and the direction out of the cloth there."""

    edge: str
    seam: str
    fold: tuple[Point, complex]
    onto: tuple[Point, complex]


@dataclass(frozen=True, slots=True)
class InnerLine:
    """What is drawn inside a piece: a line, or crosses at some points. ``kind``: see
    ``LineRule``."""

    name: str
    title: str
    kind: str
    path: Path | None
    crosses: tuple[Point, ...] = ()

    def moved(self, turn: complex, shift: complex) -> InnerLine:
        """Every point p taken to ``p * turn + shift``; ``turn`` is a unit direction."""
        return replace(
            self,
            path=self.path and self.path.moved(turn, shift),
            crosses=tuple(point * turn + shift for point in self.crosses),
        )


@dataclass(frozen=True, slots=True)
class Piece:
    """A drafted piece. ``counts`` says how often it is cut from each cloth, and ``pairs`` how many
    of those are cut turned over, which make pairs with the others."""

    name: str
    title: str
    shape: str
    flat: Flat
    form: Form | None
    moves: tuple[Move, ...]
    counts: Mapping[str, int]
    pairs: Mapping[str, int]
    cut_lines: tuple[CutLine, ...]
    notches: tuple[Notch, ...]
    pleats: tuple[Pleat, ...] = ()
    lines: tuple[InnerLine, ...] = ()

    @property
    def marks(self) -> int:
        """How many places are notched: where notches of two seams fall together, one."""
        return len({(n.edge, round(n.at.real), round(n.at.imag)) for n in self.notches})

    def reach(self, edge: str) -> float:
        """The widest allowance of an edge, mm."""
        return max(line.allowance[edge] for line in self.cut_lines)

    def cloth_or_first(self, cloth: str | None) -> str:
        """The cloth that was named, or where none was the first it is cut from."""
        return cloth or next(iter(self.counts))

    def cut_line(self, cloth: str) -> CutLine:
        """The line to cut for one cloth."""
        return next(line for line in self.cut_lines if cloth in line.cloths)


@dataclass(frozen=True, slots=True)
class Seam:
    """A seam measured on the constructed outlines: each side's length in mm, and the ease the
    recipe declares for it beyond the first side. ``laid`` are the sides' edges end to end."""

    name: str
    sides: tuple[tuple[EdgeName, ...], ...]
    lengths: tuple[float, ...]
    ease: tuple[float, ...]
    round: bool
    laid: tuple[Side, ...]
    gathers: tuple[float, ...] = ()
    """How many times as long as the first side each side is before it is gathered; 1 where it is
    not."""

    @property
    def miss(self) -> float:
        """By how much the worst side misses the first one beyond its declared ease, mm."""
        return max(
            abs(length - ease - self.lengths[0])
            for length, ease in zip(self.lengths, self.ease, strict=True)
        )


@dataclass(frozen=True, slots=True)
class Opening:
    """What a step leaves open of a seam, on the seam's first side as it is sewn: ``start`` and
    ``end`` in mm from where that begins, ``start`` the larger where a round seam is open across its
    own start. ``notch`` is the number of the notch it lies round, if it does. ``left`` is the id of
    the step that leaves it, ``closed`` of the one that closes it; none does where it stays."""

    seam: str
    start: float
    end: float
    length: float
    notch: int | None
    left: str
    closed: str | None


@dataclass(frozen=True, slots=True)
class Placed:
    """A piece laid on cloth or paper: its points p go to ``p * turn + shift``, those of a mirrored
    one flipped left to right first."""

    piece: str
    turn: complex
    shift: complex
    mirrored: bool = False


@dataclass(frozen=True, slots=True)
class Lay:
    """The pieces of one cloth laid out on one width, all lengths in mm.

    ``width`` is as the cloth is sold, ``room`` what it has once shrunk: x runs across that, y along
    the cloth from the cut end. Cloth that is ``folded`` lies doubled that far from the cut end,
    right sides together, with the fold in the middle of its width; here it is opened out, so what
    is cut through both plies is there twice, and what is cut on the fold is whole. ``length`` is
    what the pieces take, ``need`` as much before shrinking, and ``buy`` that rounded up to 5 cm.
    """

    cloth: str
    width: float
    placed: tuple[Placed, ...]
    length: float
    need: float
    buy: float
    room: float
    folded: float = 0.0


@dataclass(frozen=True, slots=True)
class Draft:
    """One recipe, its choices settled, drafted for one body. ``values`` holds every measure,
    working and property of a cloth by its name in formulas."""

    recipe: Recipe
    size: Size
    measures: Mapping[str, float]
    values: Mapping[str, Quantity]
    pieces: Mapping[str, Piece]
    seams: Mapping[str, Seam]
    notions: Mapping[str, Quantity | None]
    openings: Mapping[str, Opening] = field(default_factory=dict)
    """By the seam's name."""

    def allowance(self, edge: EdgeName) -> float:
        """How far outside an edge its cloth is cut, mm: the one named, or the first there is."""
        piece = self.pieces[edge.piece]
        return piece.cut_line(piece.cloth_or_first(edge.cloth)).allowance[edge.edge]
