"""The workshop's faces, from the font packages it names, and the widths of their characters.

A font package is an installed module ``fontpkg_NAME`` with its files listed in ``metadata.json``
and the text of its licence in ``LICENSE``. Static fonts serve the styles a role uses. A variable
font serves its default style alone: only there are its widths in the font as they stand.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from importlib.resources import files
from importlib.resources.abc import Traversable
from io import BytesIO
from typing import Any

from fontTools.ttLib import TTFont

from notchbook.gathering.source import Face, Typefaces
from notchbook.problems import ContentError, Place, Problem

STYLES: Mapping[str, tuple[tuple[int, bool], ...]] = {
    "text": ((400, False), (400, True), (600, False)),
    "label": ((400, False), (600, False), (700, False)),
    "others": ((400, False),),
}
"""The weights, and whether italic, that each role is set in."""

_VARIATION = ("HVAR", "MVAR", "STAT", "avar", "cvar", "fvar", "gvar")


def gather_typefaces(fonts: Mapping[str, tuple[str, ...]], place: Place) -> Typefaces:
    """The faces of every role; ``place`` is where the workshop names its fonts.

    Raises ContentError with every package that is not installed.
    """
    problems = []
    roles: dict[str, tuple[Face, ...]] = {}
    for role, styles in STYLES.items():
        faces: list[Face] = []
        for name in fonts.get(role, ()):
            folder = _package(name)
            if folder is None:
                what = f"The font package “{name}” is not installed."
                remedy = f"Install it: pip install fontpkg-{name}. Or name another under fonts."
                problems.append(Problem(place, what, remedy))
            else:
                faces += _faces(folder, name, styles)
        roles[role] = tuple(faces)
    if problems:
        raise ContentError(problems)
    return Typefaces(roles["text"], roles["label"], roles["others"])


def gather_font_licences(fonts: Mapping[str, tuple[str, ...]]) -> Mapping[str, bytes]:
    """The licence text of every font package that is installed, by the package's name."""
    names = sorted({name for role in STYLES for name in fonts.get(role, ())})
    folders = ((name, _package(name)) for name in names)
    return {name: (folder / "LICENSE").read_bytes() for name, folder in folders if folder}


def uncovered(text: str, file: str, typefaces: Typefaces) -> Iterator[Problem]:
    """A problem for every character of ``text`` that no face for reading has."""
    faces = (*typefaces.text, *typefaces.others)
    known = {character for face in faces for character in face.advances} | set("\r\n\t\ufeff")
    for character in sorted(set(text) - known):
        before = text[: text.index(character)]
        line, column = before.count("\n") + 1, len(before) - (before.rfind("\n") + 1) + 1
        what = f"No font of the workshop has the character “{character}” (U+{ord(character):04X})."
        remedy = "Use another, or name a font that has it under fonts: others: in workshop.yaml."
        yield Problem(Place(file, line, column), what, remedy)


def _package(name: str) -> Traversable | None:
    try:
        folder = files(f"fontpkg_{name.replace('-', '_')}")
    except (ModuleNotFoundError, ValueError):
        return None
    return folder if (folder / "metadata.json").is_file() else None


def _faces(folder: Traversable, name: str, styles: tuple[tuple[int, bool], ...]) -> Iterator[Face]:
    about: dict[str, Any] = json.loads((folder / "metadata.json").read_bytes())
    found = {(file["weight"] or 400, file["style"] == "italic"): file for file in about["files"]}
    for weight, italic in styles:
        if entry := found.get((weight, italic)):
            data = (folder / entry["path"]).read_bytes()
            file = f"{name}-{weight}{'-italic' * italic}.woff2"
            yield _face(data, weight, italic, file)


def _face(data: bytes, weight: int, italic: bool, file: str) -> Face:
    font = TTFont(BytesIO(data), lazy=True, recalcTimestamp=False, recalcBBoxes=False)
    if "fvar" in font:
        for tag in _VARIATION:
            if tag in font:
                del font[tag]
        static = BytesIO()
        font.save(static, reorderTables=None)
        data = static.getvalue()
        font = TTFont(BytesIO(data), lazy=True)
    em: int = font["head"].unitsPerEm
    widths = font["hmtx"].metrics
    return Face(
        family=font["name"].getDebugName(16) or font["name"].getDebugName(1),
        weight=weight,
        italic=italic,
        file=file,
        data=data,
        advances={chr(code): widths[glyph][0] / em for code, glyph in font.getBestCmap().items()},
    )
