"""The files of a trial copy, each composed when it is asked for and by the code that presses it."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from hashlib import sha256
from pathlib import Path, PurePosixPath
from tempfile import TemporaryDirectory
from typing import Any, TypeVar

from notchbook.composing.drawing import Drawing
from notchbook.composing.figure_reference import PAGE as FIGURES
from notchbook.composing.figure_reference import figures_page
from notchbook.composing.figures import draw_figure
from notchbook.composing.figures.facts import step_of
from notchbook.composing.markup.svg import svg
from notchbook.composing.nest import has_nest
from notchbook.composing.pages import (
    Frame,
    Link,
    index_page,
    not_found_page,
    printing_page,
    site_assets,
    text_page,
)
from notchbook.composing.pattern import pattern
from notchbook.composing.plates import Draw, draw_plates
from notchbook.composing.record import record
from notchbook.composing.reference import PAGE as SHAPES
from notchbook.composing.reference import reference_page
from notchbook.composing.setting import Setting
from notchbook.composing.shared import FOLDER, figure_files, shared
from notchbook.drafting.draft import Draft
from notchbook.drafting.engine import draft
from notchbook.drafting.packing.cloth import lays_of
from notchbook.gathering.typefaces import gather_font_licences
from notchbook.pressing.pictures import picture, picture_name
from notchbook.pressing.press import entry_of, photographs_of
from notchbook.pressing.size import (
    Bench,
    compose,
    composing,
    downloads_of,
    page,
    press_size,
    usual_size,
)
from notchbook.proofing.trial import Kept, Trial
from notchbook.reading.choosing import published
from notchbook.reading.recipe import FigureRule, Recipe, Size
from notchbook.reading.walk import all_figures, all_pictures

T = TypeVar("T")

HTML = "text/html; charset=utf-8"
KINDS: Mapping[str, str] = {
    ".html": HTML,
    ".css": "text/css; charset=utf-8",
    ".js": "text/javascript; charset=utf-8",
    ".svg": "image/svg+xml",
    ".json": "application/json",
    ".pdf": "application/pdf",
    ".png": "image/png",
    ".jpg": "image/jpeg",
    ".jpeg": "image/jpeg",
    ".txt": "text/plain; charset=utf-8",
    ".woff2": "font/ttf",  # faces are served whole: cutting one down takes half a second
}
"""Media types by the ending of a file's name."""


@dataclass(frozen=True, slots=True)
class Memory:
    """What was drawn for a file the last time, and what is drawn for it now, by what it was drawn
    from: a change of words draws nothing again."""

    before: Mapping[str, Any]
    now: dict[str, Any]

    def of(self, key: str, make: Callable[[], T]) -> T:
        """What was made for ``key``, or what ``make`` makes."""
        if key not in self.now:
            self.now[key] = self.before[key] if key in self.before else make()
        found: T = self.now[key]
        return found


@dataclass(frozen=True, slots=True)
class Copy:
    """A file of the trial copy. ``recipe`` is the one a page shows, its choices settled."""

    data: bytes
    kind: str
    recipe: Recipe | None = None


def kind_of(path: str) -> str:
    """The media type of a file."""
    return KINDS.get(PurePosixPath(path).suffix.lower(), "application/octet-stream")


def copy_at(trial: Trial, setting: Setting, path: str, memory: Memory) -> Copy | None:
    """The file at ``path`` below the site's top; None where the site has none there. Paths are
    looked up among the names a press run would write, never on the disk. Raises ContentError."""
    slug, _, below = path.partition("/")
    kept = trial.recipes.get(slug)
    if kept and below:
        return _of_recipe(trial, setting, kept, path, memory)
    made = _asset(setting, path) if slug == "assets" else _round(trial, setting, path, memory)
    if made is None:
        return None
    return Copy(made if isinstance(made, bytes) else made.encode(), kind_of(path))


def nowhere(trial: Trial, setting: Setting) -> str:
    """What is shown where the site has nothing. It stands at this address, not at the site's."""
    here = replace(setting, workshop=replace(setting.workshop, address=""))
    return not_found_page(setting=here, texts=_links(trial))


def _links(trial: Trial) -> tuple[Link, ...]:
    return tuple(text.link for text in trial.texts.values())


def _asset(setting: Setting, path: str) -> str | bytes | None:
    name = path.rpartition("/")[2]
    if path.startswith("assets/fonts/"):
        faces = {face.file: face.data for face in setting.typefaces.faces}
        if name in faces:
            return faces[name]
        licences = gather_font_licences(setting.workshop.fonts)
        return licences.get(name.removesuffix("-licence.txt"))
    return site_assets(setting).get(path)


def _round(trial: Trial, setting: Setting, path: str, memory: Memory) -> str | None:
    """The pages round all recipes."""
    frame = Frame("", _links(trial))
    texts = {text.link.href: text for text in trial.texts.values()}
    match path:
        case "index.html":
            recipes = [kept.recipe for kept in trial.recipes.values() if not kept.gone]
            entries = tuple(
                entry_of(recipe, setting, _drawer(memory)) for recipe in recipes if recipe
            )
            return index_page(entries, setting=setting, frame=frame)
        case "printing.html":
            return printing_page(setting=setting, frame=frame)
        case _ if path == SHAPES:
            return reference_page(setting=setting, frame=frame)
        case _ if path == FIGURES:
            return figures_page(setting=setting, frame=frame)
        case "404.html":
            return nowhere(trial, setting)
        case _ if path in texts:
            text = texts[path]
            return text_page(text.link, text.text, setting=setting, frame=frame)
    return None


