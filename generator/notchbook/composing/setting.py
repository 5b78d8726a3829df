"""Everything composing needs besides the draft: words, type, settings, theme."""

from __future__ import annotations

from dataclasses import dataclass

from notchbook.gathering.source import Catalogue, Face, Theme, Typefaces
from notchbook.reading.workshop import Workshop


class MissingCharacter(Exception):
    """A character that no face of the workshop has, and the text it stands in."""

    def __init__(self, character: str, text: str) -> None:
        self.character = character
        self.text = text
        super().__init__(character, text)


@dataclass(frozen=True, slots=True)
class Setting:
    """The workshop's settings, the language's words, the faces and the theme. ``left_handed``:
    seams are drawn as a left hand sews them."""

    workshop: Workshop
    catalogue: Catalogue
    typefaces: Typefaces
    theme: Theme
    left_handed: bool = False

    def say(self, key: str, **values: object) -> str:
        """The catalogue's words for ``key``, with ``{name}`` fields filled in."""
        return self.catalogue.words[key].format(**values)

    def say_count(self, key: str, count: int, **values: object) -> str:
        """As ``say``, from ``key.one`` or ``key.other`` by ``count``."""
        return self.say(f"{key}.{'one' if count == 1 else 'other'}", count=count, **values)

    def width(self, text: str, size: float, weight: int = 400) -> float:
        """Width in mm of ``text`` set in the label face at ``size`` mm, kerning left out.

        Raises MissingCharacter where no face has a character.
        """
        face = _nearest(self.typefaces.label, weight)
        try:
            return size * sum(map(face.advances.__getitem__, text))
        except KeyError:
            faces = (face, *self.typefaces.others)
            return size * sum(_advance(character, text, faces) for character in text)


def _nearest(faces: tuple[Face, ...], weight: int) -> Face:
    return min(faces, key=lambda face: (face.italic, abs(face.weight - weight)))


def _advance(character: str, text: str, faces: tuple[Face, ...]) -> float:
    for face in faces:
        if character in face.advances:
            return face.advances[character]
    raise MissingCharacter(character, text)
