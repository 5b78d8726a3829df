"""The sheets of a pattern as they are taped: what is on each, its number, and which are blank.

Everything is in the coordinates of the taped pattern, whose origin is the top left corner of the
grid. Sheets that a piece crosses belong to one group and are taped; between two groups nobody has
to tape.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from notchbook.composing.lettering.placing import Lines, Wall, walls
from notchbook.composing.paper import Paper
from notchbook.composing.sheets.arranging import arranged
from notchbook.composing.sheets.joins import (
    Cell,
    Diagonal,
    Join,
    crosses,
    diagonals_of,
    groups_of,
    joins_of,
    lies_on,
    neighbours,
    shared_side,
    sheet_tile,
)
from notchbook.drafting.draft import Draft, Piece, Placed
from notchbook.drafting.geometry.box import Box
from notchbook.drafting.packing.folding import Fold, folds, part, regions
from notchbook.drafting.packing.raster import Region


@dataclass(frozen=True, slots=True)
class Plan:
    """The sheets of a pattern. ``numbers`` counts them in reading order, from 2 where sheet 1 is
    the cover, otherwise from 1. ``carries`` names the pieces that have paper on each. ``blank`` are
    sheets inside a piece that no line crosses: they are not printed. ``lines`` are all lines of the
    pieces, ``regions`` what is printed of each before it is placed, up to its ``folds``. A page is
    ``page`` wide and high, mm, and shows ``width`` × ``height`` of the pattern."""

    paper: str
    page: complex
    width: float
    height: float
    columns: int
    rows: int
    placed: tuple[Placed, ...]
    numbers: Mapping[Cell, int]
    carries: Mapping[Cell, tuple[str, ...]]
    blank: tuple[Cell, ...]
    regions: Mapping[str, tuple[Region, ...]]
    folds: Mapping[str, tuple[Fold, ...]]
    lines: Lines
    joins: tuple[Join, ...]
    diagonals: tuple[Diagonal, ...]

    @property
    def total(self) -> int:
        """How many sheets are printed, the cover counted."""
        return max(self.numbers.values())

    def box(self, cell: Cell) -> Box:
        """What one sheet shows of the taped pattern."""
        low = complex(cell[0] * self.width, cell[1] * self.height)
        return Box(low, low + complex(self.width, self.height))

    def sheets_of(self, piece: str) -> list[int]:
        """The numbers of the sheets that carry a piece."""
        return [self.numbers[cell] for cell, names in self.carries.items() if piece in names]


def plan(draft: Draft, paper: Paper) -> Plan:
    """Arrange a draft's pieces on sheets of a paper and work out how they are taped. Raises NoRoom.

    Pieces are halved, where the recipe asks for it, on sheets that are taped; a page for projection
    shows them with their grain down the page, since it is thrown onto the cloth.
    """
    halved = folds(draft) if paper.kind == "home" else {}
    pieces = {name: regions(piece, halved.get(name, ())) for name, piece in draft.pieces.items()}
    arrangement, size = arranged(draft, paper, pieces)
    width, height = size.real, size.imag
    placed_regions = {
        placed.piece: [
            Lines.of(walls(loop.moved(placed.turn, placed.shift) for loop in region))
            for region in pieces[placed.piece]
        ]
        for placed in arrangement.placed
    }
    lines = Lines.of(
        wall
        for placed in arrangement.placed
        for wall in _lines(
            draft.pieces[placed.piece], pieces[placed.piece], placed, halved.get(placed.piece, ())
        )
    )
    cells = sorted(arrangement.used, key=lambda cell: (cell[1], cell[0]))
    on = {
        cell: tuple(
            name
            for name, outlines in placed_regions.items()
            if any(lies_on(sheet_tile(cell, width, height), outline) for outline in outlines)
        )
        for cell in cells
    }
    carries = {
        cell: names for cell, names in on.items() if names or (paper.block and cell == (0, 0))
    }
    blank = _blank(carries, placed_regions, lines, width, height)
    carries = {cell: names for cell, names in carries.items() if cell not in blank}
    taken = Lines.of([*lines.walls, *_hatched(Box(0, paper.block))]) if paper.block else lines
    joins = joins_of(carries, placed_regions, taken, width, height)
    return Plan(
        paper.name,
        complex(paper.width, paper.height)
        if paper.kind in ("home", "shop")
        else size + paper.corner + complex(paper.margin, paper.margin),
        width,
        height,
        max(column for column, _ in carries) + 1,
        max(row for _, row in carries) + 1,
        arrangement.placed,
        {cell: n for n, cell in enumerate(carries, start=2 if paper.kind == "home" else 1)},
        carries,
        blank,
        pieces,
        halved,
        taken,
        joins,
        diagonals_of(carries, joins, taken, width, height),
    )


def _blank(
    cells: Mapping[Cell, tuple[str, ...]],
    placed: Mapping[str, list[Lines]],
    lines: Lines,
    width: float,
    height: float,
) -> tuple[Cell, ...]:
    """Sheets inside pieces that no line crosses, but for those a piece would fall apart without."""
    found: list[Cell] = []
    for cell in cells:
        if not cells[cell] or lines.touch(sheet_tile(cell, width, height)):
            continue
        for name in cells[cell]:
            left = [c for c, names in cells.items() if name in names and c not in (cell, *found)]
            held = [
                pair
                for pair in neighbours(left)
                if crosses(placed[name], *shared_side(*pair, width, height))
            ]
            if len(groups_of(left, held)) > 1:
                break
        else:
            found.append(cell)
    return tuple(found)


def _hatched(box: Box, step: float = 2.0) -> list[Wall]:
    """Lines all over a box, so close that no words go between."""
    count = int(box.height / step)
    return [
        (complex(box.low.real, y), complex(box.high.real, y))
        for y in (box.low.imag + box.height * k / count for k in range(count + 1))
    ]


def blank_walls(made: Plan) -> list[Wall]:
    """Lines that keep words off the sheets that are not printed."""
    return [wall for cell in made.blank for wall in _hatched(made.box(cell))]


def _lines(
    piece: Piece, printed: tuple[Region, ...], placed: Placed, lines: tuple[Fold, ...]
) -> list[Wall]:
    """Every line of a piece that words and marks should keep off."""
    paths = [loop for line in piece.cut_lines for loop in line.loops]
    paths += [edge.path for edge in piece.flat.edges.values()]
    paths = [kept for path in paths for kept in part(path, lines)]
    paths += [loop for region in printed for loop in region] if lines else []
    found = walls(path.moved(placed.turn, placed.shift) for path in paths)
    start, end = (p * placed.turn + placed.shift for p in piece.flat.grain)
    return [*found, (start, end)]
