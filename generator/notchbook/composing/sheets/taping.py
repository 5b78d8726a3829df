"""How the sheets of a pattern go together: numbers, joins, completing marks, diagonals.

Everything is in the coordinates of the taped pattern, whose origin is the top left corner of the
grid. Sheets that a piece crosses belong to one group and are taped; between two groups nobody has
to tape.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from notchbook.composing.lettering.placing import Lines, Tile, Wall, walls
from notchbook.composing.paper import Paper
from notchbook.drafting.draft import Draft, Piece, Placed
from notchbook.drafting.geometry.path import Box, Point
from notchbook.drafting.letters import letter
from notchbook.drafting.packing.raster import outermost
from notchbook.drafting.packing.sheets import arrange

HEADER = 8.0
"""Height of the band above the frame that says what the sheet is, mm."""

MARK = 7.0
"""How far a completing mark reaches to either side of its join, mm."""

Cell = tuple[int, int]
"""(column, row), from 0."""


@dataclass(frozen=True, slots=True)
class Join:
    """A side two sheets share. ``first`` is the left or upper one, and ``marks`` are where the
    completing marks are centred."""

    letter: str
    first: Cell
    second: Cell
    marks: tuple[Point, ...]

    @property
    def beside(self) -> bool:
        """Whether the sheets lie side by side (otherwise one below the other)."""
        return self.first[1] == self.second[1]


@dataclass(frozen=True, slots=True)
class Diagonal:
    """Two crosses of the same number, to be measured from one to the other after taping."""

    number: int
    ends: tuple[tuple[Cell, Point], tuple[Cell, Point]]

    @property
    def length(self) -> float:
        """From cross to cross, mm."""
        return abs(self.ends[1][1] - self.ends[0][1])


@dataclass(frozen=True, slots=True)
class Plan:
    """The sheets of a pattern. ``numbers`` counts them in reading order, from 2: sheet 1 is the
    cover. ``carries`` names the pieces that have paper on each. ``lines`` are all lines of the
    pieces."""

    width: float
    height: float
    columns: int
    rows: int
    placed: tuple[Placed, ...]
    numbers: Mapping[Cell, int]
    carries: Mapping[Cell, tuple[str, ...]]
    lines: Lines
    joins: tuple[Join, ...]
    diagonals: tuple[Diagonal, ...]

    @property
    def total(self) -> int:
        """How many sheets are printed, the cover counted."""
        return len(self.numbers) + 1

    def box(self, cell: Cell) -> Box:
        """What one sheet shows of the taped pattern."""
        low = complex(cell[0] * self.width, cell[1] * self.height)
        return Box(low, low + complex(self.width, self.height))

    def sheets_of(self, piece: str) -> list[int]:
        """The numbers of the sheets that carry a piece."""
        return [self.numbers[cell] for cell, names in self.carries.items() if piece in names]


def plan(draft: Draft, paper: Paper) -> Plan:
    """Arrange a draft's pieces on sheets of a paper and work out how they are taped."""
    width = paper.width - 2 * paper.margin
    height = paper.height - 2 * paper.margin - HEADER
    arrangement = arrange(
        {name: outermost(piece) for name, piece in draft.pieces.items()}, width, height
    )
    regions = {
        placed.piece: [
            Lines.of(walls(loop.moved(placed.turn, placed.shift) for loop in region))
            for region in outermost(draft.pieces[placed.piece])
        ]
        for placed in arrangement.placed
    }
    cells = sorted(arrangement.used, key=lambda cell: (cell[1], cell[0]))
    on = {
        cell: tuple(
            name
            for name, outlines in regions.items()
            if any(_on(_tile(cell, width, height), outline) for outline in outlines)
        )
        for cell in cells
    }
    carries = {cell: names for cell, names in on.items() if names}
    lines = Lines.of(
        wall for placed in arrangement.placed for wall in _lines(draft.pieces[placed.piece], placed)
    )
    joins = _joins(carries, regions, lines, width, height)
    return Plan(
        width,
        height,
        arrangement.columns,
        arrangement.rows,
        arrangement.placed,
        {cell: number for number, cell in enumerate(carries, start=2)},
        carries,
        lines,
        joins,
        _diagonals(carries, joins, lines, width, height),
    )


def _lines(piece: Piece, placed: Placed) -> list[Wall]:
    """Every line of a piece that words and marks should keep off."""
    paths = [loop for line in piece.cut_lines for loop in line.loops]
    paths += [edge.path for edge in piece.flat.edges.values()]
    found = walls(path.moved(placed.turn, placed.shift) for path in paths)
    start, end = (p * placed.turn + placed.shift for p in piece.flat.grain)
    return [*found, (start, end)]


