"""What a piece says about itself, and how those words are set in much room or little."""

from __future__ import annotations

import cmath
import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from notchbook.composing.drawing import Item, Stroke, Text
from notchbook.composing.placing import ABOVE, BELOW, Tile
from notchbook.composing.setting import Setting
from notchbook.composing.symbols import SMALLEST, TYPES, cutting_line
from notchbook.composing.values import glued
from notchbook.drafting.draft import Draft, Piece
from notchbook.drafting.geometry.path import polyline

_LEADING = 1.3
"""From baseline to baseline, ems."""

_SAMPLE = 13.0
"""Length of the sample of a cutting line, mm: long enough for its dots to show."""

_GAP = 2.0
"""Between a sample and its words, and between words run in on one row, mm."""


@dataclass(frozen=True, slots=True)
class Run:
    """Words set in one go. ``sample`` is the role of a line shown before them, or empty."""

    text: str
    role: str = "label"
    size: float = 1.0
    sample: str = ""

    def width(self, setting: Setting) -> float:
        """Width with its sample, mm."""
        words = setting.width(self.text, self.size, TYPES[self.role].weight)
        return words + (_SAMPLE + _GAP if self.sample else 0.0)


@dataclass(frozen=True, slots=True)
class Block:
    """Rows of runs, set one below the other from the left."""

    rows: tuple[tuple[Run, ...], ...]

    def width(self, setting: Setting) -> float:
        """Width of the widest row, mm."""
        return max(
            sum(run.width(setting) for run in row) + 2 * _GAP * (len(row) - 1) for row in self.rows
        )

    @property
    def size(self) -> float:
        """The em of the first row, mm."""
        return max(run.size for run in self.rows[0])

    @property
    def height(self) -> float:
        """From the top of the first row's letters to the foot of the last row's, mm."""
        sizes = [max(run.size for run in row) for row in self.rows]
        return sum(sizes[:-1]) * _LEADING + sizes[-1] * (ABOVE + BELOW)

    def items(self, tile: Tile, setting: Setting) -> tuple[Item, ...]:
        """The block set where ``tile`` lies."""
        items: list[Item] = []
        origin = tile.centre - tile.along * complex(tile.width, tile.height) / 2
        angle = math.degrees(cmath.phase(tile.along))
        top = 0.0
        for row in self.rows:
            size = max(run.size for run in row)
            base = top + size * ABOVE
            x = 0.0
            for run in row:
                start = x
                if run.sample:
                    middle = base - run.size * 0.3
                    line = polyline(*(complex(x + end, middle) for end in (0.0, _SAMPLE)))
                    items.append(Stroke((line.moved(tile.along, origin),), run.sample))
                    start += _SAMPLE + _GAP
                at = origin + tile.along * complex(start, base)
                items.append(Text(at, run.text, run.role, run.size, angle=angle))
                x += run.width(setting) + 2 * _GAP
            top += size * _LEADING
        return tuple(items)


def blocks(piece: Piece, draft: Draft, setting: Setting) -> Iterator[tuple[Block, ...]]:
    """The piece's words in ever smaller sizes, each in several forms: take the first that fits."""
    name, *others = _runs(piece, draft, setting)
    for size, scale in (
        (14.0, 5.5),
        (10.0, 4.5),
        (8.0, 4.0),
        (6.5, 3.5),
        (5.0, 3.0),
        (4.0, SMALLEST),
        (3.2, SMALLEST),
    ):
        head = replace(name, size=size)
        rest = [replace(run, size=scale) for run in others]
        forms = [Block(((head,), *((run,) for run in rest)))]
        if size <= 10:
            forms += [Block(((head,), tuple(rest))), Block(((head, *rest),))]
            for wide in (52.0, 36.0):
                rows = [row for run in (head, *rest) for row in _narrow(run, wide, setting)]
                forms.append(Block(tuple((row,) for row in rows)))
        yield tuple(forms)


def _narrow(run: Run, width: float, setting: Setting) -> list[Run]:
    if run.sample:
        return [run]
    rows = wrapped(run.text, width, run.size, setting, TYPES[run.role].weight)
    return [replace(run, text=row) for row in rows]


def _runs(piece: Piece, draft: Draft, setting: Setting) -> list[Run]:
    cut = ", ".join(
        setting.say("mark.count", count=count, cloth=cloth_word(cloth))
        for cloth, count in piece.counts.items()
    )
    runs = [Run(piece.title, "name"), Run(setting.say("mark.cut", cloths=cut), "strong")]
    if len(piece.cut_lines) > 1:
        runs += [
            Run(", ".join(cloth_word(cloth) for cloth in line.cloths), "label", 1, cutting_line(k))
            for k, line in enumerate(piece.cut_lines)
        ]
    letters = seam_letters(draft)
    seams = sorted({notch.seam for notch in piece.notches if notch.seam in letters})
    runs += [Run(setting.say("mark.letter", letter=letters[seam], seam=seam)) for seam in seams]
    recipe = draft.recipe
    edition = setting.say("mark.edition", edition=recipe.edition.number)
    size = setting.say("mark.size", size=draft.size.title)
    return [*runs, Run(size), Run(f"{recipe.title}, {edition}")]


def cloth_word(cloth: str) -> str:
    """A cloth's name as words."""
    return cloth.replace("_", " ")


def seam_letters(draft: Draft) -> Mapping[str, str]:
    """A small letter for every seam that shares an edge's notches with another seam, so that
    the numbers on one edge can't be taken for each other. The same on every piece."""
    shared: set[str] = set()
    for piece in draft.pieces.values():
        seams: dict[str, set[str]] = {}
        for notch in piece.notches:
            seams.setdefault(notch.edge, set()).add(notch.seam)
        for names in seams.values():
            if len(names) > 1:
                shared |= names
    ordered = [name for name in draft.seams if name in shared]
    return {name: _letter(k) for k, name in enumerate(ordered)}


def _letter(k: int) -> str:
    turn, place = divmod(k, 26)
    return chr(ord("a") + place) * (turn + 1)


def wrapped(
    words: str, width: float, size: float, setting: Setting, weight: int = 400
) -> list[str]:
    """Words broken into rows no wider than ``width`` mm, where single words allow it."""
    rows: list[str] = []
    for word in glued(words).split(" "):
        longer = f"{rows[-1]} {word}" if rows else word
        if rows and setting.width(longer, size, weight) <= width:
            rows[-1] = longer
        else:
            rows.append(word)
    return rows
