"""The formula language: its tree and how text becomes one. The grammar is ``formula.lark``.

Evaluation belongs to drafting, which alone knows the values behind the names.
"""

from __future__ import annotations

from dataclasses import dataclass

from notchbook.problems import Place
from notchbook.reading.quantity import Quantity


@dataclass(frozen=True, slots=True)
class Number:
    """A literal: ``12 mm``, ``1 1/4 in``, ``0.5``."""

    quantity: Quantity
    place: Place


@dataclass(frozen=True, slots=True)
class Name:
    """A measure, working, or a property of a cloth (``shell.thickness``)."""

    name: str
    place: Place


@dataclass(frozen=True, slots=True)
class Minus:
    """A sign: −x."""

    of: Node
    place: Place


@dataclass(frozen=True, slots=True)
class Binary:
    """``+ - * / ^`` and, in ``require:`` alone, the comparisons ``< <= > >= ==``."""

    operator: str
    left: Node
    right: Node
    place: Place


@dataclass(frozen=True, slots=True)
class Call:
    """A function of values: ``hypot(a, b)``."""

    function: str
    arguments: tuple[Node, ...]
    place: Place


@dataclass(frozen=True, slots=True)
class Geometry:
    """``length(piece.edge)``, ``area(piece)``, ``volume(piece)``: reads the drafted geometry."""

    function: str
    piece: str
    edge: str | None
    place: Place


Node = Number | Name | Minus | Binary | Call | Geometry


@dataclass(frozen=True, slots=True)
class Formula:
    """A formula as written, and its tree."""

    text: str
    tree: Node
    place: Place
