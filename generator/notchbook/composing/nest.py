"""All sizes of a recipe laid over each other at true scale, for cutters and pattern rooms.

Every piece is laid with the point its shape is drafted from, the origin, on that of the others and
its grain line parallel to theirs: the middle of a disc, a ring or a collar, the point of a cone, a
corner of a strip, the corner an author begins a panel at. It is the one point that all sizes of a
shape share by construction. From there lines grow outwards and rarely cross; laid on the middle of
the grain line, those of a ring would bunch where that lies and part opposite. Pieces made from one
another keep the point they share, so a facing lies in its nest as in that of its garment.

A piece whose cloths are cut along different lines has a nest for each of these: together they
could not be read.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from notchbook.composing.drawing import Drawing, Group, Item, Stroke, Text, moved
from notchbook.composing.lettering.placing import extent
from notchbook.composing.markup.html import printed
from notchbook.composing.markup.svg import svg
from notchbook.composing.names import plain
from notchbook.composing.paper import LONGEST
from notchbook.composing.pattern import GAP, ROW, in_rows
from notchbook.composing.pieces.arrows import grain_line
from notchbook.composing.pieces.drawn import notch_feet
from notchbook.composing.pieces.text import counted
from notchbook.composing.rulers import rulers
from notchbook.composing.setting import Setting
from notchbook.composing.symbols import NESTED
from notchbook.drafting.draft import CutLine, Draft, Piece
from notchbook.drafting.geometry.box import Box, bounds
from notchbook.drafting.geometry.path import Path, polyline
from notchbook.drafting.geometry.vector import unit
from notchbook.reading.choosing import chosen_title
from notchbook.reading.recipe import Recipe

_SAMPLE = 90.0
"""Length of a line's sample in the key, mm: the longest row of marks fits in more than once."""

_ROW = 7.0
"""From row to row of the key, mm."""

_ROWS = 7
"""Rows in a column of the key, at most."""

_TICK = 3.0
"""Length of a notch, from the cutting line inwards, mm."""

_CROSS = 4.0
"""From the middle of the cross at the common point to the ends of its arms, mm."""


@dataclass(frozen=True, slots=True)
class Nest:
    """The drawing of what all sizes share, and on top of it a layer for each size, smallest first:
    a group that is titled as the size is."""

    ground: Drawing
    layers: tuple[Group, ...]

    def drawing(self) -> Drawing:
        """All of it."""
        return replace(self.ground, items=(*self.ground.items, *self.layers))

    @property
    def unit(self) -> int:
        """How many times as large as a PDF's usual unit that of its page must be: a page has no
        more than 14 400 (ISO 32000-1, annex C; ``UserUnit`` in table 30)."""
        return math.ceil(max(self.ground.box.width, self.ground.box.height) / LONGEST)


def has_nest(recipe: Recipe) -> bool:
    """Whether there are several sizes, and a line for each."""
    return 1 < len(recipe.sizes) <= len(NESTED)


@dataclass(frozen=True, slots=True)
class _Block:
    """One piece as it is cut from some cloths, in every size: what all share, and what each has."""

    ground: tuple[Item, ...]
    sizes: tuple[tuple[Stroke, ...], ...]

    @property
    def items(self) -> tuple[Item, ...]:
        return (*self.ground, *(stroke for size in self.sizes for stroke in size))

    def moved(self, shift: complex) -> _Block:
        return _Block(
            tuple(moved(item, shift=shift) for item in self.ground),
            tuple(
                tuple(replace(s, paths=tuple(p.moved(1, shift) for p in s.paths)) for s in size)
                for size in self.sizes
            ),
        )


def nest(drafts: Sequence[Draft], setting: Setting) -> Nest:
    """The nest of one recipe, its choices settled, drafted in each of its sizes."""
    drafts = sorted(drafts, key=_cloth)
    recipe = drafts[0].recipe
    blocks = [
        _block(name, cloths, drafts, setting)
        for name in drafts[0].pieces
        for cloths in _cut_together(name, drafts)
    ]
    heading = _heading(drafts, setting)
    seen = extent(heading, setting)
    boxes = [extent(block.items, setting) for block in blocks]
    shifts, corner = in_rows(boxes, max(ROW, seen.width), seen.height + GAP)
    blocks = [block.moved(shift) for block, shift in zip(blocks, shifts, strict=True)]
    margin = complex(GAP, GAP)
    ground = Drawing(
        Box(-margin, complex(max(seen.width, corner.real), corner.imag) + margin),
        (
            *(moved(item, shift=-seen.low) for item in heading),
            *(item for block in blocks for item in block.ground),
        ),
        setting.say("nest.title", title=_called(recipe)),
        setting.say("nest.description", sizes=", ".join(d.size.title for d in drafts)),
    )
    layers = tuple(
        Group(
            tuple(stroke for block in blocks for stroke in block.sizes[k]),
            id=f"size-{draft.size.id}",
            title=draft.size.title,
            data={"size": draft.size.id},
        )
        for k, draft in enumerate(drafts)
    )
    return Nest(ground, layers)


