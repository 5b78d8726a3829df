"""Gathering typefaces: widths against the fonts' own tables, and what is missing."""

from __future__ import annotations

from io import BytesIO

import pytest
from fontTools.ttLib import TTFont

from notchbook.gathering.source import Typefaces
from notchbook.gathering.typefaces import gather_font_licences, gather_typefaces, uncovered
from notchbook.problems import ContentError, Place

FONTS = {"text": ("spectral",), "label": ("ibm-plex-sans-condensed",), "others": ("noto-sans",)}
HERE = Place("workshop.yaml", 4, 1)


@pytest.fixture(scope="module")
def typefaces() -> Typefaces:
    return gather_typefaces(FONTS, HERE)


def test_every_role_has_the_styles_it_is_set_in(typefaces: Typefaces) -> None:
    def styles(role: str) -> list[tuple[str, int, bool]]:
        return [(face.family, face.weight, face.italic) for face in getattr(typefaces, role)]

    assert styles("text") == [
        ("Spectral", 400, False),
        ("Spectral", 400, True),
        ("Spectral", 600, False),
    ]
    assert {weight for _, weight, _ in styles("label")} == {400, 600, 700}
    assert styles("others") == [("Noto Sans", 400, False)]


def test_widths_are_those_of_the_font_s_own_outlines(typefaces: Typefaces) -> None:
    face = typefaces.label[0]
    font = TTFont(BytesIO(face.data))
    glyphs = font.getGlyphSet()
    for character in "Hamburg ⅝″":
        glyph = glyphs[font.getBestCmap()[ord(character)]]
        assert face.advances[character] == glyph.width / font["head"].unitsPerEm


def test_a_variable_font_is_pinned_to_its_default_style(typefaces: Typefaces) -> None:
    font = TTFont(BytesIO(typefaces.others[0].data))
    assert not {"fvar", "gvar", "HVAR"} & set(font.keys())
    assert typefaces.others[0].advances["Ж"] > 0.5


def test_every_package_that_is_missing_is_named() -> None:
    with pytest.raises(ContentError) as caught:
        gather_typefaces({"text": ("no-such-face",), "label": ("or-this",)}, HERE)
    said = [str(problem) for problem in caught.value.problems]
    assert len(said) == 2
    assert said[0] == (
        "workshop.yaml:4:1: The font package “no-such-face” is not installed.\n"
        "    Install it: pip install fontpkg-no-such-face. Or name another under fonts."
    )


def test_licences_come_with_the_fonts() -> None:
    licences = gather_font_licences(FONTS)
    assert sorted(licences) == ["ibm-plex-sans-condensed", "noto-sans", "spectral"]
    assert all(b"SIL Open Font License" in text.replace(b"SIL OPEN FONT LICENSE",
               b"SIL Open Font License") for text in licences.values())  # fmt: skip


def test_a_character_no_face_has_is_named_with_its_place(typefaces: Typefaces) -> None:
    (problem,) = uncovered("Шляпа ⅝\nA 帽 hat 帽\n", "hat.md", typefaces)
    assert problem.place == Place("hat.md", 2, 3)
    assert problem.what == "No font of the workshop has the character “帽” (U+5E3D)."
