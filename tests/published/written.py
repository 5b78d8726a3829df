"""A recipe's text made into a pattern file, and that file's lines as svgpathtools reads them."""

from __future__ import annotations

from pathlib import Path as File
from xml.etree import ElementTree

from svgpathtools import Path as Seen
from svgpathtools import parse_path

from notchbook.composing.markup.svg import svg
from notchbook.composing.pattern import pattern
from notchbook.drafting.engine import draft
from tests.composing.sample import setting
from tests.recipes import HEAD, recipe

SVG = "{http://www.w3.org/2000/svg}"


class Written:
    """A pattern file on disk."""

    def __init__(self, file: File) -> None:
        self.root = ElementTree.parse(file).getroot()

    def stitch(self, piece: str, edge: str) -> Seen:
        """One edge of the stitching line."""
        return self._path(piece, "data-edge", edge)

    def cut(self, piece: str, cloth: str) -> list[Seen]:
        """The cutting line for a cloth: the outline, then its holes."""
        found: list[Seen] = self._path(piece, "data-cloth", cloth).continuous_subpaths()
        return found

    def _path(self, piece: str, key: str, value: str) -> Seen:
        (group,) = self.root.iterfind(f".//{SVG}g[@data-piece='{piece}']")
        (path,) = (p for p in group.iter(f"{SVG}path") if value in p.get(key, "").split())
        return parse_path(path.get("d"))


def write(pieces: str, file: File) -> Written:
    """The pattern of a recipe with these ``pieces`` (YAML), in its first size, on disk."""
    made = recipe(HEAD + pieces, body="")
    text = svg(pattern(draft(made, made.sizes[0]), setting()), standalone=True)
    file.write_text(text, encoding="utf-8")
    return Written(file)
