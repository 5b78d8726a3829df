"""How the sheets of a pattern go together: numbers, joins, completing marks, diagonals.

Everything is in the coordinates of the taped pattern, whose origin is the top left corner of the
grid. Sheets that a piece crosses belong to one group and are taped; between two groups nobody has
to tape.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass

from notchbook.composing.lettering.placing import Lines, Tile, Wall, walls
from notchbook.composing.paper import HEADER, Paper
from notchbook.drafting.draft import Draft, Piece, Placed
from notchbook.drafting.geometry.path import Box, Point, bounds, unit
from notchbook.drafting.letters import letter
from notchbook.drafting.limits import mm
from notchbook.drafting.packing.folding import Fold, folds, part, regions
from notchbook.drafting.packing.raster import Region
from notchbook.drafting.packing.sheets import GAP, Arrangement, TooLarge, arrange

MARK = 7.0
"""How far a completing mark reaches to either side of its join, mm."""

STEP = 25.0
"""One long page is arranged in steps of its length, mm."""

_WIDE = 22.0
"""Left between pieces that are drawn with large marks, mm."""

Cell = tuple[int, int]
"""(column, row), from 0."""


class NoRoom(Exception):
    """Paper that a pattern does not go onto, in words: what is wrong, and what to do."""

    def __init__(self, what: str, remedy: str) -> None:
        self.what = what
        self.remedy = remedy
        super().__init__(what)


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
    arrangement, size = _arranged(draft, paper, pieces)
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
            if any(_on(_tile(cell, width, height), outline) for outline in outlines)
        )
        for cell in cells
    }
    carries = {
        cell: names for cell, names in on.items() if names or (paper.block and cell == (0, 0))
    }
    blank = _blank(carries, placed_regions, lines, width, height)
    carries = {cell: names for cell, names in carries.items() if cell not in blank}
    taken = Lines.of([*lines.walls, *_hatched(Box(0, paper.block))]) if paper.block else lines
    joins = _joins(carries, placed_regions, taken, width, height)
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
        _diagonals(carries, joins, taken, width, height),
    )


def _arranged(
    draft: Draft, paper: Paper, pieces: Mapping[str, tuple[Region, ...]]
) -> tuple[Arrangement, complex]:
    """The pieces on their sheets, and the width and height that a sheet shows, mm."""
    width = paper.width - 2 * paper.margin
    height = paper.height - 2 * paper.margin - HEADER
    if paper.kind in ("home", "shop"):
        return arrange(pieces, width, height, kept=paper.block), complex(width, height)
    turns, gap = None, GAP
    if paper.kind == "projection":
        turns = {name: _upright(piece.flat.grain) for name, piece in draft.pieces.items()}
        widest = max(
            bounds([loop.moved(turns[name][0]) for region in those for loop in region]).width
            for name, those in pieces.items()
        )
        gap = _WIDE
        width = max(width, widest + 2 * gap)
    long = _strips(pieces, width, paper.block, turns, gap)
    lowest = max(
        bounds([loop.moved(placed.turn, placed.shift)]).high.imag
        for placed in long.placed
        for region in pieces[placed.piece]
        for loop in region
    )
    length = max(lowest + gap, paper.block.imag)
    if length > height:
        what = (
            f"In size “{draft.size.id}” the pieces take {mm(length)} of “{paper.name}”, "
            f"and one page is {mm(paper.height)} long at most."
        )
        raise NoRoom(what, f"Leave “{paper.name}” out of papers: a0 makes several pages of it.")
    sheets = frozenset((column, 0) for column, _ in long.used)
    return Arrangement(long.placed, long.columns, 1, sheets), complex(width, length)


def _strips(
    pieces: Mapping[str, tuple[Region, ...]],
    width: float,
    block: complex,
    turns: Mapping[str, tuple[complex, complex]] | None,
    gap: float,
) -> Arrangement:
    """Pieces on one long page, or on as many side by side as the widest piece needs."""
    columns = 1
    while True:
        try:
            return arrange(pieces, width, STEP, columns=columns, kept=block, turns=turns, gap=gap)
        except TooLarge:
            columns += 1


def _upright(grain: tuple[Point, Point]) -> tuple[complex, complex]:
    """The two turns that lay a grain line down the page."""
    turn = 1j / unit(grain[1] - grain[0])
    return turn, -turn


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
        if not cells[cell] or lines.touch(_tile(cell, width, height)):
            continue
        for name in cells[cell]:
            left = [c for c, names in cells.items() if name in names and c not in (cell, *found)]
            held = [
                pair
                for pair in _pairs(left)
                if _crosses(placed[name], *_side(*pair, width, height))
            ]
            if len(_groups(left, held)) > 1:
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


def _tile(cell: Cell, width: float, height: float) -> Tile:
    return Tile(complex((cell[0] + 0.5) * width, (cell[1] + 0.5) * height), width, height)


def _on(sheet: Tile, outline: Lines) -> bool:
    """Whether any of what lies inside an outline is on a sheet."""
    return outline.hold(sheet.centre) or outline.touch(sheet)


def _joins(
    cells: Mapping[Cell, tuple[str, ...]],
    placed: Mapping[str, list[Lines]],
    lines: Lines,
    width: float,
    height: float,
) -> tuple[Join, ...]:
    pairs = _pairs(cells)

    def crossed(first: Cell, second: Cell) -> bool:
        shared = [name for name in cells[first] if name in cells[second]]
        return any(_crosses(placed[name], *_side(first, second, width, height)) for name in shared)

    groups = _groups(cells, [pair for pair in pairs if crossed(*pair)])
    # Whatever lies in one taped group is joined all round, or one sheet's margin hides another.
    joined = [pair for pair in pairs if any(set(pair) <= set(group) for group in groups)]
    return tuple(
        Join(letter(number), *pair, _marks(*_side(*pair, width, height), lines))
        for number, pair in enumerate(joined)
    )


def _pairs(cells: Collection[Cell]) -> list[tuple[Cell, Cell]]:
    """Sheets that share a side, the left or upper one first."""
    return [
        (cell, second)
        for cell in cells
        for second in ((cell[0] + 1, cell[1]), (cell[0], cell[1] + 1))
        if second in cells
    ]


def _crosses(outlines: list[Lines], start: Point, along: complex) -> bool:
    """Whether a piece crosses a side of a sheet."""
    seam = Tile(start + along / 2, abs(along.real) or 0.2, abs(along.imag) or 0.2)
    return any(_on(seam, outline) for outline in outlines)


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
        (
            (right, down)
            for right in range(8, int(half.real), 6)
            for down in range(8, int(half.imag), 6)
        ),
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
