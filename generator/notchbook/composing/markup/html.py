"""Themes rendered: Jinja templates handed in as values, filled with words from the catalogue."""

from __future__ import annotations

from functools import lru_cache
from traceback import extract_tb

from jinja2 import (
    Environment,
    FunctionLoader,
    StrictUndefined,
    TemplateError,
    TemplateNotFound,
    TemplateRuntimeError,
)
from markupsafe import Markup

from notchbook.composing.setting import Setting
from notchbook.composing.values import curled, day, words
from notchbook.problems import ContentError, Place, Problem


def render(setting: Setting, template: str, **context: object) -> str:
    """A theme's template with its context. In templates, ``say`` and ``say_count`` give the
    catalogue's words as markup, with markup fields kept and all else escaped, and ``date`` a date
    as people write it. Plain text gets printers' quotation marks.

    Raises ContentError where a template can't be filled: the theme's fault, at its line."""
    templates = tuple(sorted(setting.theme.templates.items()))
    catalogue = setting.catalogue.words

    def say(key: str, **values: object) -> Markup:
        if key not in catalogue:
            raise TemplateRuntimeError(f"the words “{key}” are in no catalogue")
        return words(catalogue[key], **values)

    def date(iso: str) -> str:
        return day(iso, catalogue)

    def say_count(key: str, count: int, **values: object) -> Markup:
        return say(f"{key}.{'one' if count == 1 else 'other'}", count=count, **values)

    try:
        text = (
            _environment(templates)
            .get_template(template)
            .render(
                **context,
                say=say,
                say_count=say_count,
                date=date,
                language=setting.catalogue.language,
                workshop=setting.workshop,
            )
        )
    except TemplateError as error:
        raise ContentError([_fault(error, template, setting)]) from None
    return text if text.endswith("\n") else text + "\n"


def _fault(error: TemplateError, template: str, setting: Setting) -> Problem:
    """What a template can't be filled for, at the innermost line of a template that led there."""
    spot = (template, 1)
    for frame in extract_tb(error.__traceback__):
        if frame.filename in setting.theme.templates:
            spot = (frame.filename, frame.lineno or 1)
    said = (error.message or "no reason given").rstrip(".")
    if isinstance(error, TemplateNotFound):
        said = f"there is no template “{said}”"
    what = f"This template can't be filled: {said}."
    remedy = "Correct the name on this line; the theme broadside uses every one there is."
    return Problem(Place(f"{setting.theme.name}/{spot[0]}", spot[1], 1), what, remedy)


# Compiling templates takes longer than filling them, and a press run fills the same ones a
# hundred times: the last few sets are remembered, by their whole text.
@lru_cache(maxsize=4)
def _environment(templates: tuple[tuple[str, str], ...]) -> Environment:
    texts = dict(templates)
    return Environment(
        # A template is known by its name where something fails in it.
        loader=FunctionLoader(lambda name: (texts[name], name, None) if name in texts else None),
        autoescape=True,
        undefined=StrictUndefined,
        finalize=curled,
        trim_blocks=True,
        lstrip_blocks=True,
    )
