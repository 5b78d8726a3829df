"""Sheet 1 of a pattern: what it is, whether it came out true and fits, and how it is taped."""

from __future__ import annotations

from collections.abc import Iterator

from notchbook.composing import numbers
from notchbook.composing.called import size_title
from notchbook.composing.drawing import Drawing, Item, Stroke, Text
from notchbook.composing.lettering.paragraph import flow, lowest, paragraph
from notchbook.composing.lettering.placing import extent
from notchbook.composing.pairs import both
from notchbook.composing.paper import PAPERS, Paper
from notchbook.composing.pieces.inner import inner_key
from notchbook.composing.rulers import METRIC, laid_height, laid_rulers, rulers
from notchbook.composing.setting import Setting
from notchbook.composing.sheets.guide import guide_map, guide_rows
from notchbook.composing.sheets.strip import girth, strip, strip_height
from notchbook.composing.sheets.taping import Plan
from notchbook.composing.symbols import SMALLEST
from notchbook.composing.values import day
from notchbook.drafting.draft import Draft
from notchbook.drafting.geometry.box import Box
from notchbook.drafting.geometry.path import polyline
from notchbook.drafting.geometry.vector import Point

_SIDE = 25.0
"""Width kept for the ruler down the side, mm."""


def cover(draft: Draft, made: Plan, paper: Paper, setting: Setting) -> tuple[Drawing, ...]:
    """The first sheet, in the coordinates of the paper, and as many more as the map and the list
    of very many pieces need."""
    items, more = _first(draft, made, _frame(made, paper), setting)
    page = Box(0, made.page)
    strip_ = ".strip" if girth(draft) else ""
    alt = setting.say(f"sheets.cover.alt{strip_}", total=made.total)
    return Drawing(page, tuple(items), alt), *more


def block(
    draft: Draft, made: Plan, paper: Paper, setting: Setting
) -> tuple[tuple[Item, ...], tuple[Drawing, ...]]:
    """What a cover says, in a corner of the first sheet, and further pages as a cover has them."""
    frame = Box(paper.corner + 3j, paper.corner + paper.block - 5 * (1 + 1j))
    border = Box(paper.corner, paper.corner + paper.block)
    right, low = (
        complex(border.high.real, border.low.imag),
        complex(border.low.real, border.high.imag),
    )
    items, more = _first(draft, made, frame, setting)
    return (*items, Stroke((polyline(right, border.high, low),), "leader")), more


def _frame(made: Plan, paper: Paper) -> Box:
    margin = complex(paper.margin, paper.margin)
    return Box(margin, made.page - margin)


def _first(
    draft: Draft, made: Plan, frame: Box, setting: Setting
) -> tuple[list[Item], tuple[Drawing, ...]]:
    """What the first sheet says, within a frame on it, and pages for what it has no room for."""
    left, wide = frame.low.real, frame.width - _SIDE
    measured = girth(draft)
    items = _title(draft, made, setting, frame.low, wide)
    y = lowest(items) + 8.5
    # On a page that is printed once, the ruler is measured before cutting: nothing else is printed.
    home = PAPERS[made.paper].kind == "home"
    key, words = ("cover.check", _check(draft, setting)) if home else (
        "cover.shop", f"{setting.say('cover.shop.how')} {_check(draft, setting)}"
    )  # fmt: skip
    items += _section(key, 1, complex(left, y), wide, setting, [words])
    y = lowest(items) + 10
    items += rulers(complex(left + 1, y), 1, setting)
    items += rulers(complex(frame.high.real - 12, frame.low.imag + 5), 1j, setting)
    y += 19
    last = frame.high.imag
    columns: list[tuple[str, list[str]]] = []
    if measured:
        mm = draft.measures[measured.name]
        last -= strip_height(mm, frame.width)
        items.append(strip(measured, mm, complex(left, last), frame.width, setting))
        tape = both(numbers.tape(mm), setting)
        columns.append(("cover.wear", [setting.say("cover.wear.how", length=tape)]))
    items += _laid(complex(left + wide, frame.low.imag + 5 + METRIC), last, setting)
    taping = [setting.say("pattern.notches"), *inner_key(draft, setting)]
    if made.joins or home:
        taping.insert(0, setting.say("cover.tape.how"))
    if made.blank:
        taping.insert(1, setting.say("cover.tape.blank"))
    columns.append(("cover.tape" if made.joins or home else "cover.cut", taping))
    gap = 7.0
    share = (wide - gap * (len(columns) - 1)) / len(columns)
    texts: list[Item] = []
    for number, (key, told) in enumerate(columns):
        at = complex(left + number * (share + gap), y)
        texts += _section(key, number + 2, at, share, setting, told)
    if made.total == 1:
        return [*items, *texts], ()
    room = Box(complex(left, lowest(texts) + 8), complex(left + wide, last - 4))
    guide, mapped, rows = _guide(draft, made, room, setting)
    if mapped and not rows:
        return [*items, *texts, *guide], ()
    frame = _frame(made, PAPERS[made.paper])
    more = _continued(draft, made, frame, mapped, rows, setting)
    alt = setting.say("sheets.cover.more.alt", total=made.total)
    pages = tuple(Drawing(Box(0, made.page), tuple(each), alt) for each in more)
    return [*items, *texts, *guide], pages


