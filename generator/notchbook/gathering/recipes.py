"""Recipe folders and single text pages, as bytes."""

from __future__ import annotations

import os
import re
import unicodedata
from collections.abc import Iterator, Mapping
from pathlib import Path

from notchbook.gathering.source import Source
from notchbook.problems import ContentError, Place, Problem, fault, suggestion

LARGEST = 20_000_000
"""Bytes that one file of a recipe may have."""

SLUG = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")
"""What folders of recipes may be called: their names become addresses."""

TAKEN = frozenset({"assets", "pages"})
"""Folders of the site that are no recipe's."""


def gather_recipes(content: Path) -> tuple[Source, ...]:
    """Every recipe folder of ``content/recipes``, by slug. Raises ContentError."""
    sources, problems = gather_whole(content)
    if problems:
        raise ContentError(problems)
    return sources


def gather_whole(content: Path) -> tuple[tuple[Source, ...], tuple[Problem, ...]]:
    """The recipe folders that are whole, by slug, and what is wrong with the others. Raises
    ContentError where there is no content folder."""
    _check_there(content)
    shelf = content / "recipes"
    problems: list[Problem] = []
    sources: dict[str, Source] = {}
    for folder in _subfolders(shelf):
        try:
            source = gather_recipe(folder)
        except ContentError as error:
            problems += error.problems
            continue
        sources[source.slug] = source
    problems += _same_slugs(shelf)
    if not sources and not problems:
        what = f"There is no recipe in {shelf.as_posix()}."
        remedy = "Begin one: notchbook begin NAME."
        problems.append(Problem(Place(shelf.as_posix()), what, remedy))
    return tuple(sources[slug] for slug in sorted(sources)), tuple(problems)


def gather_recipe(folder: Path) -> Source:
    """One recipe's folder: every file in it but hidden ones. Raises ContentError."""
    place = Place(folder.as_posix())
    slug = folder.resolve().name
    problems = list(slug_problems(slug, place))
    if not (folder / "recipe.md").is_file():
        what = "There is no recipe.md in this folder."
        remedy = f"Write {(folder / 'recipe.md').as_posix()}, or move the folder elsewhere."
        problems.append(Problem(place, what, remedy))
    files: dict[str, bytes] = {}
    for path in _files(folder):
        name = path.relative_to(folder).as_posix()
        here = Place(path.as_posix())
        if not path.exists():
            what = f"The link {name} leads nowhere."
            problems.append(Problem(here, what, "Put the file there, or take the link out."))
        elif not path.resolve().is_relative_to(folder.resolve()):
            what = f"{name} is a link that leads out of the recipe's folder."
            problems.append(Problem(here, what, "Put a copy of the file into the folder."))
        elif path.stat().st_size > LARGEST:
            size = path.stat().st_size / 1e6
            what = f"{name} has {size:.1f} MB; a file of a recipe may have {LARGEST / 1e6:.0f} MB."
            problems.append(Problem(here, what, "Make it smaller, or take it out of the folder."))
        else:
            try:
                files[name] = _read(path)
            except ContentError as error:
                problems += error.problems
    if problems:
        raise ContentError(problems)
    return Source(slug, folder.as_posix(), files)


def find_recipe(content: Path, name: str) -> Source:
    """The recipe called ``name``, or the one at the path ``name``. Raises ContentError."""
    named = content / "recipes" / name
    if SLUG.fullmatch(name) and named.is_dir():
        return gather_recipe(named)
    path = Path(name)
    if path.name == "recipe.md" and path.is_file():
        path = path.parent
    if path.is_dir():
        return gather_recipe(path)
    _check_there(content)
    known = [folder.name for folder in _subfolders(content / "recipes")]
    what = f"There is no recipe “{name}” in {content.as_posix()}, and no folder of that name."
    remedy = suggestion(name, known) if known else "Begin it: notchbook begin NAME."
    raise fault(Place(name), what, remedy)


