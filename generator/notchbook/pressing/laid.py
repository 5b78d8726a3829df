"""One seam of one recipe, its sides laid along each other, as an SVG file."""

from __future__ import annotations

from pathlib import Path

from notchbook.composing.markup.svg import svg
from notchbook.composing.seam_drawing import lay_seam
from notchbook.drafting.joins import SEAM_MISS
from notchbook.drafting.worst import worst_draft
from notchbook.gathering.recipes import find_recipe
from notchbook.pressing.manuscript import read_manuscript
from notchbook.pressing.one_file import write_one


def lay(content: Path, name: str, seam: str, out: Path) -> str:
    """Draw a seam of the recipe of that name into a file; what it shows, in a sentence. Where its
    sides don't meet, the set of measures where they miss most, otherwise the usual one. Raises
    ContentError, nothing written."""
    manuscript = read_manuscript(content, lambda: (find_recipe(content, name),))
    (recipe,) = manuscript.recipes.values()
    made = worst_draft(recipe, seam)
    drawing = lay_seam(made, seam, manuscript.setting)
    write_one(out, svg(drawing, standalone=True, setting=manuscript.setting).encode())
    miss = made.seams[seam].miss
    if miss <= SEAM_MISS:
        return f"Seam “{seam}” meets in every size. Drawn at the usual measures."
    worst = made.size.title
    return f"Seam “{seam}” does not meet: {miss:.1f} mm off. Drawn where it is worst, at {worst}."
