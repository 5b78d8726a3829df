"""Prose: the author's Markdown with its values and pictures put back, as HTML."""

from __future__ import annotations

import re
from collections.abc import Callable
from itertools import cycle

from markdown import Markdown
from markupsafe import Markup, escape

from notchbook.composing.values import glued
from notchbook.reading.formula import Formula
from notchbook.reading.recipe import Inline, Picture, Prose

# Values and pictures go through Markdown as numbers between two characters that Unicode keeps
# for private use, which Markdown leaves alone.
_HELD = re.compile("\ue000([0-9]+)\ue001")
_HEADING = re.compile("<(/?)h([1-6])>")
_TABLE = re.compile("<table>.*?</table>", re.DOTALL)
_HEAD_CELL = re.compile("<th(?=[ >])")
_HEAD = re.compile("<th(?=[ >])[^>]*>(.*?)</th>", re.DOTALL)
_CELL = re.compile("<td(?=[ >])")


BROAD = 5
"""Columns that do not fit side by side on a booklet's page."""


def press_type() -> Markdown:
    """A Markdown converter for author's prose. Making one is slow: use one for a whole page.

    HTML in the text is shown as it was typed, never passed on.
    """
    converter = Markdown(extensions=["tables", "sane_lists", "smarty"], output_format="html")
    converter.preprocessors.deregister("html_block")
    converter.inlinePatterns.deregister("html")
    return converter


def prose_html(
    prose: Prose,
    converter: Markdown,
    *,
    value: Callable[[Formula], Markup],
    picture: Callable[[Picture], Markup],
) -> Markup:
    """``prose`` as HTML; ``value`` sets a formula, ``picture`` gives an image's markup."""
    held: list[Markup] = []
    text: list[str] = []
    for part in prose.parts:
        match part:
            case str():
                text.append(glued(part))
                continue
            case Inline(formula):
                held.append(value(formula))
            case Picture():
                held.append(picture(part))
        text.append(f"\ue000{len(held) - 1}\ue001")
    html = markdown_html("".join(text), converter)
    return Markup(_HELD.sub(lambda match: held[int(match[1])], html))


def markdown_html(text: str, converter: Markdown, top: int = 3) -> Markup:
    """Plain Markdown as HTML. Its headings begin at level ``top`` and leave out none. Tables get a
    frame that can be scrolled, and every cell the name of its column, for narrow screens."""
    html = _HEADING.sub(_Outline(top).level, converter.reset().convert(text))
    return Markup(_TABLE.sub(_framed, html))


class _Outline:
    """Headings met so far that the next may stand below, as the author numbered them."""

    def __init__(self, top: int) -> None:
        self.top = top
        self.above: list[int] = []

    def level(self, heading: re.Match[str]) -> str:
        """A heading's opening or closing tag at the level it has on the page."""
        given = int(heading[2])
        if not heading[1]:
            self.above = [*(level for level in self.above if level < given), given]
        return f"<{heading[1]}h{min(self.top + len(self.above) - 1, 6)}>"


def _framed(table: re.Match[str]) -> str:
    """The table in its frame; one that is no table on a small page is ``broad``."""
    heads = [Markup(_HELD.sub("", head)).striptags() for head in _HEAD.findall(table[0])]
    columns = cycle(escape(head) for head in heads)
    html = _HEAD_CELL.sub('<th scope="col"', table[0])
    html = _CELL.sub(lambda _: f'<td data-name="{next(columns)}"', html)
    if len(heads) >= BROAD:
        html = html.replace("<table>", '<table class="broad">', 1)
    return f'<div class="scroll">{html}</div>'
