"""Broken lines that can't be taken for each other, as many as are asked for.

A line repeats a row of marks, each long, short or a dot. On paper a row is told from another only
if it stays another one wherever it is begun and from whichever end it is read: what remains are the
*bracelets* of combinatorics. Those that repeat within themselves (long, long) look like a shorter
one (long) and are left out. So there are 3 of one mark, then 3, 7, 15 and 36 more, simple ones
first.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import chain, product

MARKS = (10.0, 4.0, 0.8)
"""Length of a long mark, a short one and a dot, mm: each at least twice the next."""

GAP = 1.6
"""Between two marks, mm."""

LONGEST = 5
"""Marks in a row, at most."""


def dashes() -> Iterator[tuple[float, ...]]:
    """Rows of marks and gaps in mm, the unbroken line first.

    >>> from itertools import islice
    >>> list(islice(dashes(), 4))
    [(), (10.0, 1.6), (4.0, 1.6), (0.8, 1.6)]
    """
    yield ()
    for count in range(1, LONGEST + 1):
        for marks in product(MARKS, repeat=count):
            if marks == max(alike(marks)) and len(set(turned(marks))) == count:
                yield tuple(chain.from_iterable((mark, GAP) for mark in marks))


def turned(marks: tuple[float, ...]) -> list[tuple[float, ...]]:
    """A row begun at each of its marks."""
    return [marks[k:] + marks[:k] for k in range(len(marks))]


def alike(marks: tuple[float, ...]) -> list[tuple[float, ...]]:
    """Every row that looks the same: begun elsewhere, or read from the other end."""
    return [*turned(marks), *turned(marks[::-1])]