def _laid(at: Point, last: float, setting: Setting) -> list[Item]:
    """How a printer that scales is found out, in the corner below the ruler down the side, whose
    end is at the height of ``at``; nothing is moved for it."""
    at += 1 + 6.8j
    step = (laid_height(SMALLEST) + 0.8) * 1j
    if (at + 2 * step).imag > last:
        return []
    return laid_rulers(at, _SIDE - 2, step, SMALLEST, setting)


def _guide(
    draft: Draft, made: Plan, room: Box, setting: Setting
) -> tuple[list[Item], bool, list[str]]:
    """The map with the list on its right, or what of them there is room for and words that say
    where the rest is; whether the map is there; and the rows of the list that are not."""
    rows = guide_rows(draft, made, setting)
    if room.low.imag > room.high.imag:
        return [], False, rows
    for count, width, size in ((1, 58.0, 3.0), (1, 58.0, SMALLEST), (2, 44.0, SMALLEST)):
        aside = count * (width + 4) - 4
        starts = [room.high.real - aside + k * (width + 4) for k in range(count)]
        boxes = [Box(complex(x, room.low.imag), complex(x + width, room.high.imag)) for x in starts]
        listed, left = flow(rows, boxes, size, setting)
        mapped = guide_map(made, Box(room.low, room.high - aside - 6), setting)
        if mapped and not left:
            return [*mapped, *listed], True, []
    words = setting.say("cover.more")
    more = paragraph(words, room.low, room.width, 3.2, setting, "strong")
    below = Box(complex(room.low.real, lowest(more) + 7), room.high)
    mapped = guide_map(made, below, setting)
    return [*more, *mapped], bool(mapped), rows


def _continued(
    draft: Draft, made: Plan, frame: Box, mapped: bool, rows: list[str], setting: Setting
) -> Iterator[list[Item]]:
    """The map, if sheet 1 has no room for it, and the list, on pages of their own."""
    gap, count = 6.0, 3
    width = (frame.width - gap * (count - 1)) / count
    while rows or not mapped:
        at = frame.low + 5.2j
        items: list[Item] = [Text(at, setting.say("cover.continued"), "name", 7.0)]
        head = setting.say(
            "sheet.head",
            title=draft.recipe.title,
            size=size_title(draft, setting),
            edition=draft.recipe.edition.number,
        )
        items += paragraph(head, at + 6j, frame.width, 3.8, setting, "strong")
        top = lowest(items) + 10
        if not mapped:
            # One too small to read even here is left to the sheets: each says its row and column.
            items += guide_map(made, Box(complex(frame.low.real, top), frame.high), setting)
            mapped = True
            top = extent(items, setting).high.imag + 10
        starts = [frame.low.real + k * (width + gap) for k in range(count)]
        boxes = [Box(complex(x, top), complex(x + width, frame.high.imag)) for x in starts]
        listed, rows = flow(rows, boxes, 3.2, setting)
        yield [*items, *listed]


def licence(draft: Draft, setting: Setting) -> str:
    """What readers may do with the pattern, in one plain line."""
    code = draft.recipe.licence
    key = f"licence.{code}"
    return setting.say(
        key if key in setting.catalogue.words else "licence.other",
        licence=code,
        maker=setting.workshop.maker or setting.workshop.title,
    )


def _title(draft: Draft, made: Plan, setting: Setting, at: Point, wide: float) -> list[Item]:
    recipe = draft.recipe
    size = 9.0
    while size > 5 and setting.width(recipe.title.value, size, 700) > wide:
        size -= 0.5
    items: list[Item] = [Text(at + size * 0.74j, recipe.title.value, "name", size)]
    what = setting.say_count(
        "cover.what",
        made.total,
        size=size_title(draft, setting),
        edition=recipe.edition.number,
        date=day(recipe.edition.date, setting.catalogue.words),
        paper=setting.say(f"sheets.paper.{made.paper}"),
    )
    items += paragraph(what, at + (size * 0.74 + 5.6) * 1j, wide, 3.8, setting, "strong")
    measures = "; ".join(
        setting.say(
            "cover.measure",
            title=recipe.measures[name].title,
            length=both(numbers.tape(mm), setting),
        )
        for name, mm in draft.measures.items()
    )
    if measures:
        words = setting.say("cover.measures", measures=measures)
        items += paragraph(words, complex(at.real, lowest(items) + 4.8), wide, 3.2, setting)
    small = setting.say("cover.terms", licence=licence(draft, setting))
    items += paragraph(small, complex(at.real, lowest(items) + 4.4), wide, 2.6, setting)
    return items


def _section(
    key: str, step: int, at: Point, width: float, setting: Setting, words: list[str]
) -> list[Item]:
    """A numbered heading and what is to be done."""
    items: list[Item] = [Text(at, setting.say(key, step=step), "name", 4.4)]
    gap = 5.2
    for text in words:
        items += paragraph(text, complex(at.real, lowest(items) + gap), width, 3.2, setting)
        gap = 6.0
    return items


def _check(draft: Draft, setting: Setting) -> str:
    how = setting.say("cover.check.how")
    measure = girth(draft) or next(iter(draft.recipe.measures.values()), None)
    if measure is None:
        return how
    # What is drawn shrinks with the ruler: 1 mm in 150 is 1/150 of every length.
    cost = both(numbers.length(draft.measures[measure.name] / METRIC), setting)
    return f"{how} {setting.say('cover.check.cost', cost=cost, measure=measure.title)}"
