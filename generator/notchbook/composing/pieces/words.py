"""Places for the small words of a piece: notch numbers, centre front and back, the names of its
lines, the grain. Each word comes with several places, the best first.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from itertools import chain, product

from notchbook.composing.drawing import Text
from notchbook.composing.lettering.placing import ABOVE
from notchbook.composing.names import plain
from notchbook.composing.setting import Setting
from notchbook.composing.symbols import SMALLEST
from notchbook.drafting.allowance import TOGETHER
from notchbook.drafting.draft import Draft, Notch, Piece
from notchbook.drafting.geometry.path import Path
from notchbook.drafting.geometry.vector import Point, unit
from notchbook.drafting.marks import Marks

_SAME = math.radians(1)
"""Directions that differ by less are the same."""


def line_names(piece: Piece, setting: Setting) -> Iterator[Iterator[Text]]:
    """Where one piece has several cutting lines, each names its cloths along it, on every loop."""
    if len(piece.cut_lines) < 2:
        return
    for line in piece.cut_lines[1:]:
        words = ", ".join(plain(cloth) for cloth in line.cloths)
        for loop, edges in zip(line.loops, piece.flat.loops, strict=True):
            stitched = all(abs(line.allowance[edge.name]) <= TOGETHER for edge in edges)
            key = "mark.line.stitch" if stitched else "mark.line"
            yield along_line(loop, setting.say(key, cloths=words), 3.0, setting, _BESIDE[:2])


_BESIDE = (1.8, 3.0, 4.5, 6.0, 9.0)
"""How far from a line its words may be, mm. Those of a line to cut are next to it or left out,
since another line may run beside it; a sample of it is among the piece's own words."""


def along_line(
    path: Path,
    words: str,
    size: float,
    setting: Setting,
    distances: Sequence[float] = _BESIDE,
) -> Iterator[Text]:
    """Places for words close to a line, rather on the side where the cloth is."""
    length, joints = path.length(), path.ends()
    half = setting.width(words, size) / 2
    shares = (0.69, 0.31, 0.81, 0.19, 0.56, 0.44, 0.94, 0.06, 0.75, 0.25, 0.87, 0.13, 0.62, 0.38)
    for side, share in product((1j, -1j), shares):
        middle = share * length
        reach = (middle, (middle - half) % length, (middle + half) % length)
        (at, along), *ends = path.places(reach, joints)
        away = along * side
        # On a curve, the line bends away from the words' middle or towards their ends.
        bend = max(((end - at) * away.conjugate()).real for end, _ in ends)
        for distance in distances:
            foot = at + away * (max(bend, 0.0) + distance)
            yield upright(foot, along, away, words, "label", size)


def reads(along: complex) -> bool:
    """Whether words along a direction are upright; straight up the page counts, down does not."""
    return along.real > 1e-9 or (abs(along.real) <= 1e-9 and along.imag < 0)


def upright(foot: Point, along: complex, away: complex, words: str, role: str, size: float) -> Text:
    """Words along a direction, on the ``away`` side of ``foot``, never upside down."""
    if not reads(along):
        along = -along
    # Letters stand on the baseline: below the line they hang by their full height.
    below = (away * along.conjugate()).imag > 0
    at = foot + away * size * (ABOVE if below else 0.22)
    return Text(at, words, role, size, "middle", math.degrees(cmath.phase(along)))


def fold_words(chords: Iterable[Path], setting: Setting) -> Iterator[Iterator[Text]]:
    """What to do along each fold of a piece that is printed in part."""
    for chord in chords:
        tries = product(("mark.fold", "mark.fold.short"), (3.5, SMALLEST))
        yield chain.from_iterable(
            along_line(chord, setting.say(key), size, setting)
            for key, size in tries
            if setting.width(setting.say(key), size) < chord.length() * 0.9
        )


