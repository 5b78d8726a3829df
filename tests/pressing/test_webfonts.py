"""Web fonts: the characters asked for, small, and the same bytes every time."""

from __future__ import annotations

from io import BytesIO

import pytest
from fontTools.ttLib import TTFont

from notchbook.gathering.source import Typefaces
from notchbook.gathering.typefaces import gather_typefaces
from notchbook.pressing.webfonts import ALWAYS, characters_of, web_font
from notchbook.problems import Place

FONTS = {"text": ("spectral",), "label": ("ibm-plex-sans-condensed",), "others": ("noto-sans",)}


@pytest.fixture(scope="module")
def typefaces() -> Typefaces:
    return gather_typefaces(FONTS, Place("workshop.yaml", 1, 1))


def test_a_web_font_has_what_was_asked_for_and_nothing_else(typefaces: Typefaces) -> None:
    face = typefaces.others[0]
    made = web_font(face.data, ALWAYS | set("Ж"))
    assert made == web_font(face.data, ALWAYS | set("Ж"))
    font = TTFont(BytesIO(made))
    assert font.flavor == "woff2"
    characters = {chr(code) for code in font.getBestCmap()}
    assert set("aZé⅝″×Ж") <= characters
    assert "Я" not in characters
    assert len(made) < 40_000
    assert len(face.data) > 20 * len(made)


def test_a_face_behind_others_needs_what_they_lack(typefaces: Typefaces) -> None:
    used = frozenset("hat Шляпа")
    assert characters_of(typefaces.text[0], typefaces, used) == used | ALWAYS
    behind = characters_of(typefaces.others[0], typefaces, used)
    assert set("Шляп") <= behind | set(typefaces.text[0].advances)
    assert not set("hat ⅝") & behind
