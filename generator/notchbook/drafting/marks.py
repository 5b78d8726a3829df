"""What is printed at a notch: its number, and a letter where one edge has the notches of several
seams. Twins carry the same mark on every piece."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass

from notchbook.drafting.draft import Draft, Notch
from notchbook.drafting.letters import SMALL, letter


def seam_letters(draft: Draft) -> Mapping[str, str]:
    """A small letter for every seam that shares an edge's notches with another seam, so that
    the numbers on one edge can't be taken for each other. The same on every piece."""
    shared: set[str] = set()
    for piece in draft.pieces.values():
        seams: dict[str, set[str]] = {}
        for notch in piece.notches:
            seams.setdefault(notch.edge, set()).add(notch.seam)
        for names in seams.values():
            if len(names) > 1:
                shared |= names
    ordered = [name for name in draft.seams if name in shared]
    return {name: letter(k, SMALL) for k, name in enumerate(ordered)}


@dataclass(frozen=True, slots=True)
class Marks:
    """The words at the notches of one draft. ``letters`` by seam, see ``seam_letters``;
    ``numbered`` are the seams with several notches on any one edge, which need telling apart: all
    of such a seam's notches have a number, also on a side whose edges have one each."""

    letters: Mapping[str, str]
    numbered: frozenset[str]

    @staticmethod
    def of(draft: Draft) -> Marks:
        """The marks of a draft's pieces."""
        numbered = frozenset(
            seam
            for piece in draft.pieces.values()
            for (_, seam), count in Counter(
                (n.edge, n.seam) for n in piece.notches if n.number is not None
            ).items()
            if count > 1
        )
        return Marks(seam_letters(draft), numbered)

    def words(self, notch: Notch) -> str:
        """``3``, or ``b3`` in a lettered seam; none where the seam has no other numbered notch."""
        if notch.number is None or notch.seam not in self.numbered:
            return ""
        return f"{self.letters.get(notch.seam, '')}{notch.number}"
