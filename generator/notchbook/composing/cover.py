"""Sheet 1 of a pattern: what it is, whether it came out true and fits, and how it is taped."""

from __future__ import annotations

from collections.abc import Iterator

from notchbook.composing import numbers
from notchbook.composing.drawing import Anchor, Drawing, Fill, Group, Item, Stroke, Text
from notchbook.composing.numbers import INCH
from notchbook.composing.pairs import both
from notchbook.composing.paper import Paper
from notchbook.composing.piece_text import wrapped
from notchbook.composing.setting import Setting
from notchbook.composing.strip import girth, strip, strip_height
from notchbook.composing.symbols import SMALLEST, TYPES
from notchbook.composing.taping import Plan
from notchbook.composing.values import day
from notchbook.drafting.draft import Draft
from notchbook.drafting.geometry.path import Box, Path, Point, polyline
from notchbook.drafting.packing.raster import outermost

METRIC, INCHES = 150.0, 5 * INCH
"""The two check lengths: they can't be taken for each other, as 100 mm and 4 in can."""

_LEADING = 1.38
_SIDE = 25.0
"""Width kept for the ruler down the side, mm."""


def cover(draft: Draft, made: Plan, paper: Paper, setting: Setting) -> Drawing:
    """The first sheet, in the coordinates of the paper."""
    frame = Box(
        complex(paper.margin, paper.margin),
        complex(paper.width - paper.margin, paper.height - paper.margin),
    )
    left, wide = frame.low.real, frame.width - _SIDE
    measured = girth(draft)
    items = _title(draft, made, paper, setting, frame.low, wide)
    y = _below(items) + 8.5
    items += _section("cover.check", 1, complex(left, y), wide, setting, [_check(draft, setting)])
    y = _below(items) + 10
    items += _ruler(complex(left + 1, y), 1, setting)
    items += _ruler(complex(frame.high.real - 12, frame.low.imag + 5), 1j, setting)
    y += 19
    last = frame.high.imag
    columns: list[tuple[str, list[str]]] = []
    if measured:
        mm = draft.measures[measured.name]
        last -= strip_height(mm, frame.width)
        items.append(strip(measured, mm, complex(left, last), frame.width, setting))
        tape = both(numbers.tape(mm), setting)
        columns.append(("cover.wear", [setting.say("cover.wear.how", length=tape)]))
    columns.append(("cover.tape", [setting.say("cover.tape.how")]))
    gap = 7.0
    share = (wide - gap * (len(columns) - 1)) / len(columns)
    texts: list[Item] = []
    for number, (key, words) in enumerate(columns):
        at = complex(left + number * (share + gap), y)
        texts += _section(key, number + 2, at, share, setting, words)
    room = Box(complex(left, _below(texts) + 8), complex(frame.high.real, last - 4))
    return Drawing(
        Box(0, complex(paper.width, paper.height)),
        (*items, *texts, *_map(draft, made, room, wide, setting)),
        setting.say("sheets.cover.alt", total=made.total),
    )


def licence(draft: Draft, setting: Setting) -> str:
    """What readers may do with the pattern, in one plain line."""
    code = draft.recipe.licence
    key = f"licence.{code}"
    return setting.say(
        key if key in setting.catalogue.words else "licence.other",
        licence=code,
        maker=setting.workshop.maker or setting.workshop.title,
    )


def paragraph(
    words: str, at: Point, width: float, size: float, setting: Setting, role: str = "note"
) -> list[Item]:
    """Words set in rows no wider than ``width``, the first one's baseline at ``at``."""
    rows = wrapped(words, width, size, setting, TYPES[role].weight)
    step = size * _LEADING * 1j
    return [Text(at + k * step, row, role, size) for k, row in enumerate(rows)]


def _below(items: list[Item]) -> float:
    """The lowest baseline so far."""
    return max(item.at.imag for item in items if isinstance(item, Text))


