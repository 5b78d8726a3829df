"""Themes: a folder of templates, style sheets and scripts with its tokens in ``theme.yaml``."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import lru_cache
from importlib.resources import files
from importlib.resources.abc import Traversable
from pathlib import Path

from jinja2 import Environment, TemplateSyntaxError, nodes

from notchbook.gathering.flat import flat
from notchbook.gathering.source import Theme
from notchbook.problems import ContentError, Place, Problem, fault, suggestion

PATTERN = "broadside"
"""The theme whose files every theme must have."""


def gather_theme(name: str, place: Place) -> Theme:
    """The theme called ``name``, or the one in the folder ``name``.

    ``place`` is where it is asked for. Raises ContentError.
    """
    shelf, known = _shelf(), _known()
    folder = find_theme(name)
    if not (folder / "theme.yaml").is_file():
        if Path(name).is_dir():
            what, remedy = f"The theme folder {name} has no theme.yaml.", "Write its tokens there."
        else:
            what, remedy = f"There is no theme “{name}”.", suggestion(name, known)
        raise fault(place, what, remedy)
    texts = dict(_texts(folder, ""))
    problems = [*_missing(shelf / PATTERN, texts, name, place), *_unreadable(texts, name)]
    if problems:
        raise ContentError(problems)
    tokens = flat(texts.pop("theme.yaml"), f"{name}/theme.yaml")
    styles = {path: text for path, text in texts.items() if path.endswith(".css")}
    scripts = {path: text for path, text in texts.items() if path.endswith(".js")}
    templates = {path: text for path, text in texts.items() if path not in styles | scripts}
    return Theme(folder.name, templates, styles, scripts, tokens)


def find_theme(name: str) -> Traversable:
    """The folder of the theme called ``name``, whether it is there or not."""
    return _shelf() / name if name in _known() else Path(name)


def _known() -> list[str]:
    """The themes that come along, by name."""
    return sorted(entry.name for entry in _shelf().iterdir() if (entry / "theme.yaml").is_file())


def _shelf() -> Traversable:
    """The themes that come along: in the wheel beside the code, in a checkout at its top."""
    package = files("notchbook")
    inside = package / "themes"
    if inside.is_dir():
        return inside
    return Path(str(package)).parents[1] / "themes"


def _missing(
    pattern: Traversable, texts: Mapping[str, str], name: str, place: Place
) -> Iterator[Problem]:
    missing = [path for path, _ in _texts(pattern, "") if path not in texts]
    if missing:
        what = f"The theme “{name}” lacks {', '.join(missing)}."
        yield Problem(place, what, f"Write them, or begin with those of the theme {PATTERN}.")


def _unreadable(texts: Mapping[str, str], name: str) -> Iterator[Problem]:
    """Templates that Jinja can't compile."""
    for path, text in texts.items():
        if path.endswith((".html", ".xml")):
            yield from _faults(text, f"{name}/{path}", tuple(texts))


# A theme's author saves one file at a time, and compiling all takes longer than all the rest.
@lru_cache(maxsize=64)
def _faults(text: str, file: str, known: tuple[str, ...]) -> tuple[Problem, ...]:
    environment = Environment(autoescape=True)
    try:
        environment.compile(text, raw=True)
        return tuple(_unmet(environment.parse(text), known, file))
    except TemplateSyntaxError as error:
        what = f"Jinja can't read this template: {(error.message or '').rstrip('.')}."
        remedy = "Correct the tag on this line, or one left open above it."
        return (Problem(Place(file, error.lineno, 1), what, remedy),)


def _unmet(template: nodes.Template, texts: tuple[str, ...], file: str) -> Iterator[Problem]:
    """Templates that another one asks for and that do not exist."""
    for node in template.find_all((nodes.Extends, nodes.Include, nodes.Import, nodes.FromImport)):
        asked = getattr(node, "template", None)
        if isinstance(asked, nodes.Const) and asked.value not in texts:
            what = f"This asks for a template “{asked.value}”, and the theme has none of that name."
            templates = [path for path in texts if path.endswith((".html", ".xml"))]
            yield Problem(Place(file, node.lineno, 1), what, suggestion(asked.value, templates))


def _texts(folder: Traversable, below: str) -> list[tuple[str, str]]:
    found = []
    for entry in sorted(folder.iterdir(), key=lambda entry: entry.name):
        path = below + entry.name
        if entry.name.startswith((".", "__")):
            continue
        if entry.is_dir():
            found += _texts(entry, f"{path}/")
            continue
        try:
            found.append((path, entry.read_text(encoding="utf-8")))
        except UnicodeDecodeError:
            place = Place(f"{folder.name}/{entry.name}")
            what = "This file of the theme is not UTF-8 text."
            raise fault(place, what, "Save it as UTF-8.") from None
    return found
