"""Draws a piece as a person does who has nothing but a compass figure: every number is read from
the drawing's own text, rounded as it is printed, in one of the two unit systems. Only which point
is joined to which is taken from the moves."""

from __future__ import annotations

import cmath
import math
import re
import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass
from itertools import pairwise

from scipy.interpolate import CubicSpline
from shapely import LineString, MultiLineString, Polygon

from notchbook.composing.drawing import Drawing, Text
from notchbook.drafting.draft import Piece
from notchbook.drafting.geometry.path import Path
from notchbook.drafting.geometry.vector import Point
from notchbook.drafting.moves import (
    Along,
    Crossline,
    Curve,
    Dot,
    Loop,
    Offset,
    Rule,
    Strike,
    Swing,
)
from tests.composing.figures.drawn import plain
from tests.composing.geometry import texts

NUMBER = r"([\d.]+) mm \(([^)]*) in\)"
RAISED = str.maketrans("⁰¹²³⁴⁵⁶⁷⁸⁹₀₁₂₃₄₅₆₇₈₉", "01234567890123456789")


def inches(text: str) -> float:
    """``18¹⁄₃₂`` in mm."""
    found = re.fullmatch(r"(−?)(\d*)(?:([⁰¹²³⁴-⁹]+)⁄([₀-₉]+)|([⅛¼⅜½⅝¾⅞]))?", text)
    assert found, text
    sign, whole, top, foot, vulgar = found.groups()
    value = float(whole or 0)
    if top:
        value += int(top.translate(RAISED)) / int(foot.translate(RAISED))
    if vulgar:
        value += unicodedata.numeric(vulgar)
    return value * 25.4 * (-1 if sign else 1)


@dataclass(frozen=True, slots=True)
class Printed:
    """What a figure says: its sentences, and each row of its tables by name as (heading, mm)."""

    words: str
    rows: Mapping[str, list[tuple[str, float]]]
    metric: bool
    wrong: float = 1.0

    def number(self, pattern: str) -> float | None:
        """The number at ``#`` in a sentence, mm."""
        first, rest = pattern.split("#", 1)
        found = re.search(first + NUMBER + rest.replace("#", NUMBER), self.words)
        if not found:
            return None
        return float(found[1]) if self.metric else inches(found[2])


def printed(drawing: Drawing, metric: bool = True, wrong: float = 1.0) -> Printed:
    """Reads a figure; every radius is ``wrong`` times as long as it says."""
    items = texts(drawing.items)
    words = " ".join(plain(text.text) for text in items if text.role == "note")
    rows: dict[str, list[tuple[str, float]]] = {}
    labels = [text for text in items if text.role == "label"]
    units = [t for t in labels if t.text in ("mm", "in")]
    for cell in sorted((t for t in items if t.role == "number"), key=lambda t: t.at.real):
        above = [u for u in units if same(u.at.real, cell.at.real) and u.at.imag < cell.at.imag]
        unit = max(above, key=lambda u: u.at.imag)
        if (unit.text == "mm") != metric:
            continue
        value = float(cell.text.replace("−", "-")) if metric else inches(cell.text)
        beside = [t for t in labels if same(t.at.imag, cell.at.imag) and t.at.real < cell.at.real]
        name = max(beside, key=lambda t: t.at.real).text
        for label in names(name):
            rows.setdefault(label, []).append((heading(labels, unit, cell), value))
    return Printed(words, rows, metric, wrong)


def heading(labels: list[Text], unit: Text, cell: Text) -> str:
    over = [
        t
        for t in labels
        if t.anchor == "end" and t.text not in ("mm", "in")
        and 0 < unit.at.imag - t.at.imag < 5 and t.at.real > cell.at.real - 0.01
    ]  # fmt: skip
    return plain(min(over, key=lambda t: t.at.real).text)


def names(label: str) -> list[str]:
    """The points of a row: ``W1 E1`` and ``B3w/e`` are two."""
    if "/" in label:
        first, other = label.split("/")
        return [first, first[:-1] + other]
    return label.split(" ") if re.fullmatch(r"[A-Z]\d* [A-Z]\d*", label) else [label]


def same(a: float, b: float) -> bool:
    return abs(a - b) < 0.01


def off(piece: Piece, said: Printed) -> float:
    """How far what is drawn and the piece's outline are apart where they are furthest, mm."""
    drawn = follow(piece, said)
    outline = [LineString(line(path)) for path in piece.flat.outline()]
    return float(MultiLineString(drawn).hausdorff_distance(MultiLineString(outline)))


def line(path: Path) -> list[tuple[float, float]]:
    return [(p.real, p.imag) for p in path.points(0.05)]


