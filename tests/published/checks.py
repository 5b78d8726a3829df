"""How a figure published elsewhere is held against one measured in a file of ours.

A check runs from a recipe's text to the written file, and runs again with one formula of that text
1 % larger and 1 % smaller: every figure has to be seen to fail in one of these.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path as File
from typing import NamedTuple

from tests.published.written import Written, write

INCH = 25.4
"""Millimetres (international yard and pound agreement, 1959)."""


class Figure(NamedTuple):
    """What we measured, and what is published, as finely as it was printed."""

    what: str
    ours: float
    published: float
    tolerance: float

    @property
    def agrees(self) -> bool:
        """Whether ours is the published one."""
        return abs(self.ours - self.published) <= self.tolerance


def wrong(figures: Iterable[Figure]) -> list[Figure]:
    """The figures that are not as published."""
    return [figure for figure in figures if not figure.agrees]


def check(
    front: str, figures: Callable[[Written], Iterator[Figure]], *formulas: str, folder: File
) -> None:
    """Hold what is measured in the pattern and the record of a recipe with this front matter
    against published figures, as ``notices`` does."""
    notices(front, lambda text: figures(write(text, folder)), *formulas)


def notices(text: str, measure: Callable[[str], Iterable[Figure]], *formulas: str) -> None:
    """Hold what is measured in the files of a recipe against published figures.

    ``formulas`` are found in its text, with their names: ``rim: pi * 5 in``. Each is put 1 % off
    in turn, which must be noticed; and each figure must notice one of them, both ways.
    """
    measured = list(measure(text))
    assert measured
    assert not wrong(measured), wrong(measured)
    for factor in (1.01, 0.99):
        noticed: set[str] = set()
        for formula in formulas:
            seen = wrong(measure(off(text, formula, factor)))
            assert seen, f"nobody notices {formula} times {factor}"
            noticed.update(figure.what for figure in seen)
        blunt = {figure.what for figure in measured} - noticed
        assert not blunt, f"no formula times {factor} moves {sorted(blunt)}"


def off(text: str, formula: str, factor: float) -> str:
    """A recipe's text with a formula multiplied by a factor wherever it stands."""
    name, value = formula.rsplit(": ", 1)
    put_off, count = re.subn(
        rf"(?<!\w){re.escape(formula)}(?=[\n,}}])", f"{name}: ({value}) * {factor}", text
    )
    assert count, f"{formula} is not in the text"
    return put_off
