"""Words set in rows."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from notchbook.composing.drawing import Item, Text
from notchbook.composing.numbers import SPACE
from notchbook.composing.setting import Setting
from notchbook.composing.symbols import TYPES
from notchbook.composing.values import glued
from notchbook.drafting.geometry.box import Box
from notchbook.drafting.geometry.vector import Point

_LEADING = 1.38
"""From baseline to baseline, ems."""


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


def packed(entries: Iterable[str], width: float, size: float, setting: Setting) -> list[str]:
    """Entries in rows no wider than ``width`` mm, as many in each as it has room for; one that is
    wider has a row of its own, still to be wrapped."""
    rows: list[str] = []
    for entry in entries:
        longer = f"{rows[-1]}{SPACE * 4}{entry.replace(' ', SPACE)}" if rows else ""
        if longer and setting.width(longer, size) <= width:
            rows[-1] = longer
        else:
            rows.append(entry)
    return rows


def paragraph(
    words: str, at: Point, width: float, size: float, setting: Setting, role: str = "note"
) -> list[Item]:
    """Words set in rows no wider than ``width``, the first one's baseline at ``at``."""
    rows = wrapped(words, width, size, setting, TYPES[role].weight)
    step = size * _LEADING * 1j
    return [Text(at + k * step, row, role, size) for k, row in enumerate(rows)]


def lowest(items: Iterable[Item]) -> float:
    """The lowest baseline of some items."""
    return max(item.at.imag for item in items if isinstance(item, Text))


def flow(
    rows: Sequence[str], columns: Sequence[Box], size: float, setting: Setting
) -> tuple[list[Item], list[str]]:
    """Paragraphs set in columns, the first baseline of each at its box's top and none below its
    foot; and the paragraphs for which there was no room."""
    items: list[Item] = []
    left = list(rows)
    for column in columns:
        y = column.low.imag
        while left:
            lines = paragraph(left[0], complex(column.low.real, y), column.width, size, setting)
            if lowest(lines) > column.high.imag:
                break
            items += lines
            del left[0]
            y = lowest(lines) + size * _LEADING * 1.1
    return items, left
