"""The one way anything says that content is wrong: a sentence, its place, and what to do."""

from __future__ import annotations

import difflib
from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, order=True)
class Place:
    """Where something stands: a file as the author names it, line and column counted from 1.
    What has no lines (a folder, an option of a command) leaves them out."""

    file: str
    line: int = 0
    column: int = 0

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}" if self.line else self.file


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


def fault(place: Place, what: str, remedy: str) -> ContentError:
    """One problem, to be raised."""
    return ContentError([Problem(place, what, remedy)])


class Findings:
    """Collects problems. Readers add to it and go on with something harmless in place of what they
    could not read; whoever made it calls ``settle`` before the result is used."""

    __slots__ = ("problems",)

    def __init__(self) -> None:
        self.problems: list[Problem] = []

    def add(self, place: Place, what: str, remedy: str) -> None:
        self.problems.append(Problem(place, what, remedy))

    def take(self, error: ContentError) -> None:
        self.problems += error.problems

    def settle(self) -> None:
        """Raises ContentError with everything found, if anything was."""
        if self.problems:
            raise ContentError(self.problems)


def suggestion(word: str, known: Iterable[str]) -> str:
    """The remedy for a name nobody knows: the nearest known one, or all of them.

    >>> suggestion("brm", ["brim", "crown"])
    'Did you mean “brim”?'
    >>> suggestion("zzz", ["brim", "crown"])
    'Use one of: brim, crown.'
    """
    names = sorted(set(known))
    near = nearest(word, names)
    if near:
        return f"Did you mean “{near}”?"
    if len(names) == 1:
        return f"The only one there is: {names[0]}."
    return f"Use one of: {', '.join(names)}." if names else "There is nothing to choose from yet."


def nearest(word: str, known: Iterable[str]) -> str | None:
    """The name that was most likely meant: one with other capitals, one spelt nearly so, one that
    begins like it, or one that it abbreviates (``hgt`` for ``height``)."""
    lower = {name.casefold(): name for name in sorted(set(known), reverse=True)}
    said = word.casefold()
    if said in lower:
        return lower[said]
    near = difflib.get_close_matches(said, lower, n=1, cutoff=0.6)
    if not near and len(said) >= 2:
        near = [name for name in lower if name.startswith(said)]
        near = near or [name for name in lower if len(name) >= 2 and said.startswith(name)]
        near = near or [name for name in lower if _abbreviates(said, name)]
    # Of several, the one nearest in length.
    return lower[min(near, key=lambda name: (abs(len(name) - len(said)), name))] if near else None


def _abbreviates(short: str, name: str) -> bool:
    """Whether the letters of ``short`` stand in ``name`` in their order, the first one first."""
    letters = iter(name)
    return short[:1] == name[:1] and all(letter in letters for letter in short)
