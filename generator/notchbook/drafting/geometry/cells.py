"""Cells of a grid as rows of bits: those that lines touch, and those inside outlines.

Bit ``i`` of row ``j`` stands for the cell from ``i`` to ``i + 1`` across and ``j`` to ``j + 1``
down, lengths being counted in cells. Python's integers are the rows.
"""

from __future__ import annotations

from collections.abc import Iterable
from math import ceil, floor

Side = tuple[float, float, float, float]
"""A straight line by the x and y of its start and of its end."""


def touched(sides: Iterable[Side], rows: int, grow: tuple[float, float] = (0.0, 0.0)) -> list[int]:
    """The cells of so many rows that some lines touch, grown by so much across and down (by a
    rectangle: never less than that in any direction). What lies left of the grid is left out."""
    found = [0] * rows
    across, down = grow
    for ax, ay, bx, by in sides:
        if ay > by:
            ax, ay, bx, by = bx, by, ax, ay
        first, last = floor(ay - down), floor(by + down)
        if first == last:
            # Most lines are short, and all of such a one lies in a single row.
            if 0 <= first < rows:
                left, right = (ax, bx) if ax < bx else (bx, ax)
                start, end = floor(left - across), floor(right + across)
                if end >= 0:
                    found[first] |= run(start if start > 0 else 0, end)
            continue
        first, last = max(first, 0), min(last, rows - 1)
        level = by - ay < 1e-9
        slope = 0.0 if level else (bx - ax) / (by - ay)
        for row in range(first, last + 1):
            # The stretch of the line within reach of the row.
            high, low = row - down, row + 1 + down
            left = ax if level or high <= ay else ax + (high - ay) * slope
            right = bx if level or low >= by else ax + (low - ay) * slope
            if left > right:
                left, right = right, left
            start, end = floor(left - across), floor(right + across)
            if end >= 0:
                found[row] |= run(start if start > 0 else 0, end)
    return found


def inside(outlines: Iterable[Side], rows: int) -> list[int]:
    """The cells of so many rows between the places where closed outlines cross a row's middle:
    even-odd, so that holes are outside. Those that the outlines touch may be among them or not."""
    crossings: list[list[float]] = [[] for _ in range(rows)]
    for ax, ay, bx, by in outlines:
        if ay > by:
            ax, ay, bx, by = bx, by, ax, ay
        first, end = max(ceil(ay - 0.5), 0), min(ceil(by - 0.5), rows)
        for row in range(first, end):
            crossings[row].append(ax + (row + 0.5 - ay) * (bx - ax) / (by - ay))
    found = []
    for places in crossings:
        places.sort()
        cells = 0
        # Where an outline misses its own start by a hair there may be one crossing too few.
        for enter, leave in zip(places[::2], places[1::2], strict=False):
            if leave >= 0:
                cells |= run(max(floor(enter), 0), floor(leave))
        found.append(cells)
    return found


def run(first: int, last: int) -> int:
    """Bits ``first`` to ``last`` set, both counted."""
    return ((2 << (last - first)) - 1) << first


def all_of(rows: list[int], count: int) -> list[int]:
    """For each row, what is set in it and in the ``count`` − 1 rows below it; there are that many
    fewer. By doubling: log₂ ``count`` steps."""
    done = 1
    while done < count:
        step = min(done, count - done)
        rows = [row & below for row, below in zip(rows, rows[step:], strict=False)]
        done += step
    return rows


def runs_of(row: int, count: int) -> int:
    """The bits of a row that begin a run of at least ``count`` set ones, by doubling."""
    done = 1
    while done < count and row:
        step = min(done, count - done)
        row &= row >> step
        done += step
    return row