def _of_recipe(
    trial: Trial, setting: Setting, kept: Kept, path: str, memory: Memory
) -> Copy | None:
    recipe = kept.recipe
    if recipe is None:
        return None
    if path.startswith(f"{recipe.slug}/pictures/"):
        return _picture(recipe, path)
    homes = {settled.home: settled for settled in published(recipe)}
    bench = Bench(setting, homes, {}, _links(trial), frozenset(), Path())
    folder, _, name = path.rpartition("/")
    if name in ("nest.svg", "nest.pdf") and folder in homes and has_nest(homes[folder]):
        files = memory.of("pressed", lambda: _pressed(bench, homes[folder], None))
        return Copy(files[path], kind_of(path))
    if path == f"{recipe.slug}/index.html" or folder == f"{recipe.slug}/{FOLDER}":
        settled = next(iter(homes.values()))
        size = usual_size(settled, draft(settled, settled.sizes[0]))
    else:
        home, _, id = folder.rpartition("/")
        if home not in homes or all(size.id != id for size in homes[home].sizes):
            return None
        settled = homes[home]
        size = settled.size(id)
    if name.endswith(".pdf"):
        if name not in {each.file for each in downloads_of(setting.workshop, {})}:
            return None
        files = memory.of("pressed", lambda: _pressed(bench, settled, size))
        return Copy(files[path], kind_of(path))
    data = _of_size(bench, settled, size, path, name, memory)
    return Copy(data.encode(), kind_of(path), settled) if data else None


def _of_size(
    bench: Bench, recipe: Recipe, size: Size, path: str, name: str, memory: Memory
) -> str | None:
    made = draft(recipe, size)
    setting = bench.setting
    with composing(made):
        if path.startswith(f"{recipe.slug}/{FOLDER}/"):
            files = figure_files(recipe)
            rule = next((r for r in all_figures(recipe) if files[r.place] == name), None)
            return shared(made, _drawer(memory)(made, rule, setting), setting) if rule else None
        lays = memory.of(f"{_drawn_from(made)} lays", lambda: lays_of(made))
        match name:
            case "index.html":
                plates = draw_plates(made, setting, _drawer(memory), lays)
                downloads = downloads_of(setting.workshop, {})
                return page(bench, made, plates, lays, downloads, path)
            case "pattern.svg":
                return svg(pattern(made, setting), standalone=True, setting=setting)
            case "draft.json":
                return record(made, lays)
    return None


def _pressed(bench: Bench, recipe: Recipe, size: Size | None) -> Mapping[str, bytes]:
    """Every file of a size, or of the nest, by its path, pressed in a folder that is then gone."""
    # The printing library takes half a second to load.
    from notchbook.pressing.nested import press_nest
    from notchbook.pressing.pdf import Printer

    setting = bench.setting
    with TemporaryDirectory(prefix="notchbook-") as folder:
        photographs = {recipe.slug: photographs_of(recipe)}
        bench = replace(bench, staged=Path(folder), photographs=photographs)
        printer = Printer(setting.typefaces)
        if size is None:
            made = press_nest(bench, recipe, printer)
        else:
            made = press_size(bench, compose(recipe, size, setting), printer)
        return {each.path: (bench.staged / each.path).read_bytes() for each in made}


def _picture(recipe: Recipe, path: str) -> Copy | None:
    shown = {part.path: part.place for part in all_pictures(recipe)}
    for name, data in recipe.pictures.items():
        if path == f"{recipe.slug}/pictures/{picture_name(name)}":
            return Copy(picture(data, name, shown.get(name, recipe.place)), kind_of(path))
    return None


# Drawing takes nearly all the time a page takes, and words are changed more often than pieces.


def _drawer(memory: Memory) -> Draw:
    """Draws as ``draw_figure`` does, and remembers."""
    of: list[tuple[Draft, str]] = []

    def draw(made: Draft, rule: FigureRule, setting: Setting) -> Drawing:
        if not of or of[-1][0] is not made:
            of.append((made, _drawn_from(made)))
        step = step_of(made, rule)
        key = f"{of[-1][1]} {step.id if step else None} {_PLACE.sub('', repr(rule))}"
        return memory.of(key, lambda: draw_figure(made, rule, setting))

    return draw


def _drawn_from(made: Draft) -> str:
    """A hash of all that a draft and its drawings are made from: the recipe without places, prose
    and figures."""
    recipe = made.recipe
    stages = tuple(
        replace(stage, blocks=tuple(replace(step, blocks=()) for step in stage.steps))
        for stage in recipe.stages
    )
    bare = replace(recipe, opening=(), stages=stages, pictures={})
    told = f"{_PLACE.sub('', repr(bare))} {made.size.id}"
    return sha256(told.encode("utf-8", "replace")).hexdigest()


_PLACE = re.compile(r"Place\(file=(?:'[^'\n]*'|\"[^\"\n]*\"), line=\d+, column=\d+\)")
