"""Pages to take along: what to buy and cut for one body, and what a class of several needs.

Both are set on a page as wide as A4 and as high as Letter, so that they print on either.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from markupsafe import Markup

from notchbook.composing import lists, numbers
from notchbook.composing.amounts import cloth_rows, narrow_notes, thread_rows
from notchbook.composing.called import size_title
from notchbook.composing.lists import ShopRow
from notchbook.composing.markup.css import print_css
from notchbook.composing.markup.html import render
from notchbook.composing.numbers import YARD, Pair
from notchbook.composing.record import fingerprint
from notchbook.composing.setting import Setting
from notchbook.composing.values import Values, words
from notchbook.drafting.draft import Draft, Lay
from notchbook.drafting.thread import thread
from notchbook.reading.quantity import INCH, LENGTH, RATIO, Quantity

PAGE = (210.0, 11 * INCH)
"""As wide as A4 and as high as Letter (ISO 216, ANSI/ASME Y14.1), mm."""


def list_html(draft: Draft, lays: tuple[Lay, ...], setting: Setting) -> str:
    """What to buy and what to cut, with boxes to tick, as one HTML document to print."""
    values = Values(setting.workshop.units)
    return render(
        setting,
        "list.html",
        style=print_css(setting, f"{PAGE[0]}mm {PAGE[1]:.1f}mm"),
        recipe=draft.recipe,
        called=size_title(draft, setting),
        choices=lists.choice_rows(draft, values),
        measures=lists.measure_rows(draft, values),
        cloths=cloth_rows(draft, lays, setting, values),
        cloth_notes=lists.cloth_notes(draft, setting),
        notions=lists.notion_rows(draft, values),
        thread=thread_rows(draft, setting, values),
        tools=lists.tool_rows(draft),
        cuts=lists.cut_rows(draft, setting, values),
        narrow=narrow_notes(draft, setting, values),
        fingerprint=fingerprint(draft, lays),
    )


@dataclass(frozen=True, slots=True)
class Member:
    """Somebody of a class: a name, and the draft for that body with its lays."""

    name: str
    draft: Draft
    lays: tuple[Lay, ...]


@dataclass(frozen=True, slots=True)
class Column:
    """One thing of which everybody needs some: what, each member's amount in order (empty where
    there is none), and the sum."""

    title: str
    detail: Markup
    amounts: tuple[Markup, ...]
    sum: Markup


def class_html(members: Sequence[Member], setting: Setting) -> str:
    """What everybody of a class needs and what that comes to, as one HTML document to print. All
    members make the same recipe."""
    values = Values(setting.workshop.units)
    first = members[0].draft
    given = tuple(_given(member, values) for member in members)
    notions = tuple(_notions(members, setting, values))
    return render(
        setting,
        "class.html",
        style=print_css(setting, f"{PAGE[0]}mm {PAGE[1]:.1f}mm"),
        recipe=first.recipe,
        members=members,
        titles=tuple(dict.fromkeys(title for each in given for title in each)),
        given=given,
        cloths=tuple(_cloths(members, values)),
        cloth_notes=lists.cloth_notes(first, setting),
        notions=(*(each for each in notions if isinstance(each, Column)),
                 *_thread(members, setting, values)),
        others=tuple(each for each in notions if isinstance(each, ShopRow)),
    )  # fmt: skip


def _given(member: Member, values: Values) -> Mapping[str, Markup]:
    """A member's choices and measures by their titles."""
    chosen = {row.title: row.value for row in lists.choice_rows(member.draft, values)}
    return chosen | {row.title: row.value for row in lists.measure_rows(member.draft, values)}


def _cloths(members: Sequence[Member], values: Values) -> Iterator[Column]:
    """Every cloth on every width that somebody can use. The sum is for one length cut from one
    bolt: it is rounded once."""
    cloths = members[0].draft.recipe.cloths
    found = [{(lay.cloth, lay.width): lay.need for lay in each.lays} for each in members]
    for cloth, width in sorted(
        {key for needs in found for key in needs}, key=lambda key: (list(cloths).index(key[0]), key)
    ):
        needs = [each.get((cloth, width)) for each in found]
        yield Column(
            cloths[cloth].title.value,
            values.tape(width),
            tuple(values.cloth(need) if need else Markup("") for need in needs),
            values.cloth(sum(need or 0.0 for need in needs)) if all(needs) else Markup(""),
        )


def _notions(
    members: Sequence[Member], setting: Setting, values: Values
) -> Iterator[Column | ShopRow]:
    """Every notion that somebody needs: what is counted or has no amount as a row that says how
    many in all, anything else as a column."""
    titles = {
        name: notion.title.value
        for member in members
        for name, notion in member.draft.recipe.notions.items()
    }
    for name, title in titles.items():
        needs = [member.draft.notions.get(name) for member in members]
        amounts = [need for need in needs if need]
        if all(need.dimension == RATIO for need in amounts):
            yield ShopRow(title, tuple(_counted(needs, setting, values)))
        elif amounts[0].dimension == LENGTH:
            yield _lengths(title, [need.value if need else None for need in needs], values)
        else:
            told = tuple(values.bought(need) if need else Markup("") for need in needs)
            yield Column(title, Markup(""), told, values.bought(_sum(amounts)))


def _counted(
    needs: Sequence[Quantity | None], setting: Setting, values: Values
) -> Iterator[Markup]:
    """How many there must be in all, and where everybody needs as many, how many that is."""
    amounts = [need for need in needs if need]
    if amounts:
        key = "class.each" if len({need and need.value for need in needs}) == 1 else "class.all"
        each, total = values.bought(amounts[0]), values.bought(_sum(amounts))
        yield words(setting.catalogue.words[key], each=each, sum=total)


def _sum(amounts: Sequence[Quantity]) -> Quantity:
    return Quantity(sum(each.value for each in amounts), amounts[0].dimension)


def _lengths(title: str, needs: Sequence[float | None], values: Values) -> Column:
    """Lengths of a notion, mm, all in cm if any is 10 cm or more, and the sum of them as they are
    printed."""
    lengths = [need for need in needs if need is not None]
    metric, inch = (
        sum(math.floor(mm / step + 0.5) for mm in lengths) * step for step in (1.0, INCH / 8)
    )
    write = numbers.tape if metric >= 100 else numbers.length
    return Column(
        title,
        Markup(""),
        tuple(Markup("") if need is None else values.pair(write(need)) for need in needs),
        values.pair(Pair(write(metric).metric, write(inch).inch)),
    )


def _thread(members: Sequence[Member], setting: Setting, values: Values) -> Iterator[Column]:
    """Thread, and the sum of the lengths as they are printed: in whole metres and yards."""
    lengths = [thread(member.draft).lockstitch for member in members]
    if any(lengths):
        title = setting.catalogue.words["list.thread.lockstitch"]
        amounts = tuple(values.thread(length) for length in lengths)
        metric, inch = (
            sum(math.ceil(mm / unit - 1e-9) for mm in lengths) * unit for unit in (1000.0, YARD)
        )
        told = Pair(numbers.thread(metric).metric, numbers.thread(inch).inch)
        yield Column(title, Markup(""), amounts, values.pair(told))
