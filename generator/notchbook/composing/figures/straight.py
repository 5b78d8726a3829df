"""A seam laid straight, as a strip of every cloth along it: for what can't lie flat."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

from notchbook.composing.figures.laid import LEAST, Laid, Pleats, Ply
from notchbook.composing.figures.layered import Layer, edges_in
from notchbook.composing.figures.track import Points, Track, parts_of
from notchbook.drafting.draft import Opening, Seam
from notchbook.drafting.sides import Meeting

_STRIP, _DEPTH, _STEP = 74.0, 12.0, 5.2
"""How long a strip is, how much cloth is seen of its uppermost layer and how much more of each
below it, mm on the page."""


def strip(
    layers: Sequence[Layer],
    seam: Seam,
    opening: Opening | None,
    marks: Sequence[Meeting],
    pleats: Pleats | None = None,
) -> Laid:
    """The seam laid straight, cloth below it and allowances above. One that goes all round begins
    in the middle of its gap."""
    begin = 0.0
    if seam.round and opening:
        begin = (opening.end - opening.length / 2) / seam.lengths[0]
    count = len(layers)
    plies = []
    out = 0.0 if seam.round else 3.0
    left, right = -out, _STRIP + out
    deepest = [layer.piece.cut_line(layer.cloth).allowance for layer in layers]
    most = max(max((a[e] for e in edges_in(seam, lay_)), default=0.0)
               for a, lay_ in zip(deepest, layers, strict=True))  # fmt: skip
    for k, (layer, allowance) in enumerate(zip(layers, deepest, strict=True)):
        own = max((allowance[edge] for edge in edges_in(seam, layer)), default=0.0)
        high = -(2 * LEAST) * (own / most if most else 0.0)
        low = _DEPTH + _STEP * (count - 1 - k)
        wave = [
            complex(right - (right - left) * j / 24, low + 0.5 * math.sin(j * math.pi / 2))
            for j in range(25)
        ]
        corners = (complex(left, high), complex(right, high), *wave)
        plies.append(Ply(layer, (corners,)))
    track = Track((0.0, 1.0), (0j, complex(_STRIP)), 1.0)
    sewn, gone = parts_of(seam, opening)
    if seam.round and opening:
        half = opening.length / 2 / seam.lengths[0]
        sewn, gone = [[(half, 1 - half)]], [[(0.0, half)], [(1 - half, 1.0)]]

    def shifted(share: float) -> float:
        moved = (share - begin) % 1 if seam.round else share
        return 0.0 if seam.round and moved > 1 - 1e-6 else moved

    told = [(shifted(mark.share), mark) for mark in marks]
    told += [(1.0, mark) for share, mark in told if seam.round and share < 1e-6]
    return Laid(
        tuple(plies), track,
        tuple(track.between(*parts[0]) for parts in sewn),
        tuple(track.between(*parts[0]) for parts in gone),
        tuple(told), straight=True, folds=_folds(plies[-1], pleats, shifted),
    )  # fmt: skip


def _folds(
    upper: Ply, pleats: Pleats | None, shifted: Callable[[float], float]
) -> tuple[Points, ...]:
    """The folds of the uppermost cloth's pleats that are seen. Laid towards the end of their edge
    they point the way a machine sews, from left to right: on the right side each is where it was
    laid to, on the wrong side it is the under fold, deeper by what a pleat lies."""
    if pleats is None:
        return ()
    count, deep = pleats
    beyond = 0.0 if upper.layer.side == "right" else deep
    places = [_STRIP * (shifted((k + 0.5) / count) + beyond) for k in range(count)]
    high = min(p.imag for p in upper.loops[0])
    return tuple((complex(x, high), complex(x, _DEPTH * 0.8)) for x in places)
