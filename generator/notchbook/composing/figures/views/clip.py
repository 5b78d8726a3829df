"""The clip view: an allowance with its clips or notches, as it is cut and as it lies then.

Keys, all of which may be left out where the step clips edges:
- ``edge``: such as ``brim.outer``. Of several edges a step clips, the first is drawn, and what the
  others need is told below.
- ``trimmed``: what the allowance was trimmed to before, where that is less than the pattern has.
- ``stay``: how far outside the stitching line the edges were stay-stitched. The cuts end short of
  that row.
- ``to``: where the cloths clipped here lie on each other, wrong sides inside, the piece to whose
  side all their tabs are folded.

What is drawn is a stretch of the edge where it bends most, with its allowance and its cuts to one
scale, as far apart as the drawn edge asks for.

Example::

    view: clip
    edge: brim.inner
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Callable, Sequence

from notchbook.composing import numbers
from notchbook.composing.drawing import Drawing, Fill, Item, Stroke, Text
from notchbook.composing.figures.before_after import cloth_line, in_a_row
from notchbook.composing.figures.board import HEAD, framed
from notchbook.composing.figures.clip_plan import SHORT, Clipped, ClipPlan, read_plan
from notchbook.composing.figures.legend import legend, notes
from notchbook.composing.figures.size import SIZE
from notchbook.composing.pairs import both
from notchbook.composing.pieces.arrows import arrowhead
from notchbook.composing.setting import Setting
from notchbook.drafting.clips import Cuts
from notchbook.drafting.draft import Draft, Piece
from notchbook.drafting.geometry.path import polyline
from notchbook.drafting.geometry.vector import Point, unit
from notchbook.reading.recipe import FigureRule

_TABS = 4
_WIDE, _HIGH = 38.0, 16.0
"""The most that a stretch of edge and its allowance take, mm on the page."""

_APART = 2.4
"""Between cloths that are cut across, mm on the page."""

_CLOTH = 9.0
"""How much cloth is seen inside the stitching line, mm on the page."""


def draw(draft: Draft, figure: FigureRule, setting: Setting) -> Drawing:
    """Cut and folded. Raises ContentError."""
    plan = read_plan(draft, figure)
    first = plan.edges[0]
    scale = min(_WIDE / (_TABS * first.cuts.closest), _HIGH / first.allowance, 2.5)
    after = setting.say("clip.spread" if first.spreads else "clip.after")
    if plan.to:
        after = setting.say("clip.to", piece=plan.to.title)
    states = [
        (_cut(first, plan, scale, setting), _what(first, setting)),
        (_together(plan, plan.to, setting) if plan.to else _lying(first, scale), after),
    ]
    board = in_a_row(states, setting)
    legend(board, _signs(plan, setting))
    told: dict[tuple[str, str], list[str]] = {}
    for each in plan.edges:
        told.setdefault((each.cuts.how, _every(each.cuts, setting)), []).append(each.name)
    rows = [_told(how, titles, every, setting) for (how, every), titles in told.items()]
    short = setting.say("clip.short.stay" if plan.stay else "clip.short")
    notes(board, [*rows, short])
    return framed(board, _described(plan, setting))


def _what(first: Clipped, setting: Setting) -> str:
    """What is done: ``trim to 4 mm, cut out notches``."""
    if first.whole <= first.allowance:
        return setting.say(f"clip.{first.cuts.how}")
    left = both(numbers.length(first.allowance), setting)
    return setting.say(f"clip.trim.{first.cuts.how}", left=left)


def _signs(plan: ClipPlan, setting: Setting) -> list[tuple[str, str]]:
    signs = [("stitch", setting.say("along.line"))]
    if plan.stay:
        stay = both(numbers.length(plan.stay), setting)
        signs.append(("seam", setting.say("clip.key.stay", distance=stay)))
    if plan.edges[0].whole > plan.edges[0].allowance:
        signs.append(("solid-hidden", setting.say("clip.key.off")))
    wrong = "wrong" if plan.to else "wrong-side"
    signs.append(("right-side", setting.say("layers.key.right")))
    return [*signs, (wrong, setting.say("layers.key.wrong"))]


def _ring(
    plan: Clipped, scale: float, *, flat: bool
) -> tuple[Callable[[float, float], Point], float]:
    """The curve that the stretch is part of: a place so far round it (radians) and so far out of
    the cloth, and its radius. Its top, or its foot, is at 0. With ``flat`` it is straight, or as
    good as."""
    radius = 4000.0 if flat else plan.radius * scale
    bulges = 1.0 if plan.cuts.how == "notch" or plan.spreads else -1.0
    middle = complex(0, radius * bulges)

    def at(turn: float, out: float) -> Point:
        return middle + cmath.rect(radius + out * bulges, turn * bulges) * -1j * bulges

    return at, radius


def _cut(plan: Clipped, of: ClipPlan, scale: float, setting: Setting) -> list[Item]:
    """Cloth below the stitching line, its allowance above it, with the cuts, and what was trimmed
    off above that."""
    at, radius = _ring(plan, scale, flat=plan.spreads)
    step = plan.cuts.closest * scale / radius
    wide, short = plan.allowance * scale, SHORT * scale
    v = plan.cuts.how == "notch"
    half = _TABS / 2 * step
    bits = 8 * _TABS
    turns = [-half + 2 * half * k / bits for k in range(bits + 1)]
    cuts = [(-_TABS / 2 + k) * step for k in range(1, _TABS)]
    # What a notch takes is what would overlap: the V closes when the allowance is folded in.
    opens = max(min(wide / radius * step, step * 0.5), 1.6 / (radius + wide)) if v else 0.0
    rim: list[Point] = []
    for k, turn in enumerate(turns):
        if v and any(abs(turn - cut) < opens / 2 for cut in cuts) and k % 8:
            continue
        if v and any(abs(turn - cut) < 1e-9 for cut in cuts):
            rim += [at(turn - opens / 2, wide), at(turn, short), at(turn + opens / 2, wide)]
        else:
            rim.append(at(turn, wide))
    foot = [at(turn, -_CLOTH) for turn in reversed(turns)]
    outline = polyline(*rim, *foot, rim[0])
    slits = () if v else tuple(polyline(at(cut, wide), at(cut, short)) for cut in cuts)
    top = plan.whole * scale
    off = [at(turn, top) for turn in turns] if plan.whole > plan.allowance else []
    stay = [at(turn, of.stay * scale) for turn in turns] if of.stay else []
    return [
        Fill((outline,), "right-side" if of.to else "wrong-side"),
        Stroke((polyline(*rim),), "layer"),
        *(Stroke((polyline(rim[0], *off, rim[-1]),), "solid-hidden") for _ in off[:1]),
        *(Stroke((polyline(*stay),), "seam") for _ in stay[:1]),
        *(Stroke((slit,), "solid-outline") for slit in slits),
        Stroke((polyline(*(at(turn, 0) for turn in turns)),), "stitch"),
        *(Text(at(0, -7.0), each.title, "label", SIZE, "middle") for each in of.others[:1]),
        *_spaced(at(cuts[0], top), at(cuts[1], top), plan, setting),
    ]


def _spaced(a: Point, b: Point, plan: Clipped, setting: Setting) -> list[Item]:
    """How far it is from one cut to the next, above them."""
    y = min(a.imag, b.imag) - 3.5
    ends = complex(a.real, y), complex(b.real, y)
    feet = [polyline(foot - 0.8j, end - 1.2j) for foot, end in zip((a, b), ends, strict=True)]
    heads = arrowhead(ends[0], -1, HEAD), arrowhead(ends[1], 1, HEAD)
    words = both(numbers.length(plan.cuts.closest), setting)
    middle = complex((a.real + b.real) / 2, y - 2.4)
    return [
        Stroke((polyline(*ends), *feet), "dimension"),
        Fill(heads, "ink"),
        Text(middle, words, "number", SIZE, "middle"),
    ]


def _lying(plan: Clipped, scale: float) -> list[Item]:
    """The allowance folded along the stitching line, each tab on its own chord; or spread round
    what it is sewn to."""
    at, radius = _ring(plan, scale, flat=False)
    step = plan.cuts.closest * scale / radius
    wide = plan.allowance * scale
    spreads = plan.spreads
    half = _TABS / 2 * step
    turns = [-half + 2 * half * k / 32 for k in range(33)]
    items: list[Item] = []
    line = [at(turn, 0) for turn in turns]
    if not spreads:
        foot = [at(turn, -wide - _CLOTH) for turn in reversed(turns)]
        items.append(Fill((polyline(*line, *foot, line[0]),), "wrong-side"))
    for k in range(_TABS):
        low, high = -half + k * step, -half + (k + 1) * step
        a, b = at(low, 0), at(high, 0)
        along = unit(b - a)
        # Away from the cloth, or after the fold towards it.
        out = along * -1j * (1.0 if spreads else -1.0)
        if plan.cuts.how == "notch":
            narrow = along * min(wide / radius * abs(b - a) / 2, abs(b - a) / 4)
        else:
            narrow = 0j
        tab = polyline(a, b, b + out * wide - narrow, a + out * wide + narrow, a)
        wash = "wrong-side" if spreads else "right-side"
        items += [Fill((tab,), wash), Stroke((tab,), "layer")]
    items.append(Stroke((polyline(*line),), "solid-outline"))
    return items


def _together(plan: ClipPlan, to: Piece, setting: Setting) -> list[Item]:
    """The cloths cut across, wrong sides inside, the one their tabs are folded to below."""
    items: list[Item] = []
    cloths = [*plan.others, to]
    tab = 9.0 + _APART
    for number, cloth in enumerate(cloths):
        y = number * _APART
        last = number == len(cloths) - 1
        line = complex(-30, y), complex(-y, y), complex(-y, tab)
        items += cloth_line(line, -1 if last else 1)
        at = complex(-30, y + SIZE * 1.4) if last else complex(-30, y - 1.6 - (number * SIZE))
        items.append(Text(at, cloth.title, "label", SIZE))
    words = setting.say("clip.tabs")
    items.append(Text(complex(-len(cloths) * _APART - 1.5, tab), words, "label", SIZE, "end"))
    return items


def _every(cuts: Cuts, setting: Setting) -> str:
    widest = "" if math.isinf(cuts.widest) else both(numbers.length(cuts.widest), setting)
    closest = both(numbers.length(cuts.closest), setting)
    return setting.say(f"step.clip.{cuts.spaced}", closest=closest, widest=widest)


def _told(how: str, edges: Sequence[str], every: str, setting: Setting) -> str:
    return setting.say(f"clip.told.{how}", edges=" + ".join(dict.fromkeys(edges)), every=every)


def _described(plan: ClipPlan, setting: Setting) -> str:
    first = plan.edges[0]
    key = "to" if plan.to else "spread" if first.spreads else first.cuts.how
    wide = both(numbers.length(first.allowance), setting)
    names = [each.name for each in plan.edges] if plan.to else [first.name]
    said = setting.say(
        f"clip.alt.{key}",
        edge=" + ".join(dict.fromkeys(names)),
        wide=wide,
        piece=plan.to.title if plan.to else "",
    )
    every = _every(first.cuts, setting)
    return " ".join([said, _told(first.cuts.how, [first.name], every, setting)])