def nest_html(made: Nest, setting: Setting) -> str:
    """What all sizes share as one HTML page, to be printed; layers come on top of that."""
    box = made.ground.box
    drawn = svg(made.ground, setting=setting, size=1 / made.unit)
    page = complex(box.width, box.height) / made.unit
    return printed(setting, made.ground.title, page, "body{margin:0}svg{display:block}\n", drawn)


def _called(recipe: Recipe) -> str:
    chosen = chosen_title(recipe)
    return f"{recipe.title}, {chosen}" if chosen else recipe.title.value


def _cloth(draft: Draft) -> float:
    """How much cloth a size covers, mm², so that sizes can be put in order."""
    return math.fsum(
        loop.area()
        for piece in draft.pieces.values()
        for loop in piece.cut_lines[0].loops
    )  # fmt: skip


def _cut_together(name: str, drafts: Sequence[Draft]) -> list[tuple[str, ...]]:
    """The cloths of a piece, those together that are cut along one line in every size."""
    found: dict[tuple[tuple[str, ...], ...], list[str]] = {}
    for cloth in drafts[0].pieces[name].counts:
        lines = tuple(draft.pieces[name].cut_line(cloth).cloths for draft in drafts)
        found.setdefault(lines, []).append(cloth)
    return [tuple(cloths) for cloths in found.values()]


def _block(
    name: str, cloths: tuple[str, ...], drafts: Sequence[Draft], setting: Setting
) -> _Block:  # fmt: skip
    smallest = drafts[0].pieces[name]
    grain = smallest.flat.grain
    sizes = []
    for k, draft in enumerate(drafts):
        piece = draft.pieces[name]
        turn = _turn(piece, smallest)
        line = piece.cut_line(cloths[0])
        data = {"piece": name, "cloth": " ".join(cloths)}
        cut = tuple(loop.moved(turn) for loop in line.loops)
        ticks = tuple(tick.moved(turn) for tick in _ticks(piece, line))
        notches = (Stroke(ticks, "nest-notch", data),) if ticks else ()
        sizes.append((Stroke(cut, f"nest-{k}", data), *notches))
    box = bounds([path for size in sizes for stroke in size for path in stroke.paths])
    words = counted(smallest, cloths, plain, setting)
    at = box.low - 6j
    ground = (
        Text(at - 6j, smallest.title, "name", 8.0),
        Text(at, setting.say("mark.cut", cloths=words), "label", 4.5),
        Stroke((polyline(-_CROSS, _CROSS), polyline(-_CROSS * 1j, _CROSS * 1j)), "line-cross"),
        *grain_line(grain),
    )
    return _Block(ground, tuple(sizes))


def _turn(piece: Piece, other: Piece) -> complex:
    """How a piece is turned so that its grain line runs as that of another."""
    (start, end), (first, last) = piece.flat.grain, other.flat.grain
    turn = unit(last - first) / unit(end - start)
    return 1 if abs(turn - 1) < 1e-9 else turn


def _ticks(piece: Piece, line: CutLine) -> Iterator[Path]:
    for notch in piece.notches:
        for foot in notch_feet(notch):
            edge = foot + notch.out * line.allowance[notch.edge]
            yield polyline(edge, edge - notch.out * _TICK)


def _heading(drafts: Sequence[Draft], setting: Setting) -> tuple[Item, ...]:
    recipe = drafts[0].recipe
    title = setting.say(
        "nest.heading", title=_called(recipe), edition=recipe.edition.number
    )  # fmt: skip
    says = ("nest.laid", "nest.lines", "nest.shared", "pattern.ruler")
    return (
        Text(0, title, "name", 12.0),
        *(Text(9j + 7j * k, setting.say(key), "label", 4.5) for k, key in enumerate(says)),
        Group(tuple(rulers(43j, 1, setting)), id="rulers"),
        Group(tuple(_key(drafts, 60j, setting)), id="key"),
    )


def _key(drafts: Sequence[Draft], at: complex, setting: Setting) -> Iterator[Item]:
    """Every size's line and name, in columns."""
    widest = max(setting.width(draft.size.title, 4.5, 700) for draft in drafts)
    columns = math.ceil(len(drafts) / _ROWS)
    for k, draft in enumerate(drafts):
        column, row = divmod(k, math.ceil(len(drafts) / columns))
        start = at + complex(column * (_SAMPLE + 4 + widest + GAP), row * _ROW)
        line = polyline(start, start + _SAMPLE)
        yield Stroke((line,), f"nest-{k}", {"key": draft.size.id})
        yield Text(start + _SAMPLE + 4 + 1.6j, draft.size.title, "strong", 4.5)