def _tile(cell: Cell, width: float, height: float) -> Tile:
    return Tile(complex((cell[0] + 0.5) * width, (cell[1] + 0.5) * height), width, height)


def _on(sheet: Tile, outline: Lines) -> bool:
    """Whether any of what lies inside an outline is on a sheet."""
    return outline.hold(sheet.centre) or outline.touch(sheet)


def _joins(
    cells: Mapping[Cell, tuple[str, ...]],
    regions: Mapping[str, list[Lines]],
    lines: Lines,
    width: float,
    height: float,
) -> tuple[Join, ...]:
    pairs = [
        (cell, second)
        for cell in cells
        for second in ((cell[0] + 1, cell[1]), (cell[0], cell[1] + 1))
        if second in cells
    ]

    def crossed(first: Cell, second: Cell) -> bool:
        shared = [name for name in cells[first] if name in cells[second]]
        start, along = _side(first, second, width, height)
        seam = Tile(start + along / 2, abs(along.real) or 0.2, abs(along.imag) or 0.2)
        return any(_on(seam, outline) for name in shared for outline in regions[name])

    groups = _groups(cells, [pair for pair in pairs if crossed(*pair)])
    # Whatever lies in one taped group is joined all round, or one sheet's margin hides another.
    joined = [pair for pair in pairs if any(set(pair) <= set(group) for group in groups)]
    return tuple(
        Join(letter(number), *pair, _marks(*_side(*pair, width, height), lines))
        for number, pair in enumerate(joined)
    )


def _side(first: Cell, second: Cell, width: float, height: float) -> tuple[Point, complex]:
    """Where the side two sheets share begins, and how it runs."""
    start = complex(second[0] * width, second[1] * height)
    return start, (height * 1j if second[0] > first[0] else width + 0j)


def _marks(start: Point, along: complex, lines: Lines) -> tuple[Point, Point]:
    """Two places along a side, near a quarter and three quarters of it, that no line comes near if
    there are such places."""

    def best(target: float) -> Point:
        shares = sorted((k / 40 for k in range(-9, 10)), key=lambda step: (abs(step), step))
        places = [start + along * (target + step) for step in shares]
        size = 2 * MARK + 3
        return next((p for p in places if not lines.touch(Tile(p, size, size))), places[0])

    return best(0.27), best(0.73)


def _diagonals(
    cells: Mapping[Cell, tuple[str, ...]],
    joins: Sequence[Join],
    lines: Lines,
    width: float,
    height: float,
) -> tuple[Diagonal, ...]:
    """Two for every group of sheets that are taped together, between its farthest corners."""
    found: list[Diagonal] = []
    for group in _groups(cells, [(join.first, join.second) for join in joins]):
        if len(group) == 1:
            continue
        for slope in (1, -1):
            reach = {cell: cell[0] * width + slope * cell[1] * height for cell in group}
            first = min(group, key=lambda cell: (reach[cell], cell))
            last = max(group, key=lambda cell: (reach[cell], cell))
            way = complex(1, slope)
            ends = (
                (first, _cross(_tile(first, width, height), -way, lines)),
                (last, _cross(_tile(last, width, height), way, lines)),
            )
            found.append(Diagonal(len(found) + 1, ends))
    return tuple(found)


def _cross(sheet: Tile, corner: complex, lines: Lines) -> Point:
    """A place for a cross and the words beside it, in one corner of a sheet, off every line if
    there is one."""
    half = complex(sheet.width / 2, sheet.height / 2)
    places = sorted(
        ((right, down) for right in range(8, 60, 6) for down in range(8, 60, 6)),
        key=lambda place: (sum(place), place),
    )
    spots = [
        sheet.centre + complex(corner.real * (half.real - right), corner.imag * (half.imag - down))
        for right, down in places
    ]
    return next((spot for spot in spots if not lines.touch(Tile(spot, 12, 12))), spots[0])


def _groups(cells: Iterable[Cell], pairs: Iterable[tuple[Cell, Cell]]) -> list[list[Cell]]:
    """The sheets that pairs hold together, each group in reading order."""
    group = {cell: number for number, cell in enumerate(cells)}
    for first, second in pairs:
        old, new = group[second], group[first]
        group = {cell: new if number == old else number for cell, number in group.items()}
    return [
        [cell for cell in group if group[cell] == number] for number in sorted(set(group.values()))
    ]