def _title(
    draft: Draft, made: Plan, paper: Paper, setting: Setting, at: Point, wide: float
) -> list[Item]:
    recipe = draft.recipe
    size = 9.0
    while size > 5 and setting.width(recipe.title.value, size, 700) > wide:
        size -= 0.5
    items: list[Item] = [Text(at + size * 0.74j, recipe.title.value, "name", size)]
    what = setting.say(
        "cover.what",
        size=draft.size.title,
        edition=recipe.edition.number,
        date=day(recipe.edition.date, setting.catalogue.words),
        total=made.total,
        paper=setting.say(f"sheets.paper.{paper.name}"),
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
        items += paragraph(words, complex(at.real, _below(items) + 4.8), wide, 3.2, setting)
    small = setting.say("cover.terms", licence=licence(draft, setting))
    items += paragraph(small, complex(at.real, _below(items) + 4.4), wide, 2.6, setting)
    return items


def _section(
    key: str, step: int, at: Point, width: float, setting: Setting, words: list[str]
) -> list[Item]:
    """A numbered heading and what is to be done."""
    items: list[Item] = [Text(at, setting.say(key, step=step), "name", 4.4)]
    gap = 5.2
    for text in words:
        items += paragraph(text, complex(at.real, _below(items) + gap), width, 3.2, setting)
        gap = 5.0
    return items


def _check(draft: Draft, setting: Setting) -> str:
    how = setting.say("cover.check.how")
    measure = girth(draft) or next(iter(draft.recipe.measures.values()), None)
    if measure is None:
        return how
    # What is drawn shrinks with the ruler: 1 mm in 150 is 1/150 of every length.
    cost = both(numbers.length(draft.measures[measure.name] / METRIC), setting)
    return f"{how} {setting.say('cover.check.cost', cost=cost, measure=measure.title)}"


def _diagonals(made: Plan, setting: Setting) -> list[str]:
    if not made.diagonals:
        return []
    each = [
        setting.say(
            "cover.tape.diagonal",
            number=diagonal.number,
            first=made.numbers[diagonal.ends[0][0]],
            last=made.numbers[diagonal.ends[1][0]],
            length=both(numbers.radius(diagonal.length), setting),
        )
        for diagonal in made.diagonals
    ]
    return [setting.say("cover.tape.diagonals"), *each]


def _ruler(at: Point, along: complex, setting: Setting) -> list[Item]:
    """Two check rulers back to back along a direction: millimetres on one side, inches on the
    other. Each is one line exactly as long as it says, with marks."""
    out = along * -1j
    metric, inch = at, at - out * 2
    items: list[Item] = []
    for start, step, count, parts, towards, end, key in (
        (metric, 1.0, 150, (10, 5), out, METRIC, "cover.ruler.metric"),
        (inch, INCH / 8, 40, (8, 4), -out, INCHES, "cover.ruler.inch"),
    ):
        marks = [polyline(start, start + along * end)]
        for k in range(count + 1):
            reach = 4.5 if k % parts[0] == 0 else 3.0 if k % parts[1] == 0 else 1.8
            foot = start + along * k * step
            marks.append(polyline(foot, foot + towards * reach))
        items.append(Stroke((marks[0],), "ruler", {"ruler": setting.say(key)}))
        items.append(Stroke(tuple(marks[1:]), "ruler"))
        for k in range(0, count + 1, parts[0]):
            number = str(k if parts[0] == 10 else k // parts[0])
            spot = start + along * k * step + towards * 6.6
            items.append(_centred(spot, number, "number", SMALLEST))
        # The name stands on the marks' side, beyond the last of them.
        beyond = setting.width(setting.say(key), 4.0, 700) / 2 + 2 if along == 1 else 4.0
        spot = start + along * (end + beyond) + towards * 2.6
        items.append(_centred(spot, setting.say(key), "name", 4.0))
    return items


def _centred(at: Point, words: str, role: str, size: float, anchor: Anchor = "middle") -> Text:
    """One line of words whose capitals are centred on ``at``."""
    return Text(at + 1j * size * 0.35, words, role, size, anchor)


def _map(draft: Draft, made: Plan, room: Box, wide: float, setting: Setting) -> Iterator[Item]:
    """A small plan of the sheets with the pieces on them; to its right the sheets of each piece
    and the diagonals. ``wide`` is the width left beside the ruler down the side."""
    if room.low.imag > room.high.imag:
        return
    aside, listed = _list(draft, made, room, wide, setting)
    top = room.low.imag + 4
    scale = min(
        (wide - aside - 6) / (made.columns * made.width),
        (room.high.imag - top) / (made.rows * made.height),
        0.2,
    )
    yield Text(room.low, setting.say("cover.map"), "name", 4.4)
    yield from listed
    # Every sheet says its row and column, should there be no room to read the map.
    size = min(3.4, made.height * scale * 0.7)
    if size < SMALLEST:
        return
    corner = complex(room.low.real, top)

    def small(path: Path) -> Path:
        return polyline(*(corner + point * scale for point in path.points(1.0)))

    outlines = tuple(
        small(loop.moved(placed.turn, placed.shift))
        for placed in made.placed
        for region in outermost(draft.pieces[placed.piece])
        for loop in region
    )
    frames = tuple(_frame(made.box(cell), corner, scale) for cell in made.numbers)
    yield Group((Stroke(frames, "leader"), Stroke(outlines, "layer")), id="map")
    for cell, number in made.numbers.items():
        centre = corner + made.box(cell).centre * scale
        half = complex(setting.width(str(number), size, 700) / 2 + 0.5, size / 2)
        yield Fill((_rectangle(Box(centre - half, centre + half)),), "paper")
        yield _centred(centre, str(number), "name", size)


def _list(
    draft: Draft, made: Plan, room: Box, wide: float, setting: Setting
) -> tuple[float, list[Item]]:
    """The sheets of each piece and the diagonals, right of the map, and the width they take. What
    does not fit is set smaller, then in two columns, then without the diagonals, which the sheets
    themselves name; at the very last it ends where the room does."""
    pieces = [_sheets_of(made, name, piece.title, setting) for name, piece in draft.pieces.items()]
    for rows in ([*pieces, *_diagonals(made, setting)], pieces):
        for columns, width, size in ((1, 58.0, 3.0), (1, 58.0, SMALLEST), (2, 44.0, SMALLEST)):
            aside = columns * (width + 4) - 4
            at = complex(room.low.real + wide - aside, room.low.imag)
            ends = [at.real + width * (k + 1) + 4 * k for k in range(columns)]
            items, whole = _flow(rows, at.imag, ends, width, room.high.imag, size, setting)
            if whole:
                return aside, items
    return aside, items


def _flow(
    rows: list[str],
    top: float,
    ends: list[float],
    width: float,
    bottom: float,
    size: float,
    setting: Setting,
) -> tuple[list[Item], bool]:
    """Rows set in columns that end at ``ends``, no baseline below ``bottom``, and whether all of
    them are there."""
    items: list[Item] = []
    column, y = 0, top
    for row in rows:
        lines = paragraph(row, complex(ends[column] - width, y), width, size, setting)
        if _below(lines) > bottom and column + 1 < len(ends):
            column += 1
            lines = paragraph(row, complex(ends[column] - width, top), width, size, setting)
        if _below(lines) > bottom:
            return items, False
        items += lines
        y = _below(lines) + size * 1.53
    return items, True


def _sheets_of(made: Plan, name: str, title: str, setting: Setting) -> str:
    found = made.sheets_of(name)
    listed = ", ".join(str(number) for number in found)
    return setting.say_count("cover.list", len(found), piece=title, sheets=listed)


def _frame(box: Box, corner: Point, scale: float) -> Path:
    return _rectangle(Box(corner + box.low * scale, corner + box.high * scale))


def _rectangle(box: Box) -> Path:
    low, high = box.low, box.high
    right, left = complex(high.real, low.imag), complex(low.real, high.imag)
    return polyline(low, right, high, left, low)
