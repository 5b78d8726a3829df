"""What gathering hands on: files as bytes, themes as texts, fonts as advance widths."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Source:
    """One recipe's folder. ``folder`` is how the author names it; ``files`` maps paths below it
    (with forward slashes) to bytes and always holds ``recipe.md``."""

    slug: str
    folder: str
    files: Mapping[str, bytes]


@dataclass(frozen=True, slots=True)
class Face:
    """One style of a font family and what setting type with it needs.

    ``advances`` maps each character the face has to its advance width in ems, kerning left out.
    ``file`` is the name the face is published under.
    """

    family: str
    weight: int
    italic: bool
    file: str
    data: bytes
    advances: Mapping[str, float]


@dataclass(frozen=True, slots=True)
class Typefaces:
    """The faces of a workshop by role. A character missing from a role's faces is looked for in
    ``others``; one that no face has is a problem."""

    text: tuple[Face, ...]
    label: tuple[Face, ...]
    others: tuple[Face, ...]

    @property
    def faces(self) -> tuple[Face, ...]:
        """Every face, each file once."""
        found = (*self.text, *self.label, *self.others)
        return tuple({face.file: face for face in found}.values())


@dataclass(frozen=True, slots=True)
class Theme:
    """A theme's texts: Jinja templates and style sheets by file name, and its tokens."""

    name: str
    templates: Mapping[str, str]
    styles: Mapping[str, str]
    scripts: Mapping[str, str]
    tokens: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class Catalogue:
    """Every word the tool itself says to a reader, in one language, by key."""

    language: str
    words: Mapping[str, str]
