"""All that a press run starts from, gathered and read together, with all that is wrong with it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path, PurePosixPath
from typing import ParamSpec, TypeVar

from notchbook.composing.chapters import check_care
from notchbook.composing.figure_reference import figures_text
from notchbook.composing.pages import Link
from notchbook.composing.reference import reference_text
from notchbook.composing.setting import Setting
from notchbook.drafting.truing import true
from notchbook.gathering.catalogue import gather_catalogue
from notchbook.gathering.flat import flat
from notchbook.gathering.recipes import gather_pages, gather_workshop
from notchbook.gathering.source import Source
from notchbook.gathering.theme import gather_theme
from notchbook.gathering.typefaces import gather_typefaces, uncovered
from notchbook.pressing.impression import sha256
from notchbook.pressing.workers import share_out
from notchbook.problems import ContentError, Findings, Place, Problem, fault
from notchbook.reading import prose
from notchbook.reading.read import read_recipe, read_workshop
from notchbook.reading.recipe import Recipe
from notchbook.reading.workshop import Workshop

P = ParamSpec("P")
T = TypeVar("T")

OWN_PAGES = frozenset({"404", "figures", "index", "printing", "shapes"})
"""Pages at the top of every site."""


@dataclass(frozen=True, slots=True)
class TextPage:
    """A page of the workshop's own words: its link from the site's top, and its Markdown."""

    link: Link
    text: str


@dataclass(frozen=True, slots=True)
class Manuscript:
    """A workshop read. ``sources`` maps everything it was read from to hashes; ``characters`` are
    all that its texts and the tool's own use."""

    setting: Setting
    recipes: Mapping[str, Recipe]
    texts: tuple[TextPage, ...]
    sources: Mapping[str, str]
    characters: frozenset[str]


def read_manuscript(
    content: Path, gather: Callable[[], tuple[Source, ...]], theme: str | None = None
) -> Manuscript:
    """Read a workshop and the recipes ``gather`` gives, in the theme named or its own.

    Raises ContentError with what is wrong in all of it.
    """
    findings = Findings()
    folders = attempt(findings, gather) or ()
    recipes = {source.slug: attempt(findings, read_recipe, source) for source in folders}
    found = attempt(findings, gather_workshop, content)
    pages = attempt(findings, gather_pages, content) or {}
    texts = [attempt(findings, read_text_page, file, data) for file, data in pages.items()]
    workshop = attempt(findings, read_workshop, *found) if found else None
    setting = attempt(findings, set_up, workshop, theme) if workshop else None
    written = {f"{source.folder}/recipe.md": source.files["recipe.md"] for source in folders}
    written |= {found[1]: found[0]} if found else {}
    written |= pages
    if setting:
        for file, data in written.items():
            text = data.decode("utf-8", "ignore")
            findings.problems.extend(uncovered(text, file, setting.typefaces))
        for recipe in recipes.values():
            findings.problems.extend(check_care(recipe, setting.catalogue) if recipe else ())
    findings.settle()
    assert found and setting
    sources = dict(_sources(folders, found[0], pages, setting))
    spoken = [*setting.catalogue.words.values(), *setting.theme.templates.values()]
    spoken += [reference_text(), figures_text()]
    return Manuscript(
        setting,
        {slug: recipe for slug, recipe in recipes.items() if recipe},
        tuple(text for text in texts if text),
        {name: sha256(data) for name, data in sorted(sources.items())},
        frozenset("".join([*(data.decode() for data in written.values()), *spoken])),
    )


def faults(manuscript: Manuscript, jobs: int) -> tuple[Problem, ...]:
    """What truing finds wrong with the recipes, in all their sizes."""
    recipes = manuscript.recipes
    found = share_out(start, (recipes,), tuple(recipes), jobs, lambda: None)
    return tuple(problem for some in found for problem in some)


def start(recipes: Mapping[str, Recipe]) -> Callable[[str], tuple[Problem, ...]]:
    """Get ready for recipes. What is returned trues the one of a name."""
    return lambda slug: true(recipes[slug])


def attempt(findings: Findings, work: Callable[P, T], *args: P.args, **named: P.kwargs) -> T | None:
    """What ``work`` gives, or none where it only gave problems."""
    try:
        return work(*args, **named)
    except ContentError as error:
        findings.take(error)
        return None


def set_up(workshop: Workshop, theme: str | None, before: Setting | None = None) -> Setting:
    """What a workshop is composed with, in the theme named or its own. Words and faces are taken
    over from the setting ``before`` if the workshop asks for the same. Raises ContentError."""
    was = before.workshop if before else None
    place = Place(f"--theme {theme}") if theme else workshop.at("theme")
    return Setting(
        workshop,
        before.catalogue
        if before and was and was.language == workshop.language
        else gather_catalogue(workshop.language, workshop.at("language")),
        before.typefaces
        if before and was and was.fonts == workshop.fonts
        else gather_typefaces(workshop.fonts, workshop.at("fonts")),
        gather_theme(theme or workshop.theme, place),
    )


def read_text_page(file: str, data: bytes) -> TextPage:
    """A text page: ``title:`` between lines of ``---``, then Markdown."""
    slug = PurePosixPath(file).stem
    start = Place(file, 1, 1)
    if slug in OWN_PAGES:
        what = f"Every site has a page “{slug}” of its own."
        raise fault(start, what, "Choose another name for the file.")
    try:
        text = data.decode("utf-8-sig").replace("\r\n", "\n")
    except UnicodeDecodeError:
        what = "This page is not UTF-8 text."
        raise fault(start, what, "Save it as UTF-8.") from None
    opening, front, body = [*text.split("---\n", 2), "", ""][:3]
    title = flat(front, file, first_line=2).get("title") if not opening else None
    if not title:
        what = "This page has no title."
        remedy = "Begin the file with three lines: ---, title: its title, ---."
        raise fault(start, what, remedy)
    findings = Findings()
    first_line = text.removesuffix(body).count("\n") + 1
    prose.check_page(prose.Run(body, Place(file, first_line, 1), ""), findings)
    findings.settle()
    return TextPage(Link(f"{slug}.html", title), body)


def _sources(
    folders: tuple[Source, ...], workshop: bytes, pages: Mapping[str, bytes], setting: Setting
) -> Iterator[tuple[str, bytes]]:
    """Everything a site is made from, named so that it is the same wherever it lies."""
    yield "workshop.yaml", workshop
    for source in folders:
        for path, data in source.files.items():
            yield f"recipes/{source.slug}/{path}", data
    for file, data in pages.items():
        yield f"pages/{PurePosixPath(file).name}", data
    theme = setting.theme
    for texts in (theme.templates, theme.styles, theme.scripts):
        for path, text in texts.items():
            yield f"theme/{path}", text.encode()
    yield "theme/theme.yaml", repr(sorted(theme.tokens.items())).encode()
    yield "words", repr(sorted(setting.catalogue.words.items())).encode()
    faces = setting.typefaces
    for face in (*faces.text, *faces.label, *faces.others):
        yield f"fonts/{face.file}", face.data
