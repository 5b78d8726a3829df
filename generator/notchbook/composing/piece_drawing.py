"""One pattern piece as it is printed: its lines, its marks and its words."""

from __future__ import annotations

import cmath
import math
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import product

from notchbook.composing.drawing import Fill, Group, Item, Stroke, Text
from notchbook.composing.piece_text import blocks, cloth_word, seam_letters
from notchbook.composing.placing import ABOVE, Tile, Wall, bands, clear, text_tile, walls
from notchbook.composing.setting import Setting
from notchbook.composing.symbols import SMALLEST, cutting_line
from notchbook.drafting.draft import CutLine, Draft, Notch, Piece
from notchbook.drafting.geometry.path import Line, Path, Point, bounds, polyline, unit
from notchbook.drafting.shape import Edge, Flat

_AIR = 1.5
"""Kept free round every block of words, mm."""


def draw_piece(
    piece: Piece,
    draft: Draft,
    setting: Setting,
    *,
    turn: complex = 1,
    shift: Point = 0,
    avoid: Sequence[Path] = (),
) -> Group:
    """The piece with every point p at ``p * turn + shift``, its words upright.

    A ``path.cut`` for each cutting line (with its holes), a ``path.stitch`` for each edge, its
    notches, its grain line, and what it says about itself: inside the stitching line where there
    is room, otherwise beside the piece. Words keep off the lines to ``avoid``.
    """
    laid = _laid(piece, turn, shift)
    cuts = [
        Stroke(line.loops, cutting_line(k), {"cloth": " ".join(line.cloths)})
        for k, line in enumerate(laid.cut_lines)
    ]
    stitches = [
        Stroke((edge.path,), "stitch", {"edge": name}) for name, edge in laid.flat.edges.items()
    ]
    notches = [notch_mark(notch) for notch in laid.notches]
    marks = (*cuts, *stitches, *notches, *grain_line(laid.flat.grain))
    return Group(
        (*marks, *_words(laid, draft, setting, avoid)),
        id=f"piece-{piece.name}",
        title=piece.title,
        data={"piece": piece.name},
    )


def grain_line(ends: tuple[Point, Point], head: float = 5.0) -> tuple[Item, ...]:
    """A line with an arrowhead, ``head`` mm long, at both ends."""
    start, end = ends
    along = unit(end - start)
    head = min(head, abs(end - start) / 4)
    # The shaft stops inside the heads, so that their points stay sharp.
    inset = along * head * 0.8
    shaft = polyline(start + inset, end - inset)
    heads = (arrowhead(start, -along, head), arrowhead(end, along, head))
    return Stroke((shaft,), "grain"), Fill(heads, "ink")


def arrowhead(tip: Point, towards: complex, length: float) -> Path:
    """A slim arrowhead, three times as long as it is wide."""
    back, side = tip - towards * length, towards * 1j * length / 6
    return polyline(tip, back + side, back - side, tip)


def _laid(piece: Piece, turn: complex, shift: Point) -> Piece:
    """The piece moved to where it is drawn."""

    def edge(old: Edge) -> Edge:
        return replace(old, path=old.path.moved(turn, shift))

    def line(old: CutLine) -> CutLine:
        return replace(old, loops=tuple(loop.moved(turn, shift) for loop in old.loops))

    def notch(old: Notch) -> Notch:
        return replace(old, at=old.at * turn + shift, out=old.out * turn)

    start, end = piece.flat.grain
    return replace(
        piece,
        flat=Flat(
            tuple(tuple(edge(old) for old in loop) for loop in piece.flat.loops),
            (start * turn + shift, end * turn + shift),
        ),
        cut_lines=tuple(line(old) for old in piece.cut_lines),
        notches=tuple(notch(old) for old in piece.notches),
    )


def notch_mark(notch: Notch, roof: float = 4.0, apart: float = 5.0) -> Stroke:
    """A stroke from the stitching line to the cutting line and a roof beyond it, ``roof`` mm high:
    marks snipped inwards vanish when an allowance is clipped. A double notch has two, ``apart`` mm
    from each other."""
    along = notch.out * 1j
    reach = max(notch.reach, 0.0)
    paths: list[Path] = []
    for k in range(notch.strokes):
        foot = notch.at + along * (k - (notch.strokes - 1) / 2) * apart
        edge = foot + notch.out * reach
        half, tip = along * roof / 2, edge + notch.out * roof
        paths.append(polyline(edge - half, tip, edge + half))
        if reach:
            paths.append(polyline(foot, edge))
    return Stroke(tuple(paths), "notch", {"edge": notch.edge, "seam": notch.seam})


