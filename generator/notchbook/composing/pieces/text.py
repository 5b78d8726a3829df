"""What a piece says about itself, and how those words are set in much room or little."""

from __future__ import annotations

import cmath
import math
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import product

from notchbook.composing.called import size_title
from notchbook.composing.drawing import Item, Stroke, Text
from notchbook.composing.lettering.paragraph import wrapped
from notchbook.composing.lettering.placing import ABOVE, BELOW, Tile
from notchbook.composing.names import plain
from notchbook.composing.setting import Setting
from notchbook.composing.symbols import SMALLEST, TYPES, cutting_line, line_role
from notchbook.drafting.draft import Draft, Piece
from notchbook.drafting.geometry.path import polyline
from notchbook.drafting.marks import seam_letters

_LEADING = 1.3
"""From baseline to baseline, ems."""

_SAMPLE = 13.0
"""Length of the sample of a cutting line, mm: long enough for its dots to show."""

_GAP = 2.0
"""Between a sample and its words, mm."""

_BETWEEN = 6.0
"""Between words run in on one row, mm, with a dot in the middle so that they don't run together."""


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
class Label:
    """Rows of runs, set one below the other from the left."""

    rows: tuple[tuple[Run, ...], ...]

    def width(self, setting: Setting) -> float:
        """Width of the widest row, mm."""
        return max(
            sum(run.width(setting) for run in row) + _BETWEEN * (len(row) - 1) for row in self.rows
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
                if x:
                    dot = origin + tile.along * complex(x - _BETWEEN / 2, base)
                    items.append(Text(dot, "·", "strong", run.size, "middle", angle))
                if run.sample:
                    middle = base - run.size * 0.3
                    line = polyline(*(complex(x + end, middle) for end in (0.0, _SAMPLE)))
                    items.append(Stroke((line.moved(tile.along, origin),), run.sample))
                    start += _SAMPLE + _GAP
                at = origin + tile.along * complex(start, base)
                items.append(Text(at, run.text, run.role, run.size, angle=angle))
                x += run.width(setting) + _BETWEEN
            top += size * _LEADING
        return tuple(items)


def blocks(piece: Piece, draft: Draft, setting: Setting) -> Iterator[tuple[Label, ...]]:
    """The piece's words in ever smaller sizes, each in several forms: take the first that fits."""
    sizes = (
        (14.0, 5.5),
        (10.0, 4.5),
        (8.0, 4.0),
        (6.5, 3.5),
        (5.0, 3.0),
        (4.0, SMALLEST),
        (3.2, SMALLEST),
    )
    # Cloths are called by their titles too where there is room for that.
    for titled, (size, scale) in (*product((True,), sizes[:5]), *product((False,), sizes[2:])):
        name, *others = _runs(piece, draft, setting, titled)
        head = replace(name, size=size)
        rest = [replace(run, size=scale) for run in others]
        forms = [Label(((head,), *((run,) for run in rest)))]
        if size <= 10:
            forms += [Label(((head,), tuple(rest))), Label(((head, *rest),))]
            for wide in (52.0, 36.0):
                rows = [row for run in (head, *rest) for row in _narrow(run, wide, setting)]
                forms.append(Label(tuple((row,) for row in rows)))
        yield tuple(forms)


def _narrow(run: Run, width: float, setting: Setting) -> list[Run]:
    wide = width - (_SAMPLE + _GAP if run.sample else 0.0)
    first, *others = wrapped(run.text, wide, run.size, setting, TYPES[run.role].weight)
    return [replace(run, text=first), *(replace(run, text=row, sample="") for row in others)]


def _runs(piece: Piece, draft: Draft, setting: Setting, titled: bool) -> list[Run]:
    def called(cloth: str) -> str:
        return cloth_title(cloth, draft, setting) if titled else plain(cloth)

    # Where there are several lines to cut, their samples say what the cloths are.
    short = plain if len(piece.cut_lines) > 1 else called
    cut = counted(piece, piece.counts, short, setting)
    runs = [Run(piece.title, "name"), Run(setting.say("mark.cut", cloths=cut), "strong")]
    if len(piece.cut_lines) > 1:
        runs += [
            Run(", ".join(map(called, line.cloths)), "label", 1, cutting_line(k))
            for k, line in enumerate(piece.cut_lines)
        ]
    letters = seam_letters(draft)
    seams = sorted({notch.seam for notch in piece.notches if notch.seam in letters})
    runs += [Run(setting.say("mark.letter", letter=letters[seam], seam=seam)) for seam in seams]
    drawn: dict[str, list[str]] = {}
    for line in piece.lines:
        drawn.setdefault(line_role(line), []).append(line.title)
    runs += [
        Run(setting.say(f"mark.{role}", lines=", ".join(dict.fromkeys(titles))), "label", 1, sample)
        for role, titles in drawn.items()
        for sample in ("" if role == "line-cross" else role,)
    ]
    recipe = draft.recipe
    edition = setting.say("mark.edition", edition=recipe.edition.number)
    size = setting.say("mark.size", size=size_title(draft, setting))
    return [*runs, Run(size), Run(f"{recipe.title}, {edition}")]


def counted(
    piece: Piece, cloths: Iterable[str], called: Callable[[str], str], setting: Setting
) -> str:
    """How often a piece is cut from some cloths, each in the words ``called`` has for it."""
    return ", ".join(
        setting.say_count("mark.pairs", piece.pairs[cloth], cloth=called(cloth))
        if cloth in piece.pairs
        else setting.say("mark.count", count=piece.counts[cloth], cloth=called(cloth))
        for cloth in cloths
    )


def cloth_title(cloth: str, draft: Draft, setting: Setting) -> str:
    """A cloth by its name and its title, as shopping lists have it."""
    title = draft.recipe.cloths[cloth].title
    return setting.say("mark.cloth", cloth=plain(cloth), title=title)
