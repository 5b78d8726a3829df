"""A module's docstring taken apart, so that what tells maintainers about the code is told to
authors too. The form it has to have: ``drafting/shapes/__init__.py``."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from importlib import import_module
from textwrap import dedent

from markupsafe import Markup

from notchbook.composing.prose import markdown_html, press_type
from notchbook.composing.values import glued

_BLANK = re.compile(r"\n\n+(?! )")
"""Between two blocks. What is indented belongs to the block above."""
_ITEM = re.compile(r"^- ", re.MULTILINE)
_LIST_BELOW_WORDS = re.compile(r"(?m)^((?!- | ).+)\n(?=- )")
_LITERAL = re.compile("``(.+?)``", re.DOTALL)
_EXAMPLE = "Example::\n"


@dataclass(frozen=True, slots=True)
class Explained:
    """What a docstring says, in Markdown. ``lead`` stands above the items of its list of
    parameters; ``rest`` is every block that is none of the others; ``example`` is YAML."""

    title: str
    summary: str
    edges: str
    lead: str
    items: tuple[str, ...]
    rest: tuple[str, ...]
    example: str


def docstring_of(module: str) -> str:
    """What a module says of itself."""
    return import_module(module).__doc__ or ""


def setter() -> Callable[..., Markup]:
    """A function that sets blocks of Markdown as HTML, for one page."""
    converter = press_type()

    def html(*blocks: str) -> Markup:
        return markdown_html(glued("\n\n".join(blocks)), converter, top=4)

    return html


def explained(docstring: str) -> Explained:
    """A docstring whose first paragraph is ``Title: what it is.``, taken apart."""
    text = _LIST_BELOW_WORDS.sub(r"\1\n\n", docstring.strip())
    first, *blocks = _BLANK.split(text)
    title, _, summary = first.partition(": ")
    edges = lead = example = ""
    items: list[str] = []
    rest: list[str] = []
    listed = False
    for block in blocks:
        listed = listed and block.startswith("- ")
        if listed:
            items += (dedent("  " + item).strip() for item in _ITEM.split(block)[1:])
        elif block.startswith("Parameters"):
            listed = True
            lead = block.removeprefix("Parameters").strip(",: \n")
        elif block.startswith("Edges"):
            edges = block.removeprefix("Edges").lstrip(",: ")
        elif block.startswith(_EXAMPLE):
            example = dedent(block.removeprefix(_EXAMPLE)).strip() + "\n"
        else:
            rest.append(_markdown(block))
    return Explained(
        title,
        _markdown(capital(summary)),
        _markdown(capital(edges)),
        _markdown(f"{capital(lead)}." if lead else ""),
        tuple(_markdown(_ended(item)) for item in items),
        tuple(rest),
        example,
    )


def named(markdown: str) -> tuple[str, ...]:
    """The names set as code, in order: of ``{edge: waist}`` or ``arc: [a, b]`` the first word."""
    return tuple(re.findall(r"`\{?(\w+)[^`]*`", markdown))


def _markdown(block: str) -> str:
    return _LITERAL.sub(r"`\1`", block)


def _ended(item: str) -> str:
    """An item of a list as a sentence of its own."""
    return item[:-1] + "." if item.endswith((";", ",")) else item


def capital(text: str) -> str:
    """The text with a capital letter in front."""
    return text[:1].upper() + text[1:]