@dataclass(frozen=True, slots=True)
class _Room:
    """What words on a piece have to keep clear of."""

    stitch: list[Wall]
    cuts: list[Wall]
    marks: list[Wall]

    @property
    def lines(self) -> list[Wall]:
        return self.stitch + self.cuts + self.marks


def _words(piece: Piece, draft: Draft, setting: Setting, avoid: Sequence[Path]) -> tuple[Item, ...]:
    room = _Room(
        walls(edge.path for edge in piece.flat.edges.values()),
        walls(loop for line in piece.cut_lines for loop in line.loops),
        [
            piece.flat.grain,
            *walls(p for notch in piece.notches for p in notch_mark(notch).paths),
            *walls(avoid),
        ],
    )
    placed: list[Text] = []
    tiles: list[Tile] = []
    for choices in (
        *_numbers(piece, draft),
        *_centres(piece, setting),
        *_line_names(piece, setting),
        grain_words(piece.flat.grain, setting, 4.0, 3.0),
    ):
        for text in choices:
            tile = text_tile(text, setting)
            if clear(tile.grown(0.5), room.lines, tiles):
                placed.append(text)
                tiles.append(tile.grown(1.0))
                break
    return (*placed, *_block(piece, draft, setting, room, tiles))


def _block(
    piece: Piece, draft: Draft, setting: Setting, room: _Room, tiles: Sequence[Tile]
) -> tuple[Item, ...]:
    inner = room.cuts + room.marks
    # Most often inside the stitching line; a piece too slight for that has the whole cloth.
    outline = walls(piece.cut_lines[0].loops)
    for area, lines in ((room.stitch, inner), (outline, inner)):
        box = bounds([polyline(*(a for a, _ in area))])
        levels = [
            bands(area, lines, tiles, turn=turn, step=max(min(box.width, box.height) / 60, 0.8))
            for turn in _readings(piece)
        ]
        choices = tuple(blocks(piece, draft, setting))
        for airy, forms, level in product((True, False), choices, levels):
            for block in forms:
                gap = max(block.size / 2, _AIR) if airy else _AIR
                tile = level.nearest(block.width(setting), block.height, box.centre, gap)
                if tile:
                    return block.items(tile, setting)
    return _beside(piece, draft, setting, room, tiles)


def _readings(piece: Piece) -> list[complex]:
    """Directions to read along: level, up the page, and along the longest straight line where
    that lies otherwise."""
    straight = [
        segment.end - segment.start
        for edge in piece.flat.edges.values()
        for segment in edge.path.segments
        if isinstance(segment, Line)
    ]
    along = unit(max(straight, key=abs)) if straight else 1
    if along.real < 0:
        along = -along
    oblique = min(abs(along.real), abs(along.imag)) > 1e-3
    return [1, -1j, along] if oblique else [1, -1j]


def _beside(
    piece: Piece, draft: Draft, setting: Setting, room: _Room, tiles: Sequence[Tile]
) -> tuple[Item, ...]:
    """The words to the right of a piece that has no room for any, and a line that leads to it."""
    block = list(blocks(piece, draft, setting))[4][0]
    width, height = block.width(setting), block.height
    lines = room.stitch + room.cuts
    corners = [p for wall in lines for p in wall] + [c for t in tiles for c in t.corners]
    right = max(p.real for p in corners)
    edge = max((p for wall in room.cuts for p in wall), key=lambda p: (p.real, p.imag))
    tile = Tile(complex(right + 8 + width / 2, edge.imag), width, height)
    leader = polyline(complex(right + 6.5, edge.imag), edge)
    return Stroke((leader,), "leader"), *block.items(tile, setting)


