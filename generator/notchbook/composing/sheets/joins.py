"""Which sheets are taped together, and what is printed to do it by: letters, marks, diagonals.

Everything is in the coordinates of the taped pattern, whose origin is the top left corner of the
grid.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass

from notchbook.composing.lettering.placing import Lines, Tile
from notchbook.drafting.geometry.vector import Point
from notchbook.drafting.letters import letter

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


def joins_of(
    cells: Mapping[Cell, tuple[str, ...]],
    placed: Mapping[str, list[Lines]],
    lines: Lines,
    width: float,
    height: float,
) -> tuple[Join, ...]:
    """The joins between sheets ``width`` × ``height`` that carry pieces ``placed`` there, marks off
    all ``lines``."""
    pairs = neighbours(cells)

    def crossed(first: Cell, second: Cell) -> bool:
        shared = [name for name in cells[first] if name in cells[second]]
        return any(
            crosses(placed[name], *shared_side(first, second, width, height)) for name in shared
        )

    groups = groups_of(cells, [pair for pair in pairs if crossed(*pair)])
    # Whatever lies in one taped group is joined all round, or one sheet's margin hides another.
    joined = [pair for pair in pairs if any(set(pair) <= set(group) for group in groups)]
    return tuple(
        Join(letter(number), *pair, _marks(*shared_side(*pair, width, height), lines))
        for number, pair in enumerate(joined)
    )


def neighbours(cells: Collection[Cell]) -> list[tuple[Cell, Cell]]:
    """Sheets that share a side, the left or upper one first."""
    return [
        (cell, second)
        for cell in cells
        for second in ((cell[0] + 1, cell[1]), (cell[0], cell[1] + 1))
        if second in cells
    ]


def crosses(outlines: list[Lines], start: Point, along: complex) -> bool:
    """Whether a piece crosses a side of a sheet."""
    seam = Tile(start + along / 2, abs(along.real) or 0.2, abs(along.imag) or 0.2)
    return any(lies_on(seam, outline) for outline in outlines)


def shared_side(first: Cell, second: Cell, width: float, height: float) -> tuple[Point, complex]:
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


def diagonals_of(
    cells: Mapping[Cell, tuple[str, ...]],
    joins: Sequence[Join],
    lines: Lines,
    width: float,
    height: float,
) -> tuple[Diagonal, ...]:
    """Two for every group of sheets that are taped together, between its farthest corners."""
    found: list[Diagonal] = []
    for group in groups_of(cells, [(join.first, join.second) for join in joins]):
        if len(group) == 1:
            continue
        for slope in (1, -1):
            reach = {cell: cell[0] * width + slope * cell[1] * height for cell in group}
            first = min(group, key=lambda cell: (reach[cell], cell))
            last = max(group, key=lambda cell: (reach[cell], cell))
            way = complex(1, slope)
            ends = (
                (first, _cross(sheet_tile(first, width, height), -way, lines)),
                (last, _cross(sheet_tile(last, width, height), way, lines)),
            )
            found.append(Diagonal(len(found) + 1, ends))
    return tuple(found)


def _cross(sheet: Tile, corner: complex, lines: Lines) -> Point:
    """A place for a cross and the words beside it off every line, in one corner of a sheet; where
    all of that is taken, as it is by what the first sheet of a copy shop says, as near to it as
    there is one."""
    half = complex(sheet.width / 2, sheet.height / 2)
    for reach in (half, 2 * half):
        places = sorted(
            (
                (right, down)
                for right in range(8, int(reach.real), 6)
                for down in range(8, int(reach.imag), 6)
            ),
            key=lambda place: (sum(place), place),
        )
        spots = [
            sheet.centre
            + complex(corner.real * (half.real - right), corner.imag * (half.imag - down))
            for right, down in places
        ]
        for spot in spots:
            if not lines.touch(Tile(spot, 12, 12)):
                return spot
    return spots[0]


def groups_of(cells: Iterable[Cell], pairs: Iterable[tuple[Cell, Cell]]) -> list[list[Cell]]:
    """The sheets that pairs hold together, each group in reading order."""
    group = {cell: number for number, cell in enumerate(cells)}
    for first, second in pairs:
        old, new = group[second], group[first]
        group = {cell: new if number == old else number for cell, number in group.items()}
    return [
        [cell for cell in group if group[cell] == number] for number in sorted(set(group.values()))
    ]


def sheet_tile(cell: Cell, width: float, height: float) -> Tile:
    """What a sheet shows of the taped pattern."""
    return Tile(complex((cell[0] + 0.5) * width, (cell[1] + 0.5) * height), width, height)


def lies_on(sheet: Tile, outline: Lines) -> bool:
    """Whether any of what lies inside an outline is on a sheet."""
    return outline.hold(sheet.centre) or outline.touch(sheet)
