"""How often a curved allowance is clipped or notched so that it lies flat.

Folded along a hollow edge an allowance is too short for the line it comes to lie on and is clipped;
folded along a bulging one it is too long, and small Vs are cut out of it, which the trade calls
notching. Between two cuts it lies flat only if it folds along a straight line. On a radius r such a
tab of width d stands d² ÷ 8r off the curve (its sagitta), so one that may stand off by δ is

    d = √(8 δ r)

wide. The width of the allowance does not come into it, only how wide the cuts open. δ = 0.2 mm is
what the trade does: on the opening of the handbook's 25 inch loop (radius 101 mm) it makes half an
inch, on a head of 576 mm 12.1 mm, on the outer edge of a brim, 240 mm, 19.6 mm. On an ellipse of
half axes a ≥ b the cuts lie (a ÷ b)^1.5 closer at the ends than at the sides.

The edge of a tube or a steep cone is straight or nearly so until its piece is closed, and a level
curve then. Its allowance is clipped to spread round the flat piece it is sewn to, with tabs that
are straight along that curve.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Literal

from notchbook.drafting.draft import Piece
from notchbook.drafting.geometry.box import bounds
from notchbook.drafting.geometry.path import Path
from notchbook.drafting.geometry.segments import Arc, Cubic, Line, Segment
from notchbook.drafting.geometry.vector import TOUCH, cross
from notchbook.drafting.shape import Level
from notchbook.problems import Problem, suggestion
from notchbook.reading.recipe import EdgeName

STANDS = 0.2
"""How far a tab may stand off the curve, mm."""

STRAIGHT = 5000.0
"""What has a larger radius than this, mm, is straight."""

_ALIKE = 1.15
"""Where the widest spacing is no more than so many times the closest, the closest does for all."""

_SPREADS = 0.5
"""An edge that bends less than this share of what it does in space spreads round what it meets:
that of a tube, or of a cone whose sides rise by more than 60°."""

_SAMPLES = 16
"""How often curvature is taken along a cubic."""

How = Literal["clip", "notch"]
Where = Literal["ends", "sides", ""]
Bend = tuple[float, float]
"""A place along a path, mm, and the curvature there, 1/mm: positive where it turns clockwise, which
is where an edge with its cloth on the right bulges."""


@dataclass(frozen=True, slots=True)
class Cuts:
    """How far apart the cuts lie along an edge, mm: where it bends most, and where least, infinite
    where it straightens. ``close`` says where on an oval it bends most: at its ``ends``, which are
    front and back, or at its ``sides``; nothing where it is no oval."""

    how: How
    closest: float
    widest: float
    close: Where = ""

    @property
    def even(self) -> bool:
        """Whether one spacing does for the whole edge."""
        return self.widest <= _ALIKE * self.closest

    @property
    def spaced(self) -> str:
        """How the spacing changes: not (``even``), where it is ``closest`` (``ends``, ``sides``),
        until the edge ``straightens``, or in some other way (``uneven``)."""
        if self.even:
            return "even"
        return self.close or ("straightens" if math.isinf(self.widest) else "uneven")


def spacing(radius: float) -> float:
    """From one cut to the next on a curve, mm."""
    return math.sqrt(8 * STANDS * radius)


def cuts_along(path: Path, level: Path | None = None) -> tuple[Cuts, ...]:
    """The cuts in the allowance of an edge: clips where it is hollow, notches where it bulges, none
    where it is straight. ``level`` is what it becomes in space, where that lies level (x to the
    right, y to the front)."""
    bends = _bends(path)
    if level:
        closed = [(at, -abs(bend)) for at, bend in _bends(level)]
        if _most(bends) < _SPREADS * _most(closed):
            bends = closed
    found = (
        _cuts("clip", [(at, -bend) for at, bend in bends], level),
        _cuts("notch", bends, level),
    )
    return tuple(cuts for cuts in found if cuts)


def cuts_of(piece: Piece, edge: str) -> tuple[Cuts, ...]:
    """The cuts in the allowance of a drafted piece's edge; KeyError where it has none so called."""
    return cuts_along(*_of(piece, edge))


