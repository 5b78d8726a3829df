"""A new recipe's folder, from the starter beside the code."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from importlib.resources import files
from pathlib import Path

from notchbook.gathering.recipes import slug_of, slug_problems
from notchbook.problems import ContentError, Place, fault


def begin(content: Path, name: str) -> tuple[Path, ...]:
    """Make ``content/recipes/NAME/recipe.md``, and ``workshop.yaml`` where there is none. The
    recipe's title is its name in words.

    Returns what was made. Raises ContentError where the name can't be an address, the folder is
    there already, or nothing can be written.
    """
    place = Place(f"begin {name}")
    problems = list(slug_problems(name, place))
    if problems:
        better = slug_of(name)
        remedy = f"Say: notchbook begin {better}. Its title can be anything you like."
        if better and not list(slug_problems(better, place)):
            problems = [replace(problem, remedy=remedy) for problem in problems]
        raise ContentError(problems)
    folder = content / "recipes" / name
    starter = files("notchbook") / "starter"
    recipe = (starter / "recipe.md").read_text(encoding="utf-8")
    recipe = recipe.replace("2026-01-01", date.today().isoformat())
    recipe = recipe.replace("title: Lantern cosy", f"title: {name.replace('-', ' ').capitalize()}")
    wanted = {folder / "recipe.md": recipe.encode()}
    if not (content / "workshop.yaml").exists():
        wanted[content / "workshop.yaml"] = (starter / "workshop.yaml").read_bytes()
    place = Place(folder.as_posix())
    try:
        folder.mkdir(parents=True)
        for path, data in wanted.items():
            path.write_bytes(data)
    except FileExistsError:
        what = f"{folder.as_posix()} is there already."
        remedy = f"Choose another name, or go on with {(folder / 'recipe.md').as_posix()}."
        raise fault(place, what, remedy) from None
    except OSError as error:
        what = f"{folder.as_posix()} can't be made: {(error.strerror or str(error)).lower()}."
        remedy = "Choose another folder with --content, or change who may write there."
        raise fault(place, what, remedy) from None
    return tuple(wanted)
