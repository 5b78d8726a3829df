"""Prose: the author's Markdown with its values and pictures put back, as HTML."""

from __future__ import annotations

import re
from collections.abc import Callable

from markdown import Markdown
from markupsafe import Markup

from notchbook.reading.formula import Formula
from notchbook.reading.recipe import Inline, Picture, Prose

# Values and pictures go through Markdown as numbers between two characters that Unicode keeps
# for private use, which Markdown leaves alone.
_HELD = re.compile("\ue000([0-9]+)\ue001")
_HEAD_CELL = re.compile("<th(?=[ >])")


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
                text.append(part)
                continue
            case Inline(formula):
                held.append(value(formula))
            case Picture():
                held.append(picture(part))
        text.append(f"\ue000{len(held) - 1}\ue001")
    html = markdown_html("".join(text), converter)
    return Markup(_HELD.sub(lambda match: held[int(match[1])], html))


def markdown_html(text: str, converter: Markdown) -> Markup:
    """Plain Markdown as HTML. Tables get a frame that can be scrolled on a narrow screen."""
    html = converter.reset().convert(text)
    html = html.replace("<table>", '<div class="scroll" tabindex="0"><table>')
    html = html.replace("</table>", "</table></div>")
    return Markup(_HEAD_CELL.sub('<th scope="col"', html))
