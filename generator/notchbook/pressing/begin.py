"""A new recipe's folder, from the starter beside the code."""

from __future__ import annotations

from datetime import date
from importlib.resources import files
from pathlib import Path

from notchbook.gathering.recipes import slug_problems
from notchbook.problems import ContentError, Place, Problem


def begin(content: Path, name: str) -> tuple[Path, ...]:
    """Make ``content/recipes/NAME/recipe.md``, and ``workshop.yaml`` where there is none.

    Returns what was made. Raises ContentError where the name can't be an address, the folder is
    there already, or nothing can be written.
    """
    problems = list(slug_problems(name, Place("NAME", 1, 1)))
    if problems:
        raise ContentError(problems)
    folder = content / "recipes" / name
    starter = files("notchbook") / "starter"
    recipe = (starter / "recipe.md").read_text(encoding="utf-8")
    recipe = recipe.replace("2026-01-01", date.today().isoformat())
    wanted = {folder / "recipe.md": recipe.encode()}
    if not (content / "workshop.yaml").exists():
        wanted[content / "workshop.yaml"] = (starter / "workshop.yaml").read_bytes()
    place = Place(folder.as_posix(), 1, 1)
    try:
        folder.mkdir(parents=True)
        for path, data in wanted.items():
            path.write_bytes(data)
    except FileExistsError:
        what = f"{folder.as_posix()} is there already."
        raise ContentError([Problem(place, what, "Choose another name.")]) from None
    except OSError as error:
        what = f"{folder.as_posix()} can't be made: {(error.strerror or str(error)).lower()}."
        remedy = "Choose another folder with --content, or change who may write there."
        raise ContentError([Problem(place, what, remedy)]) from None
    return tuple(wanted)
