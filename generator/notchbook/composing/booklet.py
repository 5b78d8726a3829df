"""The booklet of a draft: one HTML document, to print and staple.

It is set on pages of A5. Half-Letter pages are 8.3 mm narrower and 5.9 mm taller: they are made by
cutting and lengthening, with the type where it was, so that both have the same page numbers and
are set once.
"""

from __future__ import annotations

from collections.abc import Mapping

import segno
from markupsafe import Markup

from notchbook.composing import lists
from notchbook.composing.amounts import cloth_rows, narrow_notes, thread_rows
from notchbook.composing.called import size_title
from notchbook.composing.chapters import Block, body
from notchbook.composing.markup.css import print_css
from notchbook.composing.markup.html import render
from notchbook.composing.plates import Plates
from notchbook.composing.record import fingerprint
from notchbook.composing.setting import Setting
from notchbook.composing.values import Values
from notchbook.drafting.draft import Draft, Lay
from notchbook.drafting.engine import evaluate_in


def booklet_html(
    draft: Draft,
    *,
    setting: Setting,
    plates: Plates,
    lays: tuple[Lay, ...],
    pictures: Mapping[str, str] | None = None,
) -> str:
    """The whole booklet as one HTML document. Faces are fetched from ``font:FILE``, photographs
    from where ``pictures`` says. The last page, the colophon, is meant for the back; as many of the
    three before it, whose ids begin with ``spare-``, as fill the sheets of four pages."""
    recipe = draft.recipe
    values = Values(setting.workshop.units)
    text = body(draft, setting, plates, pictures or {})
    address = setting.workshop.address.rstrip("/")
    # A body's own measures have no page of their own; the recipe's has the same words.
    page = f"{recipe.home}/{draft.size.id}" if draft.size in recipe.sizes else recipe.slug
    link = f"{address}/{page}/index.html" if address else ""
    return render(
        setting,
        "booklet.html",
        style=print_css(setting, "148mm 210mm"),
        recipe=recipe,
        size=draft.size,
        called=size_title(draft, setting),
        choices=lists.choice_rows(draft, values),
        cover=Markup(plates.cover),
        body=text,
        opening=_after_cover(text.opening),
        time=values.quantity(evaluate_in(draft, recipe.time)) if recipe.time else "",
        measures=lists.measure_rows(draft, values),
        cloths=cloth_rows(draft, lays, setting, values),
        cloth_notes=lists.cloth_notes(draft, setting),
        notions=lists.notion_rows(draft, values),
        tools=lists.tool_rows(draft),
        thread=thread_rows(draft, setting, values),
        lays=plates.lays,
        narrow=narrow_notes(draft, setting, values),
        cuts=lists.cut_rows(draft, setting, values),
        workings=lists.working_rows(draft, values),
        fingerprint=fingerprint(draft, lays),
        link=link,
        code=_code(link, setting.say("booklet.code", title=recipe.title)) if link else "",
    )


def _after_cover(opening: tuple[Block, ...]) -> list[Block]:
    """The opening without its first figure, which stands on the cover."""
    figure = next((block for block in opening if block.kind == "figure"), None)
    return [block for block in opening if block is not figure]


def _code(link: str, title: str) -> Markup:
    """A QR code (ISO/IEC 18004) that opens ``link``."""
    code = segno.make(link, error="m", micro=False)
    return Markup(code.svg_inline(border=0, title=title, omitsize=True, svgclass="code"))
