"""Who draws by hand, and what is told of one panel so far."""

from __future__ import annotations

from dataclasses import dataclass, field

from notchbook.composing.figures.number_table import NumberTable
from notchbook.composing.numbers import SPACE, Pair, radius
from notchbook.composing.pairs import both
from notchbook.composing.setting import Setting
from notchbook.drafting.draft import Piece
from notchbook.drafting.geometry.path import Path
from notchbook.drafting.geometry.vector import Point

NEAR = 0.01
"""Less is no distance, mm."""


@dataclass(frozen=True, slots=True)
class Hand:
    """Who draws: the piece, and the points marked so far."""

    piece: Piece
    setting: Setting
    marks: dict[str, Point]

    def say(self, key: str, **fields: object) -> str:
        return self.setting.say(f"compass.{key}", **fields)

    def number(self, mm: float) -> str:
        # A row of words may be broken between the two unit systems.
        return both(radius(mm), self.setting).replace(f"{SPACE}(", " (")

    def way(self, mm: float, onwards: str, backwards: str) -> str:
        return self.say(onwards if mm > 0 else backwards, distance=self.number(abs(mm)))


@dataclass(slots=True)
class Told:
    """A stage in the making."""

    lines: list[Path] = field(default_factory=list)
    helps: list[Path] = field(default_factory=list)
    passing: list[Path] = field(default_factory=list)
    marks: list[str] = field(default_factory=list)
    named: list[str] = field(default_factory=list)
    strings: list[tuple[Point, Path, Pair]] = field(default_factory=list)
    along: list[tuple[Path, Pair]] = field(default_factory=list)
    said: list[str] = field(default_factory=list)
    tables: list[NumberTable] = field(default_factory=list)
