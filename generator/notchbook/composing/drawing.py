"""Drawings: display lists in millimetres, one kind for pieces, sheets and figures.

A drawing says what is drawn and in which *role* (``cut``, ``stitch``, ``label`` …); ``symbols``
says once how each role looks, and ``markup.svg`` turns both into SVG.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Literal

from notchbook.drafting.geometry.box import Box
from notchbook.drafting.geometry.path import Path
from notchbook.drafting.geometry.vector import Point

Anchor = Literal["start", "middle", "end"]


@dataclass(frozen=True, slots=True)
class Stroke:
    """Paths drawn as lines in one role. ``data`` becomes ``data-*`` attributes."""

    paths: tuple[Path, ...]
    role: str
    data: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Fill:
    """Closed paths filled together by the even-odd rule, so that inner ones are holes."""

    paths: tuple[Path, ...]
    role: str
    data: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Text:
    """One line of type. ``at`` is on the baseline, ``size`` the em in mm, ``angle`` in degrees
    clockwise as seen about ``at``."""

    at: Point
    text: str
    role: str
    size: float
    anchor: Anchor = "start"
    angle: float = 0.0


@dataclass(frozen=True, slots=True)
class Group:
    """Items that belong together under one id. ``title`` is read aloud, never drawn."""

    items: tuple[Item, ...]
    id: str = ""
    title: str = ""
    data: Mapping[str, str] = field(default_factory=dict)


Item = Stroke | Fill | Text | Group


@dataclass(frozen=True, slots=True)
class Drawing:
    """A page of items. ``box`` is what is seen, in mm; ``title`` its alternative text."""

    box: Box
    items: tuple[Item, ...]
    title: str
    description: str = ""


def moved(item: Item, turn: complex = 1, shift: complex = 0) -> Item:
    """The item with every point p taken to ``p * turn + shift``; ``turn`` is a unit direction.
    Words turn with it: to keep them upright, draw the thing already turned."""
    match item:
        case Stroke() | Fill():
            return replace(item, paths=tuple(path.moved(turn, shift) for path in item.paths))
        case Text():
            return replace(
                item,
                at=item.at * turn + shift,
                angle=item.angle + math.degrees(cmath.phase(turn)),
            )
        case Group():
            return replace(item, items=tuple(moved(child, turn, shift) for child in item.items))
