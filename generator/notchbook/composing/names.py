"""Names that authors give to parts of a recipe, as readers see them."""

from __future__ import annotations


def plain(name: str) -> str:
    """The name of a piece, an edge or a cloth as words: ``other_front`` is “other front”."""
    return name.replace("_", " ")
