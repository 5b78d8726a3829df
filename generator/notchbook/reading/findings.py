"""Problems as they are found, so that one run reports all of a file."""

from __future__ import annotations

from notchbook.problems import ContentError, Place, Problem


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
