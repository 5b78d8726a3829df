"""The clip view: an allowance with its clips or notches, as it is cut and as it lies then.

Keys, all of which may be left out where the step clips edges:
- ``edge``: such as ``brim.outer``. Of several edges a step clips, the first is drawn, and what the
  others need is told below.
- ``trimmed``: what the allowance was trimmed to before, where that is less than the pattern has.

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
from dataclasses import dataclass

from notchbook.composing import numbers
from notchbook.composing.drawing import Drawing, Fill, Item, Stroke, Text
from notchbook.composing.figures import keys
from notchbook.composing.figures.before_after import in_a_row
from notchbook.composing.figures.board import HEAD, framed
from notchbook.composing.figures.facts import step_of
from notchbook.composing.figures.legend import legend, notes
from notchbook.composing.figures.size import SIZE
from notchbook.composing.pairs import both
from notchbook.composing.pieces.arrows import arrowhead
from notchbook.composing.setting import Setting
from notchbook.drafting.clips import STANDS, Cuts, cuts_along, cuts_of
from notchbook.drafting.draft import Draft, Piece
from notchbook.drafting.geometry.path import Point, polyline, unit
from notchbook.problems import ContentError, Problem
from notchbook.reading.quantity import LENGTH
from notchbook.reading.recipe import FigureRule

SHORT = 1.5
"""How far from the stitching a cut ends, mm: as it is printed on every pattern."""

_TABS = 4
_WIDE, _HIGH = 38.0, 16.0
"""The most that a stretch of edge and its allowance take, mm on the page."""

_CLOTH = 9.0
"""How much cloth is seen inside the stitching line, mm on the page."""


@dataclass(frozen=True, slots=True)
class _Clipped:
    """An edge that is cut: its allowance, mm, and its cuts. ``spreads``: it lies straight or nearly
    so when it is cut, and round what it is sewn to after that."""

    piece: Piece
    edge: str
    allowance: float
    cuts: Cuts
    spreads: bool

    @property
    def radius(self) -> float:
        """Where it bends most, mm: what the spacing of the cuts follows from."""
        return self.cuts.closest**2 / (8 * STANDS)


def draw(draft: Draft, figure: FigureRule, setting: Setting) -> Drawing:
    """Cut and folded. Raises ContentError."""
    first, *others = _plan(draft, figure)
    scale = min(_WIDE / (_TABS * first.cuts.closest), _HIGH / first.allowance, 2.5)
    states = [
        (_cut(first, scale, setting), setting.say(f"clip.{first.cuts.how}")),
        (_lying(first, scale), setting.say("clip.spread" if first.spreads else "clip.after")),
    ]
    board = in_a_row(states, setting)
    signs = [
        ("stitch", setting.say("layers.key.stitch")),
        ("right-side", setting.say("layers.key.right")),
        ("wrong-side", setting.say("layers.key.wrong")),
    ]
    legend(board, signs)
    told: dict[tuple[str, str], list[str]] = {}
    for plan in (first, *others):
        titles = told.setdefault((plan.cuts.how, _every(plan.cuts, setting)), [])
        titles.append(f"{plan.piece.title}, {plan.edge}")
    rows = [_told(how, titles, every, setting) for (how, every), titles in told.items()]
    notes(board, [*rows, setting.say("clip.short")])
    return framed(board, _described(first, setting))


def _plan(draft: Draft, figure: FigureRule) -> list[_Clipped]:
    """Every edge that is cut, each once for clips and once for notches."""
    problems: list[Problem] = []
    keys.check_keys(figure.keys, ("edge", "trimmed"), "A clip figure", problems)
    trimmed = keys.value(figure.keys, "trimmed", LENGTH, draft, problems)
    words = keys.texts(figure.keys, "edge", problems)
    named: list[tuple[Piece, str, str | None]] = []
    for word in words:
        if found := keys.find_edge(word, draft, problems):
            cloth = word.value.rpartition(".")[0].rpartition(" ")[0] or None
            named.append((*found, cloth))
    step = step_of(draft, figure)
    if not words and step:
        named = [(draft.pieces[n.piece], n.edge, n.cloth) for n in step.facts.clip]
    found_: list[_Clipped] = []
    for piece, edge, cloth in named:
        name = f"{piece.name}.{edge}"
        line = piece.cut_line(cloth) if cloth and cloth in piece.counts else piece.cut_lines[0]
        wide = line.allowance[edge]
        cuts = cuts_of(piece, edge)
        if not cuts or wide <= SHORT:
            why = "is straight, so that its allowance lies flat uncut"
            why = why if not cuts else "has no allowance to clip"
            place = words[0].place if words else figure.view.place
            problems.append(Problem(place, f"The edge “{name}” {why}.", "Name another edge."))
        own = [(c.how, round(c.closest, 1)) for c in cuts_along(piece.flat.edges[edge].path)]
        wide = wide if trimmed is None else min(wide, trimmed)
        found_ += [
            _Clipped(piece, edge, wide, each, (each.how, round(each.closest, 1)) not in own)
            for each in cuts
        ]
    if not named and not problems:
        example = next(iter(draft.pieces), "PIECE")
        problems.append(keys.missing(figure, "edge", "clip", f"{example}.EDGE"))
    if problems:
        raise ContentError(problems)
    return found_


def _ring(
    plan: _Clipped, scale: float, *, flat: bool
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


def _cut(plan: _Clipped, scale: float, setting: Setting) -> list[Item]:
    """Cloth below the stitching line, its allowance above it, with the cuts."""
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
    return [
        Fill((outline,), "wrong-side"),
        Stroke((polyline(*rim),), "layer"),
        *(Stroke((slit,), "solid-outline") for slit in slits),
        Stroke((polyline(*(at(turn, 0) for turn in turns)),), "stitch"),
        *_spaced(at(cuts[0], wide), at(cuts[1], wide), plan, setting),
    ]


def _spaced(a: Point, b: Point, plan: _Clipped, setting: Setting) -> list[Item]:
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


def _lying(plan: _Clipped, scale: float) -> list[Item]:
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


def _every(cuts: Cuts, setting: Setting) -> str:
    widest = "" if math.isinf(cuts.widest) else both(numbers.length(cuts.widest), setting)
    closest = both(numbers.length(cuts.closest), setting)
    return setting.say(f"step.clip.{cuts.spaced}", closest=closest, widest=widest)


def _told(how: str, edges: Sequence[str], every: str, setting: Setting) -> str:
    return setting.say(f"clip.told.{how}", edges=" + ".join(dict.fromkeys(edges)), every=every)


def _described(plan: _Clipped, setting: Setting) -> str:
    key = "spread" if plan.spreads else plan.cuts.how
    wide = both(numbers.length(plan.allowance), setting)
    name = f"{plan.piece.title}, {plan.edge}"
    said = setting.say(f"clip.alt.{key}", edge=name, wide=wide)
    return " ".join([said, _told(plan.cuts.how, [name], _every(plan.cuts, setting), setting)])
