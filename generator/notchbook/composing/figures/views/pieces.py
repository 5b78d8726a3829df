"""The pieces view: all that is cut, in miniature and at one scale, as it might lie on a table.

Keys: ``pieces``, where not all of them are meant. It shows shapes and says names, no numbers; the
figure takes 100 × 78 mm at most. It opens a recipe, and stands on the cover of its booklet.

Example::

    view: pieces
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from notchbook.composing.drawing import Drawing, Item, Stroke, Text, moved
from notchbook.composing.figures import keys
from notchbook.composing.figures.size import SIZE
from notchbook.composing.pieces.folds import fold_marks
from notchbook.composing.pieces.scaled import scaled_piece
from notchbook.composing.setting import Setting
from notchbook.drafting.draft import Draft, Piece
from notchbook.drafting.geometry.box import Box, bounds
from notchbook.drafting.geometry.vector import Point
from notchbook.problems import ContentError, Problem
from notchbook.reading.recipe import FigureRule

WIDEST = 100.0
HIGHEST = 78.0
_GAP = 5.0
"""Between two pieces, mm."""
_NAME = SIZE
"""Type of the names, mm; a line of them stands below each piece."""
_LINE = _NAME * 1.9


def draw(draft: Draft, figure: FigureRule, setting: Setting) -> Drawing:
    """Rows of pieces, tallest first. Raises ContentError where a name is unknown."""
    problems: list[Problem] = []
    keys.check_keys(figure.keys, ("pieces",), "A figure of all pieces", problems)
    words = keys.texts(figure.keys, "pieces", problems)
    named = [keys.find_piece(word, draft, problems) for word in words]
    if problems:
        raise ContentError(problems)
    return _drawing([piece for piece in named if piece] or list(draft.pieces.values()), setting)


@dataclass(frozen=True, slots=True)
class _Cell:
    """A piece with its box at full size, its name, and the name's width, mm."""

    piece: Piece
    box: Box
    title: str
    name: float

    def width(self, factor: float) -> float:
        """What it takes in a row: itself, or its name where that is wider."""
        return max(self.box.width * factor, self.name)


Rows = Sequence[Sequence[_Cell]]


def _drawing(pieces: Sequence[Piece], setting: Setting) -> Drawing:
    cells = [
        _Cell(piece, bounds(piece.cut_lines[0].loops), title, setting.width(title, _NAME))
        for piece, title in ((piece, _title(piece, setting)) for piece in pieces)
    ]
    by_height = sorted(cells, key=lambda cell: (-cell.box.height, cell.piece.name))
    rows = max(_splits(by_height), key=_factor)
    factor = _factor(rows)
    items: list[Item] = []
    top = 0.0
    for row in rows:
        widths = [cell.width(factor) for cell in row]
        left = (WIDEST - _across(row, factor)) / 2
        foot = top + _height(row) * factor
        for cell, width in zip(row, widths, strict=True):
            items += _miniature(cell, complex(left + width / 2, foot), factor)
            left += width + _GAP
        top = foot + _LINE + _GAP
    names = ", ".join(cell.title for cell in cells)
    return Drawing(
        Box(-1 - 1j, complex(WIDEST + 1, top - _GAP + 1)),
        tuple(items),
        setting.say("pieces.alt", pieces=names),
    )


def _title(piece: Piece, setting: Setting) -> str:
    return setting.say("pieces.pair", piece=piece.title) if piece.pairs else piece.title


def _miniature(cell: _Cell, foot: Point, factor: float) -> tuple[Item, ...]:
    """One piece standing on ``foot``, the middle of its lower edge, and its name below it."""
    small = scaled_piece(cell.piece, factor)
    shift = foot - complex(cell.box.centre.real, cell.box.high.imag) * factor
    lines = (
        Stroke(small.cut_lines[0].loops, "layer"),
        Stroke(tuple(edge.path for edge in small.flat.edges.values()), "stitch"),
        *fold_marks(small, 0.3),
    )
    name = Text(foot + 1j * _LINE * 0.8, cell.title, "label", _NAME, "middle")
    return (*(moved(line, shift=shift) for line in lines), name)


def _splits(cells: Sequence[_Cell]) -> list[Rows]:
    """The pieces in order, in rows of equal count: of one, of two, of three …"""
    counts = range(1, len(cells) + 1)
    return [[cells[k : k + n] for k in range(0, len(cells), n)] for n in counts]


def _factor(rows: Rows) -> float:
    """The largest scale at which rows and names fit the figure, to a thousandth; 0 for none."""
    low, high = 0.0, 1.0
    while high - low > 0.001:
        middle = (low + high) / 2
        low, high = (middle, high) if _fits(rows, middle) else (low, middle)
    return low


def _fits(rows: Rows, factor: float) -> bool:
    gaps = _GAP * (len(rows) - 1)
    high = sum(_height(row) for row in rows) * factor + _LINE * len(rows) + gaps
    return high <= HIGHEST and all(_across(row, factor) <= WIDEST for row in rows)


def _across(row: Sequence[_Cell], factor: float) -> float:
    return sum(cell.width(factor) for cell in row) + _GAP * (len(row) - 1)


def _height(row: Sequence[_Cell]) -> float:
    """The height of a row at full size, mm, without its names."""
    return max(cell.box.height for cell in row)