def follow(piece: Piece, said: Printed) -> list[LineString]:
    """Every line of the outline, drawn by the printed numbers."""
    marks: dict[str, Point] = {}
    drawn: list[LineString] = []
    by_edge: dict[str, LineString] = {}
    circles = 0
    for move in piece.moves:
        points: list[Point] = []
        match move:
            case Dot(label, at, origin):
                marks[label] = dotted(said, label, origin, marks) if origin else at
            case Swing(about, _, _, start, sweep, _, end):
                begin = min(marks, key=lambda name: abs(marks[name] - start))
                radius, length = swung(said, end, circles)
                radius *= said.wrong
                circles += not end
                way = cmath.phase(marks[begin] - marks[about])
                turn = math.copysign(math.tau, sweep)
                if abs(sweep) < math.tau - 1e-6:
                    turn = math.copysign(length / radius, sweep)
                points = [
                    marks[about] + cmath.rect(radius, way + turn * k / 120) for k in range(121)
                ]
                if end:
                    marks.setdefault(end, points[-1])
            case Loop(centre, along):
                half, string = said.number("Two pins, #"), said.number("loop of string, #")
                assert half is not None and string is not None
                a = (string * said.wrong - 2 * half) / 2
                b = math.sqrt(a * a - half * half)
                turns = (math.tau * k / 240 for k in range(241))
                points = [centre + along * complex(a * math.cos(t), b * math.sin(t)) for t in turns]
            case Offset(of, distance):
                far = said.number(f"# {'outside' if distance > 0 else 'inside'} “{of}”")
                assert far is not None
                side = Polygon(by_edge[of].coords).buffer(math.copysign(far, distance), 64)
                drawn.append(LineString(side.exterior.coords))
            case Crossline(origin, marks=across):
                for label, out in across:
                    if label in said.rows:
                        (head, deep), (_, aside) = said.rows[label]
                        deep = -deep if head.startswith("north") else deep
                        marks[label] = (
                            marks[origin] + complex(math.copysign(aside, out), deep) * said.wrong
                        )
            case Strike(label, at, one, _, other):
                if label in said.rows:
                    near, far = (value for _, value in said.rows[label][:2])
                    marks[label] = crossing(marks[one], near * said.wrong, marks[other], far, at)
            case Along(label, at, start):
                if label in said.rows:
                    ((_, far),) = said.rows[label]
                    toward = marks.get(move.end, at)
                    marks[label] = marks[start] + cmath.rect(
                        far, cmath.phase(toward - marks[start])
                    )
            case Rule(start, end, edge=edge):
                points = [marks[start], marks[end]] if edge else []
            case Curve(through):
                points = bent(move, [name for name in through if name in marks], said, marks)
        edge = getattr(move, "edge", "")
        if points and edge:
            drawn.append(LineString([(p.real, p.imag) for p in points]))
            by_edge[edge] = drawn[-1]
    return drawn


def dotted(said: Printed, label: str, origin: str, marks: Mapping[str, Point]) -> Point:
    found = marks[origin]
    if label in said.rows:
        for head, value in said.rows[label][:2]:
            found += value * {"e": 1, "E": 1, "w": -1, "s": 1j, "S": 1j, "n": -1j}[head[0]]
        return found
    told = re.search(rf"(?:^|[ .]){label}: ([^.:]*(?:\.\d[^.:]*)*) of {origin}\.", said.words)
    if told is None:  # A point marked before under another letter.
        return next(at for name, at in marks.items() if name != label and name == "A")
    for metric, inch, way in re.findall(rf"{NUMBER} (east|west|south|north)", told[1]):
        value = float(metric) if said.metric else inches(inch)
        found += value * {"east": 1, "west": -1, "south": 1j, "north": -1j}[way]
    return found


def swung(said: Printed, end: str, circles: int) -> tuple[float, float]:
    """The string for the arc to a point, or for a whole circle after some others, and how long that
    is."""
    pattern = rf"String {NUMBER} about (\S+): (?:from (\S+) an arc|a whole circle), {NUMBER} "
    for found in re.finditer(rf"{pattern}([^.]*)", said.words):
        whole = "a whole circle" in found[0]
        circles -= whole
        if (whole and circles < 0) if not end else re.search(rf" to {end}(,|$)", f" {found[7]}"):
            values = [(found[1], found[2]), (found[5], found[6])]
            radius, length = (float(m) if said.metric else inches(i) for m, i in values)
            return radius, length
    raise AssertionError(f"no arc to {end}")


def crossing(one: Point, near: float, other: Point, far: float, at: Point) -> Point:
    apart = abs(other - one)
    cosine = (near * near + apart * apart - far * far) / (2 * near * apart)
    turn = math.acos(max(min(cosine, 1.0), -1.0))
    both = (one + (other - one) / apart * cmath.rect(near, way) for way in (turn, -turn))
    return min(both, key=lambda point: abs(point - at))


def bent(move: Curve, through: list[str], said: Printed, marks: Mapping[str, Point]) -> list[Point]:
    """A smooth curve through marks; through what the table says beside each straight line, where
    there are few."""
    points = [marks[through[0]]]
    for a, b in pairwise(through):
        start, chord = marks[a], marks[b] - marks[a]
        for share, (_, value) in zip((1, 2), said.rows.get(f"{a}–{b}", ()), strict=False):
            points.append(start + chord * share / 3 + chord / abs(chord) * -1j * value)
        points.append(marks[b])
    measured = len(points) > len(through)
    ends = tuple(
        (2, (0.0, 0.0)) if way is None or measured else (1, (way.real, way.imag))
        for way in (move.leaving, move.arriving)
    )
    along = [0.0]
    for before, after in pairwise(points):
        along.append(along[-1] + abs(after - before))
    bends = "not-a-knot" if measured else ends
    spline = CubicSpline(along, [(p.real, p.imag) for p in points], bc_type=bends)
    return [complex(*spline(along[-1] * k / 150)) for k in range(151)]
