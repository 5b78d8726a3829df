"""The starter recipe as tests press it: in one size beside the usual, which is quick."""

from __future__ import annotations

from pathlib import Path

from notchbook.pressing.begin import begin


def begin_small(content: Path) -> Path:
    """Begin a recipe, ``cosy``, in a content folder; its file."""
    begin(content, "cosy")
    recipe = content / "recipes" / "cosy" / "recipe.md"
    text = recipe.read_text()
    recipe.write_text(text[: text.index("  large:")] + text[text.index("\ncloths:") :])
    return recipe