def _of(piece: Piece, edge: str) -> tuple[Path, Path | None]:
    """The path of an edge, and what it becomes in space where that lies level."""
    becomes = piece.form.edges.get(edge) if piece.form else None
    level = becomes.path if isinstance(becomes, Level) else None
    return piece.flat.edges[edge].path, level


def check_clips(pieces: Mapping[str, Piece], clipped: Iterable[EdgeName]) -> Iterator[Problem]:
    """What steps clip that is not there, or lies flat as it is."""
    for name in clipped:
        piece = pieces[name.piece]
        edge = f"{name.piece}.{name.edge}"
        if name.edge not in piece.flat.edges:
            what = f"Piece “{name.piece}” has no edge called “{name.edge}”."
            yield Problem(name.place, what, suggestion(name.edge, piece.flat.edges))
        elif not needs_cuts(piece, name.edge):
            what = f"The edge “{edge}” is straight, so its allowance lies flat uncut."
            yield Problem(name.place, what, "Leave it out, or name the edge that is curved.")
        elif not any(
            line.allowance[name.edge] > 0
            for line in piece.cut_lines
            if name.cloth in (None, *line.cloths)
        ):
            what = f"The edge “{edge}” has no allowance to clip."
            yield Problem(name.place, what, "Leave it out, or give it an allowance.")


def needs_cuts(piece: Piece, edge: str) -> bool:
    """Whether there are any cuts in the allowance of an edge, which the first place that bends
    enough says: ``cuts_of`` goes on along all of it."""
    path, level = _of(piece, edge)
    if any(abs(bend) * STRAIGHT >= 1 for bend in _all_bends(path)):
        return True
    if level is None:
        return False
    most = max(abs(bend) for bend in _all_bends(path))
    return any(
        abs(bend) * STRAIGHT >= 1 and most < _SPREADS * abs(bend) for bend in _all_bends(level)
    )


def _all_bends(path: Path) -> Iterator[float]:
    return (bend for segment in path.segments for bend in _curvatures(segment))


def _cuts(how: How, bends: list[Bend], level: Path | None) -> Cuts | None:
    """The cuts of one kind, for curvature counted positive where they are needed."""
    most, least = max(bend for _, bend in bends), min(bend for _, bend in bends)
    if most * STRAIGHT < 1:
        return None
    if least * STRAIGHT < 1:
        return Cuts(how, spacing(1 / most), math.inf)
    close = _tightest(level, bends) if level and level.closed else ""
    return Cuts(how, spacing(1 / most), spacing(1 / least), close)


def _tightest(level: Path, bends: list[Bend]) -> Where:
    """Where a closed curve in space bends most."""
    middle = bounds([level]).centre
    most = max(bend for _, bend in bends)
    share = level.length() / max(at for at, _ in bends)
    places = level.places([at * share for at, bend in bends if bend > 0.95 * most])
    found = [point - middle for point, _ in places]
    if all(abs(at.imag) > abs(at.real) for at in found):
        return "ends" if len({at.imag > 0 for at in found}) == 2 else ""
    if all(abs(at.imag) < abs(at.real) for at in found):
        return "sides" if len({at.real > 0 for at in found}) == 2 else ""
    return ""


def _most(bends: list[Bend]) -> float:
    return max(abs(bend) for _, bend in bends)


def _bends(path: Path) -> list[Bend]:
    found: list[Bend] = []
    before = 0.0
    for segment, end in zip(path.segments, path.ends(), strict=True):
        bends = _curvatures(segment)
        step = (end - before) / (len(bends) - 1)
        found += [(before + k * step, bend) for k, bend in enumerate(bends)]
        before = end
    return found


def _curvatures(segment: Segment) -> list[float]:
    """Curvature at places along a segment, its start first and its end last."""
    match segment:
        case Line():
            return [0.0, 0.0]
        case Arc(radius=radius, sweep=sweep):
            return [math.copysign(1 / radius, sweep)] * 2
        case Cubic():
            found = [0.0]
            for k in range(_SAMPLES + 1):
                speed = segment.derivative(k / _SAMPLES)
                if abs(speed) > TOUCH:  # Where it has none it has the curvature of its neighbour.
                    found.append(cross(speed, segment.second(k / _SAMPLES)) / abs(speed) ** 3)
                else:
                    found.append(found[-1])
            return found[1:]
