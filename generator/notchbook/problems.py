"""The one way anything says that content is wrong: a sentence, its place, and what to do."""

from __future__ import annotations

import difflib
from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, order=True)
class Place:
    """Where something stands: a file as the author names it, line and column counted from 1."""

    file: str
    line: int
    column: int

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}"


@dataclass(frozen=True, slots=True, order=True)
class Problem:
    """One thing that is wrong, as a sentence, and what to do about it, as another."""

    place: Place
    what: str
    remedy: str

    def __str__(self) -> str:
        return f"{self.place}: {self.what}\n    {self.remedy}"


class ContentError(Exception):
    """Content that can't be used. Carries every problem found, in the order of their places."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems: tuple[Problem, ...] = tuple(sorted(set(problems)))
        super().__init__(self.problems)

    def __str__(self) -> str:
        return "\n".join(str(problem) for problem in self.problems)

    def __reduce__(self) -> tuple[type[ContentError], tuple[tuple[Problem, ...]]]:
        return type(self), (self.problems,)


def suggestion(word: str, known: Iterable[str]) -> str:
    """The remedy for a name nobody knows: the nearest known one, or all of them.

    >>> suggestion("brm", ["brim", "crown"])
    'Did you mean “brim”?'
    >>> suggestion("zzz", ["brim", "crown"])
    'Use one of: brim, crown.'
    """
    names = sorted(set(known))
    near = difflib.get_close_matches(word, names, n=1, cutoff=0.6)
    if near:
        return f"Did you mean “{near[0]}”?"
    return f"Use one of: {', '.join(names)}." if names else "There is nothing to choose from yet."
