"""The workshop as it stands at one moment of a trial, with what was last whole kept beside it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path

from notchbook.composing.chapters import check_care
from notchbook.composing.setting import Setting
from notchbook.gathering.recipes import gather_pages, gather_whole, gather_workshop
from notchbook.gathering.source import Source
from notchbook.gathering.typefaces import uncovered
from notchbook.pressing.manuscript import TextPage, attempt, read_text_page, set_up
from notchbook.problems import Findings, Place, Problem
from notchbook.reading.read import read_recipe, read_workshop
from notchbook.reading.recipe import Recipe


@dataclass(frozen=True, slots=True)
class Kept:
    """A recipe as it was last whole, and the ``text`` it was read from; none where it never was.
    ``source`` is its folder as it lies there now, and ``problems`` what is wrong with that;
    ``gone`` if there is no folder any more."""

    source: Source
    recipe: Recipe | None
    text: str
    problems: tuple[Problem, ...]
    gone: bool = False

    @property
    def fresh(self) -> bool:
        """Whether the recipe is what its folder holds now."""
        return self.text == text_of(self.source)


@dataclass(frozen=True, slots=True)
class Trial:
    """What pages are composed from. ``setting`` and ``texts`` (by their files) are as they were
    last whole; ``unset`` is what is wrong with the settings or the theme, ``unread`` what is wrong
    with text pages or with whole folders."""

    setting: Setting | None = None
    recipes: Mapping[str, Kept] = field(default_factory=dict)
    texts: Mapping[str, TextPage] = field(default_factory=dict)
    unset: tuple[Problem, ...] = ()
    unread: tuple[Problem, ...] = ()


def look(content: Path, theme: str | None, before: Trial, settings: bool = True) -> Trial:
    """The workshop as it lies in ``content`` now, in the theme named or its own. Whatever can't be
    read stays as it was in the trial ``before``. Only what has other bytes than then is read
    again; settings and theme if ``settings`` says so."""
    setting, unset = before.setting, before.unset
    if settings:
        findings = Findings()
        found = attempt(findings, gather_workshop, content)
        workshop = attempt(findings, read_workshop, *found) if found else None
        setting = (
            attempt(findings, set_up, workshop, theme, setting) if workshop else None
        ) or setting
        if setting and found:
            text = found[0].decode("utf-8", "ignore")
            findings.problems += uncovered(text, found[1], setting.typefaces)
        unset = tuple(sorted(set(findings.problems)))
        setting = before.setting if setting == before.setting else setting
    findings = Findings()
    gathered = attempt(findings, gather_whole, content)
    sources, problems = gathered or ((), ())
    findings.problems += problems
    known = before.recipes if setting is before.setting else {}
    recipes = {
        source.slug: known[source.slug]
        if source.slug in known and known[source.slug].source == source
        else _read(source, before.recipes.get(source.slug), setting)
        for source in sources
    }
    for slug, kept in before.recipes.items():
        if slug not in recipes and kept.recipe:
            recipes[slug] = _without(kept, findings.problems) if gathered else kept
    texts = _texts(content, before.texts, setting, findings)
    return Trial(setting, recipes, texts, unset, tuple(sorted(set(findings.problems))))


def _read(source: Source, before: Kept | None, setting: Setting | None) -> Kept:
    findings = Findings()
    file, data = f"{source.folder}/recipe.md", source.files["recipe.md"]
    recipe = attempt(findings, read_recipe, source)
    if setting:
        findings.problems += uncovered(data.decode("utf-8", "ignore"), file, setting.typefaces)
        findings.problems += check_care(recipe, setting.catalogue) if recipe else ()
    problems = tuple(sorted(set(findings.problems)))
    if recipe:
        # The same value stays the same thing: nobody composes or trues it again.
        same = before is not None and before.recipe == recipe
        return Kept(source, before.recipe if before and same else recipe, text_of(source), problems)
    if before:
        return replace(before, source=source, problems=problems, gone=False)
    return Kept(source, None, "", problems)


def _without(kept: Kept, problems: list[Problem]) -> Kept:
    """A recipe whose folder is away or is no recipe's; the problems of folders say which."""
    folder = kept.source.folder
    source = replace(kept.source, files={"recipe.md": b""})
    if any(each.place.file.startswith(folder) for each in problems):
        return replace(kept, source=source, problems=())
    what = "This recipe's folder is gone, so the site has no page of it any more."
    remedy = "Go on with the recipe at its new address, or put the folder back."
    problem = Problem(Place(folder), what, remedy)
    return replace(kept, source=source, problems=(problem,), gone=True)


def _texts(
    content: Path, before: Mapping[str, TextPage], setting: Setting | None, findings: Findings
) -> Mapping[str, TextPage]:
    pages = attempt(findings, gather_pages, content)
    texts = {} if pages is not None else dict(before)
    for file, data in (pages or {}).items():
        old = before.get(file)
        found = attempt(findings, read_text_page, file, data) or old
        if found:
            texts[file] = old if old == found else found
        if setting:
            text = data.decode("utf-8", "ignore")
            findings.problems += uncovered(text, file, setting.typefaces)
    return texts


def text_of(source: Source) -> str:
    """What stands in a recipe's file, whatever its bytes are, line by line as problems count."""
    text = source.files["recipe.md"].decode("utf-8-sig", "replace")
    return text.replace("\r\n", "\n").replace("\r", "\n")