def _line_names(piece: Piece, setting: Setting) -> Iterator[Iterator[Text]]:
    """Where one piece has several cutting lines, each names its cloths along it, on every loop."""
    if len(piece.cut_lines) < 2:
        return
    for line in piece.cut_lines[1:]:
        words = ", ".join(cloth_word(cloth) for cloth in line.cloths)
        for loop in line.loops:
            yield _along(loop, setting.say("mark.line", cloths=words), 3.0, setting)


def _along(path: Path, words: str, size: float, setting: Setting) -> Iterator[Text]:
    """Places for words close to a line, on the side where the cloth is."""
    length = path.length()
    half = setting.width(words, size) / 2
    for share in (0.69, 0.31, 0.81, 0.19, 0.56, 0.44, 0.94, 0.06):
        at = path.point_at(share * length)
        along = path.tangent_at(share * length)
        inward = along * 1j
        # On a curve, the line bends away from the words' middle or towards their ends.
        ends = [path.point_at((share * length + d) % length) for d in (-half, half)]
        bend = max(((end - at) * inward.conjugate()).real for end in ends)
        for distance in (1.8, 3.0, 4.5, 6.0):
            foot = at + inward * (max(bend, 0.0) + distance)
            yield upright(foot, along, inward, words, "label", size)


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


def _numbers(piece: Piece, draft: Draft) -> Iterator[Iterator[Text]]:
    """A small number at every notch of a seam that has several; notches of two seams at one place
    share their words."""
    letters = seam_letters(draft)
    counts = Counter((notch.edge, notch.seam) for notch in piece.notches)
    several = [notch for notch in piece.notches if counts[notch.edge, notch.seam] > 1]
    spots: dict[tuple[str, int, int], list[Notch]] = {}
    for notch in several:
        key = (notch.edge, round(notch.at.real * 2), round(notch.at.imag * 2))
        spots.setdefault(key, []).append(notch)
    for notches in spots.values():
        words = " ".join(f"{letters.get(n.seam, '')}{n.number}" for n in notches)
        yield _beside_notch(notches[0], words)


def _beside_notch(notch: Notch, words: str) -> Iterator[Text]:
    along = notch.out * 1j
    for size in (3.2, SMALLEST):
        for distance in (3.6, 4.8, 6.0, 8.0):
            for aside in (0.0, 3.5, -3.5, 6.0, -6.0):
                middle = notch.at - notch.out * distance + along * aside
                yield Text(middle + 1j * size * 0.27, words, "number", size, "middle")


def _centres(piece: Piece, setting: Setting) -> Iterator[Iterator[Text]]:
    """The words centre back and centre front at the round edge with most notches: round edges
    start at centre back."""
    rounds = [edge for edge in piece.flat.edges.values() if edge.round]
    if not rounds:
        return
    main = max(rounds, key=lambda edge: sum(n.edge == edge.name for n in piece.notches))
    back, front = setting.say("mark.back"), setting.say("mark.front")
    yield _at_edge(main.path, 0.5, front, setting)
    yield _at_edge(main.path, 0.0, back, setting)
    if not main.path.closed:
        yield _at_edge(main.path, 1.0, back, setting)


def _at_edge(path: Path, share: float, words: str, setting: Setting) -> Iterator[Text]:
    length = path.length()
    for size, aside, distance in product(
        (4.0, 3.0), (0.0, 6.0, -6.0, 14.0, -14.0), (6.5, 9.0, 12.0, 16.0, 3.0, 20.0)
    ):
        half = setting.width(words, size) / 2
        along = share * length + aside
        if not path.closed:
            along = min(max(along, half + 4), length - half - 4)
        along %= length
        inward = path.tangent_at(along) * 1j
        foot = path.point_at(along) + inward * distance
        yield upright(foot, path.tangent_at(along), inward, words, "label", size)


def grain_words(grain: tuple[Point, Point], setting: Setting, *sizes: float) -> Iterator[Text]:
    """Places for the word at a grain line."""
    start, end = grain
    along = unit(end - start)
    words = setting.say("mark.grain")
    for size, share, away in product(sizes, (0.3, 0.7, 0.5, 0.2, 0.8), (-1j, 1j)):
        foot = start + (end - start) * share + away * along * 0.8
        yield upright(foot, along, away * along, words, "label", size)