def gather_workshop(content: Path) -> tuple[bytes, str]:
    """The bytes of ``workshop.yaml`` and what the author calls it. Raises ContentError."""
    _check_there(content)
    path = content / "workshop.yaml"
    file = path.as_posix()
    if not path.is_file():
        what = f"There is no {file}, which holds the settings every recipe shares."
        raise fault(Place(file), what, _WHERE)
    return _read(path), file


def gather_pages(content: Path) -> Mapping[str, bytes]:
    """The workshop's own text pages, ``content/pages/*.md``: the file as the author names it to
    its bytes. Raises ContentError."""
    shelf = content / "pages"
    found: dict[str, bytes] = {}
    problems: list[Problem] = []
    for path in sorted(shelf.glob("*.md")) if shelf.is_dir() else ():
        if not path.name.startswith("."):
            problems += slug_problems(path.stem, Place(path.as_posix()))
            try:
                found[path.as_posix()] = _read(path)
            except ContentError as error:
                problems += error.problems
    if problems:
        raise ContentError(problems)
    return found


def slug_problems(slug: str, place: Place) -> Iterator[Problem]:
    """What is wrong with a name that is to become an address."""
    if not SLUG.fullmatch(slug):
        yield Problem(
            place,
            f"“{slug}” can't be part of an address.",
            f"Use small letters a to z, digits and single hyphens: {slug_of(slug) or 'rain-cape'}.",
        )
    elif slug in TAKEN:
        yield Problem(place, f"The site keeps “{slug}” for itself.", "Choose another name.")


def _read(path: Path) -> bytes:
    try:
        return path.read_bytes()
    except OSError as error:
        what = f"{path.name} can't be read: {(error.strerror or 'no reason given').lower()}."
        remedy = "See that it is a file, and that you may read it."
        raise fault(Place(path.as_posix()), what, remedy) from None


def slug_of(name: str) -> str:
    """The address nearest to a name, its letters without their accents; empty where it has
    nothing an address can hold."""
    plain = unicodedata.normalize("NFKD", name.casefold().translate(_LETTERS))
    return re.sub(r"[^a-z0-9]+", "-", re.sub(r"[\u0300-\u036f’']", "", plain)).strip("-")


_LETTERS = str.maketrans({"æ": "ae", "ø": "o", "œ": "oe", "ł": "l", "đ": "d", "ð": "d", "þ": "th"})
"""Letters that are no others with an accent."""

_WHERE = "Name the right folder with --content DIR, or make a workshop: notchbook begin NAME."


def _check_there(content: Path) -> None:
    """Raises ContentError where the content folder is none."""
    if not content.is_dir():
        there = "is a file" if content.exists() else "is not there"
        what = f"The content folder “{content.as_posix()}” {there}."
        raise fault(Place(content.as_posix()), what, _WHERE)


def _same_slugs(shelf: Path) -> Iterator[Problem]:
    first: dict[str, str] = {}
    for folder in _subfolders(shelf):
        other = first.setdefault(folder.name.lower(), folder.name)
        if other != folder.name:
            what = f"The folders {other} and {folder.name} make one address."
            yield Problem(Place(folder.as_posix()), what, "Rename one of the two.")


def _subfolders(shelf: Path) -> tuple[Path, ...]:
    if not shelf.is_dir():
        return ()
    folders = (path for path in shelf.iterdir() if path.is_dir())
    return tuple(sorted(path for path in folders if not path.name.startswith(".")))


def _files(folder: Path) -> Iterator[Path]:
    """Files below ``folder`` in the order of their names. Links to folders are not walked."""
    for here, below, names in os.walk(folder):
        below[:] = sorted(name for name in below if not name.startswith("."))
        for name in below:
            if (Path(here) / name).is_symlink():
                yield Path(here) / name
        for name in sorted(names):
            path = Path(here) / name
            if not name.startswith(".") and (path.is_file() or path.is_symlink()):
                yield path
