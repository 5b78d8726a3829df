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
from markupsafe import Markup, escape

from notchbook.composing.markup.css import font_css
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
    except Exception as error:
        spot = _spot(error, setting)
        if spot is None and not isinstance(error, TemplateError):
            raise
        raise ContentError([_fault(error, spot or (template, 1), setting)]) from None
    return text if text.endswith("\n") else text + "\n"


def printed(setting: Setting, title: str, extent: complex, style: str, body: str) -> str:
    """A document to print on pages of ``extent``, in mm, without margins. Its faces are fetched
    from ``font:FILE``."""
    return (
        f'<!DOCTYPE html>\n<html lang="{setting.catalogue.language}">\n<head>\n'
        f'<meta charset="utf-8">\n<title>{escape(curled(title))}</title>\n'
        f"<style>\n{font_css(setting.typefaces, lambda face: f'font:{face.file}')}"
        f"@page{{size:{extent.real:.4f}mm {extent.imag:.4f}mm;margin:0}}\n"
        f"{style}</style>\n</head>\n<body>\n{body}\n</body>\n</html>\n"
    )


def _spot(error: Exception, setting: Setting) -> tuple[str, int] | None:
    """The innermost line of a template that led to an error, if any did."""
    spot = None
    for frame in extract_tb(error.__traceback__):
        if frame.filename in setting.theme.templates:
            spot = (frame.filename, frame.lineno or 1)
    return spot


def _fault(error: Exception, spot: tuple[str, int], setting: Setting) -> Problem:
    """What a template can't be filled for: a name that stands for nothing, or a reckoning."""
    said = (str(error) or "no reason given").rstrip(".")
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