def numbers(
    piece: Piece, draft: Draft, twin: Callable[[Notch], Notch | None]
) -> Iterator[Iterator[Text]]:
    """A small number at every notch of a seam that has several; notches of two seams at one place
    share their words. Where a notch becomes its ``twin`` when the paper is flipped, it has that
    one's number too."""
    marks = Marks.of(draft)
    spots: dict[tuple[str, int, int], list[Notch]] = {}
    for notch in piece.notches:
        key = (notch.edge, round(notch.at.real * 2), round(notch.at.imag * 2))
        if marks.words(notch):
            spots.setdefault(key, []).append(notch)
    for notches in spots.values():
        # A seam of two cloths of this piece has both its notches here.
        words = dict.fromkeys(_both(marks, notch, twin(notch)) for notch in notches)
        yield _beside_notch(notches[0], " ".join(words))


def _both(marks: Marks, notch: Notch, other: Notch | None) -> str:
    """``3``, or ``3/5`` where it is 5 once flipped."""
    words = dict.fromkeys(marks.words(each) for each in (notch, other) if each)
    return "/".join(words)


def _beside_notch(notch: Notch, words: str) -> Iterator[Text]:
    """Places for a notch's number: inside the stitching line, at the notch or a little along from
    it; in the allowance; beside the roof; beyond it."""
    along = notch.out * 1j
    edge = max(notch.reach, 0.0)
    inside = product((-3.6, -4.8, -6.0, -8.0), (0.0, 3.5, -3.5, 6.0, -6.0))
    outside = product((edge / 2, edge + 2.0, edge + 6.5, edge + 10.0), (3.5, -3.5, 5.5, -5.5, 0.0))
    for places in (list(inside), list(outside)):
        for size, (out, aside) in product((3.2, SMALLEST), places):
            middle = notch.at + notch.out * out + along * aside
            yield Text(middle + 1j * size * 0.27, words, "number", size, "middle")


def centres(piece: Piece, setting: Setting) -> Iterator[Iterator[Text]]:
    """The words centre back and centre front at the round edge with most notches. Where it starts
    at neither, its ends meet in the piece's own seam, and that is said instead."""
    rounds = [edge for edge in piece.flat.edges.values() if edge.round and edge.begins is not None]
    if not rounds:
        return
    main = max(rounds, key=lambda edge: sum(n.edge == edge.name for n in piece.notches))
    start, middle = _ends(main.begins or 0.0)
    if middle:
        yield _at_edge(main.path, 0.5, middle, setting)
    yield _at_edge(main.path, 0.0, start, setting)
    if not main.path.closed:
        yield _at_edge(main.path, 1.0, start, setting)


def _ends(begins: float) -> tuple[str, str]:
    """What to say where a round edge starts, in that direction from above, and opposite."""
    way = cmath.rect(1.0, begins)
    if abs(way - 1) < _SAME:
        return "mark.back", "mark.front"
    if abs(way + 1) < _SAME:
        return "mark.front", "mark.back"
    return "mark.seam", ""


def _at_edge(path: Path, share: float, key: str, setting: Setting) -> Iterator[Text]:
    """Places for words at a point of an edge, and for their initials where there is no room."""
    length, joints = path.length(), path.ends()
    long, short = setting.say(key), setting.say(f"{key}.short")
    for (words, size), aside, distance in product(
        ((long, 4.0), (long, 3.0), (short, 3.0), (short, SMALLEST)),
        (0.0, 6.0, -6.0, 14.0, -14.0),
        (6.5, 9.0, 12.0, 16.0, 3.0, 20.0),
    ):
        half = setting.width(words, size) / 2
        along = share * length + aside
        if not path.closed:
            along = min(max(along, half + 4), length - half - 4)
        ((foot, way),) = path.places((along % length,), joints)
        yield upright(foot + way * 1j * distance, way, way * 1j, words, "label", size)


def grain_words(grain: tuple[Point, Point], setting: Setting, *sizes: float) -> Iterator[Text]:
    """Places for the word at a grain line."""
    start, end = grain
    along = unit(end - start)
    words = setting.say("mark.grain")
    for size, share, away in product(sizes, (0.3, 0.7, 0.5, 0.2, 0.8), (-1j, 1j)):
        foot = start + (end - start) * share + away * along * 0.8
        yield upright(foot, along, away * along, words, "label", size)
