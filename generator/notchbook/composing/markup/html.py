"""Themes rendered: Jinja templates handed in as values, filled with words from the catalogue."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache

from jinja2 import DictLoader, Environment, StrictUndefined
from markupsafe import Markup

from notchbook.composing.setting import Setting
from notchbook.composing.values import curled, day, words


def render(setting: Setting, template: str, **context: object) -> str:
    """A theme's template with its context. In templates, ``say`` and ``say_count`` give the
    catalogue's words as markup, with markup fields kept and all else escaped, and ``date`` a date
    as people write it. Plain text gets printers' quotation marks."""
    templates = tuple(sorted(setting.theme.templates.items()))
    catalogue = setting.catalogue.words

    def say(key: str, **values: object) -> Markup:
        return words(catalogue[key], **values)

    def date(iso: str) -> str:
        return day(iso, catalogue)

    def say_count(key: str, count: int, **values: object) -> Markup:
        return say(f"{key}.{'one' if count == 1 else 'other'}", count=count, **values)

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
    return text if text.endswith("\n") else text + "\n"


# Compiling templates takes longer than filling them, and a press run fills the same ones a
# hundred times: the last few sets are remembered, by their whole text.
@lru_cache(maxsize=4)
def _environment(templates: tuple[tuple[str, str], ...]) -> Environment:
    loader: Mapping[str, str] = dict(templates)
    return Environment(
        loader=DictLoader(loader),
        autoescape=True,
        undefined=StrictUndefined,
        finalize=curled,
        trim_blocks=True,
        lstrip_blocks=True,
    )
