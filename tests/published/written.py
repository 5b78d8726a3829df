"""A recipe's text made into the files of one size, and these read by tools that did not make
them."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from dataclasses import replace
from functools import cache
from pathlib import Path as File
from typing import Any
from xml.etree import ElementTree

import numpy as np
from shapely.geometry import Polygon
from svgpathtools import Arc, parse_path
from svgpathtools import Path as Seen

from notchbook.composing.markup.svg import svg
from notchbook.composing.paper import PAPERS, Paper
from notchbook.composing.pattern import pattern
from notchbook.composing.record import record
from notchbook.composing.setting import Setting
from notchbook.composing.sheets.document import sheets_html
from notchbook.drafting.engine import draft
from notchbook.gathering.source import Source
from notchbook.pressing.measures import own_size
from notchbook.pressing.pdf import Printer
from notchbook.pressing.size import Bench, compose, pages, press_size
from notchbook.reading.read import read_recipe
from notchbook.reading.recipe import Recipe
from tests.composing import bench
from tests.recipes import text_of

SVG = "{http://www.w3.org/2000/svg}"


class Written:
    """A folder with ``pattern.svg`` and ``draft.json``."""

    def __init__(self, folder: File) -> None:
        self._drawing = ElementTree.parse(folder / "pattern.svg").getroot()
        self.record: dict[str, Any] = json.loads((folder / "draft.json").read_text("utf-8"))

    def stitch(self, piece: str, edge: str) -> Seen:
        """One edge of the stitching line, mm."""
        return self._path(piece, "stitch", "data-edge", edge)

    def cut(self, piece: str, cloth: str) -> list[Seen]:
        """The cutting line for a cloth: the outline, then its holes."""
        found: list[Seen] = self._path(piece, "cut", "data-cloth", cloth).continuous_subpaths()
        return found

    def loops(self, piece: str) -> list[Seen]:
        """The stitching line, its edges end to end: the outline, then its holes."""
        left = {name: self.stitch(piece, name) for name in self.record["pieces"][piece]["edges"]}
        found = []
        while left:
            loop = left.pop(next(iter(left)))
            while abs(loop[-1].end - loop[0].start) > 1e-3:
                following = [name for name in left if abs(left[name].start - loop.end) < 1e-3]
                loop = Seen(*loop, *left.pop(following[0]))
            found.append(loop)
        return sorted(found, key=lambda loop: -polygon(loop).area)

    def area(self, piece: str) -> float:
        """Within the stitching line, mm², as shapely finds it."""
        outline, *holes = (polygon(loop).area for loop in self.loops(piece))
        return float(outline - sum(holes))

    def working(self, name: str) -> float:
        """A working, in base units: mm, g, h and their powers."""
        return float(self.record["workings"][name]["value"])

    def amount(self, notion: str) -> float:
        """How much to buy of a notion, in base units."""
        return float(self.record["notions"][notion]["value"])

    def dart(self, piece: str, name: str) -> tuple[Seen, Seen]:
        """The two legs of a dart, each from the stitching line to the point."""
        first, second = self._path(piece, "dart", "data-dart", name).continuous_subpaths()
        return first, second

    def _path(self, piece: str, kind: str, key: str, value: str) -> Seen:
        (group,) = self._drawing.iterfind(f".//{SVG}g[@data-piece='{piece}']")
        (path,) = (
            path
            for path in group.iter(f"{SVG}path")
            if kind in path.get("class", "").split() and value in path.get(key, "").split()
        )
        return parse_path(path.get("d"))


def read(text: str) -> Recipe:
    """A recipe from its whole text."""
    return read_recipe(Source("recipe", "recipe", {"recipe.md": text.encode()}))


@cache
def setting() -> Setting:
    """A workshop with the theme Broadside and both papers."""
    plain = bench.setting()
    return replace(plain, workshop=replace(plain.workshop, papers=("a4", "letter")))


@cache
def printer() -> Printer:
    return Printer(setting().typefaces)


def write(front: str, folder: File) -> Written:
    """The pattern and the record of a recipe with this front matter, in its first size."""
    made = read(text_of(front, "## Make it\n\n1. Make it.\n"))
    drafted = draft(made, made.sizes[0])
    drawing = svg(pattern(drafted, setting()), standalone=True)
    (folder / "pattern.svg").write_text(drawing, encoding="utf-8")
    (folder / "draft.json").write_text(record(drafted, ()), encoding="utf-8")
    return Written(folder)


def print_sheets(text: str, *measures: str, paper: Paper = PAPERS["a4"]) -> bytes:
    """The sheets of a recipe, as PDF: in its first size, or for measures ``head=57.5cm``."""
    made = read(text)
    size = own_size(made, measures, setting(), {}) if measures else made.sizes[0]
    return printer().sheets(sheets_html(draft(made, size), paper, setting())).data


def press(text: str, folder: File) -> File:
    """The folder with all files of a recipe in its first size."""
    made = read(text)
    composed = compose(made, made.sizes[0], setting())
    press_size(_bench(made, folder), composed, printer())
    return folder / made.slug / made.sizes[0].id


def page(text: str) -> str:
    """The page of a recipe in its first size."""
    made = read(text)
    found = pages(_bench(made, File()), compose(made, made.sizes[0], setting()), ())
    return found[f"{made.slug}/{made.sizes[0].id}/index.html"]


def _bench(made: Recipe, folder: File) -> Bench:
    none: Mapping[str, bytes] = {}
    return Bench(setting(), {made.slug: made}, {made.slug: none}, (), frozenset(), folder)


def points(path: Seen, steps: int = 400) -> list[complex]:
    """A path in ``steps`` chords a segment."""
    shares = np.linspace(0, 1, steps, endpoint=False)
    return [*(complex(p) for segment in path for p in _along(segment, shares)), path[-1].end]


def _along(segment: Any, shares: Any) -> Iterable[complex]:
    """Points of a segment: all at once, which is quick, but for arcs."""
    one_by_one = isinstance(segment, Arc)
    found: Iterable[complex] = map(segment.point, shares) if one_by_one else segment.point(shares)
    return found


def polygon(path: Seen, steps: int = 400) -> Polygon:
    """What a closed path goes round, as shapely sees it."""
    found = np.array(points(path, steps)[:-1])
    return Polygon(np.column_stack((found.real, found.imag)))


def across(path: Seen) -> tuple[float, float]:
    """Length and breadth, mm, of the tightest rectangle round a path, however it is turned."""
    a, b, c, *_ = polygon(path).minimum_rotated_rectangle.exterior.coords
    sides = (abs(complex(*b) - complex(*a)), abs(complex(*c) - complex(*b)))
    return max(sides), min(sides)
