"""Tables of numbers to measure off by hand, in both unit systems, as many columns beside each other
as there is room for."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from notchbook.composing import numbers
from notchbook.composing.drawing import Item, Stroke, Text, moved
from notchbook.composing.figures.size import SIZE
from notchbook.composing.numbers import SPACE, Pair
from notchbook.composing.pairs import ordered
from notchbook.composing.setting import Setting
from notchbook.drafting.geometry.path import polyline

_STEP = SIZE * 1.1
"""From row to row, mm."""
_APART = 1.6
"""Between columns of numbers, mm."""
_BETWEEN = 3.5
"""Between tables beside each other, mm."""


@dataclass(frozen=True, slots=True)
class Row:
    """A point's name, and its distances, mm."""

    label: str
    values: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class NumberTable:
    """Rows below the headings of their distances."""

    heads: tuple[str, ...]
    rows: tuple[Row, ...]


Numbered = tuple[str, NumberTable]
"""A table and the number of the panel it is for."""

_UNITS = Pair("mm", "in")


@dataclass(frozen=True, slots=True)
class _Columns:
    """How wide the names are, the two numbers below each heading, and all of it, mm."""

    names: float
    pairs: Sequence[tuple[float, float]]
    wide: float


_Sized = tuple[str, NumberTable, _Columns]


def set_tables(tables: Sequence[Numbered], wide: float, setting: Setting) -> tuple[Item, ...]:
    """All tables, broken into parts beside each other so that they take the least height in a width
    of ``wide`` mm; below each other where they have no room beside each other. The first row's top
    left corner is the origin."""
    items: list[Item] = []
    top = 0.0
    sized = [(number, table, _columns(table, setting)) for number, table in tables]
    for band in _bands(sized, wide):
        x = 0.0
        for number, table, columns in band:
            found = _set(number, table, columns, setting)
            items += [moved(item, shift=complex(x, top)) for item in found]
            x += columns.wide + _BETWEEN
        top += _STEP * (max(len(table.rows) for _, table, _ in band) + 2.2) + 2.3
    return tuple(items)


def _bands(tables: Sequence[_Sized], wide: float) -> Iterator[Sequence[_Sized]]:
    if not tables:
        return
    for most in range(1, max(len(table.rows) for _, table, _ in tables) + 1):
        parts = [part for table in tables for part in _parts(table, most)]
        if sum(columns.wide + _BETWEEN for _, _, columns in parts) - _BETWEEN <= wide:
            yield parts
            return
    if len(tables) == 1:
        yield tables
        return
    for table in tables:
        yield from _bands([table], wide)


def _parts(sized: _Sized, most: int) -> Iterator[_Sized]:
    number, table, columns = sized
    each = math.ceil(len(table.rows) / math.ceil(len(table.rows) / most))
    for start in range(0, len(table.rows), each):
        yield number, NumberTable(table.heads, table.rows[start : start + each]), columns


def _pair(mm: float, setting: Setting) -> tuple[str, str]:
    metric, inch = numbers.radius(mm)
    bare = Pair(metric.removesuffix(f"{SPACE}mm"), inch.removesuffix(f"{SPACE}in"))
    return ordered(bare, setting)


def _columns(table: NumberTable, setting: Setting) -> _Columns:
    names = max(2.5, *(setting.width(row.label, SIZE) for row in table.rows))
    pairs = []
    for k, head in enumerate(table.heads):
        numbers_ = [_pair(row.values[k], setting) for row in table.rows]
        first, second = (
            max(setting.width(word, SIZE) for word in column)
            for column in zip(*numbers_, ordered(_UNITS, setting), strict=True)
        )
        more = max(setting.width(head, SIZE) - first - second - _APART, 0.0)
        pairs.append((first, second + more))
    wide = names + sum(first + second + _APART * 2.4 for first, second in pairs)
    return _Columns(names, pairs, wide)


def _set(number: str, table: NumberTable, columns: _Columns, setting: Setting) -> Iterator[Item]:
    yield Text(1j * _STEP * 0.8, number, "strong", SIZE)
    feet = [_STEP * (j + 2.9) + 0.8 for j in range(len(table.rows))]
    for y, row in zip(feet, table.rows, strict=True):
        yield Text(1j * y, row.label, "label", SIZE)
    x = columns.names
    for k, (head, (first, second)) in enumerate(zip(table.heads, columns.pairs, strict=True)):
        ends = x + _APART * 1.4 + first, x + _APART * 2.4 + first + second
        x = ends[1]
        yield Text(complex(x, _STEP * 0.8), head, "label", SIZE, "end")
        for end, unit in zip(ends, ordered(_UNITS, setting), strict=True):
            yield Text(complex(end, _STEP * 1.8), unit, "label", SIZE, "end")
        for y, row in zip(feet, table.rows, strict=True):
            for end, word in zip(ends, _pair(row.values[k], setting), strict=True):
                yield Text(complex(end, y), word, "number", SIZE, "end")
    y = _STEP * 2.05 + 0.3
    yield Stroke((polyline(1j * y, complex(x, y)),), "dimension")
