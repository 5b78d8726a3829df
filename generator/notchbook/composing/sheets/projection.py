"""One page to be thrown on cloth by a projector: thick lines, large words, and a square to check.

The pieces are drawn smaller and the whole page larger again, so that pens and type grow with it.
"""

from __future__ import annotations

from notchbook.composing.called import size_title
from notchbook.composing.drawing import Drawing, Item, Stroke, Text
from notchbook.composing.lettering.paragraph import lowest, paragraph
from notchbook.composing.lettering.placing import Tile, extent, text_items, text_tile, walls
from notchbook.composing.lettering.room import room
from notchbook.composing.pieces.drawn import draw_piece
from notchbook.composing.pieces.scaled import scaled_piece
from notchbook.composing.rulers import INCHES, METRIC, centred
from notchbook.composing.setting import Setting
from notchbook.composing.sheets.taping import Plan
from notchbook.drafting.draft import Draft
from notchbook.drafting.geometry.box import Box
from notchbook.drafting.geometry.path import Path, polyline
from notchbook.drafting.geometry.scale import scaled
from notchbook.drafting.geometry.vector import Point

THICK = 2.5
"""Pens and type are so many times as large as on paper."""

_AT = 15 + 15j
"""Where the check square begins on the page, mm."""

_WORDS = 150.0
"""Width of the words beside it, mm."""


def projection(draft: Draft, made: Plan, corner: Point, setting: Setting) -> Drawing:
    """The page, in units of ``THICK`` mm; the pattern begins at ``corner``, in mm."""
    page, check = Box(0, made.page / THICK), _check(draft, setting)
    outlines = [
        wall
        for placed in made.placed
        for wall in walls(
            scaled(region[0].moved(placed.turn, placed.shift + corner), 1 / THICK)
            for region in made.regions[placed.piece][:1]
        )
    ]
    frame = Tile(page.centre, page.width, page.height).sides
    seen = extent(check, setting)
    taken = [Tile(seen.centre, seen.width, seen.height)]
    pieces: list[Item] = []
    for placed in made.placed:
        drawn = draw_piece(
            scaled_piece(draft.pieces[placed.piece], 1 / THICK),
            draft,
            setting,
            turn=placed.turn,
            shift=(placed.shift + corner) / THICK,
            # What lies within another piece's outline is no room.
            around=room([*frame, *outlines], tiles=taken, cell=2.0),
        )
        taken += [text_tile(text, setting) for text in text_items((drawn,))]
        pieces.append(drawn)
    names = ", ".join(piece.title for piece in draft.pieces.values())
    return Drawing(
        page,
        (*check, *pieces),
        setting.say("sheets.projection.alt", pieces=names),
    )


def _check(draft: Draft, setting: Setting) -> list[Item]:
    """A square of 150 mm with one of 5 in inside it, and what to do with them."""
    outer, inner, at = METRIC / THICK, INCHES / THICK, _AT / THICK
    inset = (outer - inner) / 2 * (1 + 1j)
    items: list[Item] = [
        Stroke((_square(at, outer),), "cut", {"ruler": setting.say("ruler.metric")}),
        Stroke((_square(at + inset, inner),), "stitch", {"ruler": setting.say("ruler.inch")}),
        Stroke(
            (polyline(at, at + outer * (1 + 1j)), polyline(at + outer, at + outer * 1j)), "leader"
        ),
        centred(at + outer / 2 + 2.2j, setting.say("ruler.metric"), "name", 2.8),
        centred(at + outer / 2 + inset.imag * 1j + 3.0j, setting.say("ruler.inch"), "name", 2.8),
    ]
    words = at + outer + 6 + 4j
    items.append(Text(words, draft.recipe.title.value, "name", 5.0))
    what = setting.say(
        "projection.what",
        size=size_title(draft, setting),
        edition=draft.recipe.edition.number,
    )
    width = _WORDS / THICK
    items += paragraph(what, words + 5j, width, 3.2, setting, "strong")
    how = setting.say("projection.how")
    items += paragraph(how, complex(words.real, lowest(items) + 5), width, 3.2, setting)
    return items


def _square(corner: Point, side: float) -> Path:
    return polyline(corner, corner + side, corner + side * (1 + 1j), corner + side * 1j, corner)
