"""Faces for the web: each cut down to the characters a site uses, as WOFF2."""

from __future__ import annotations

from io import BytesIO

from fontTools import subset
from fontTools.ttLib import TTFont

from notchbook.gathering.source import Face, Typefaces

ALWAYS = frozenset(
    map(
        chr,
        (
            *range(0x20, 0x7F),
            *range(0xA0, 0x180),
            *range(0x2010, 0x2040),
            0x2044,
            *range(0x2070, 0x2090),
            *range(0x2150, 0x215F),
            *range(0x2190, 0x2194),
            0x03C0,
            *(0x2212, 0x221A, 0x2248, 0x2260, 0x2264, 0x2265, 0x2713, 0x2717),
        ),
    )
)
"""Characters kept whatever a site says: Latin, punctuation, fractions, arrows, signs of numbers."""

FEATURES = ("calt", "case", "ccmp", "kern", "liga", "lnum", "locl", "mark", "mkmk", "onum", "tnum")
"""What of a font's typographic refinements is kept: what the themes may ask for."""


def characters_of(face: Face, typefaces: Typefaces, used: frozenset[str]) -> frozenset[str]:
    """What a face must have: all that a site uses, and ``ALWAYS``. One that stands behind others
    needs only what one of those before it lacks."""
    wanted = used | ALWAYS
    before = (*typefaces.text, *typefaces.label)
    if face in before:
        return wanted
    return frozenset(c for c in wanted if any(c not in other.advances for other in before))


def web_font(data: bytes, characters: frozenset[str]) -> bytes:
    """A TrueType font's WOFF2 with the given characters, as far as it has them. The same for the
    same arguments, whenever it is made."""
    options = subset.Options(
        recalc_timestamp=False,
        hinting=False,
        layout_features=list(FEATURES),
        notdef_outline=True,
        drop_tables=[*subset.Options().drop_tables, "meta"],
    )
    # Most glyphs go, so most need never be taken apart.
    font = TTFont(BytesIO(data), recalcTimestamp=False, lazy=True)
    # None of the ``FEATURES`` has a name, but the cutter would look all through them for one, which
    # takes a third of the time.
    names = font["name"]
    del font["name"]
    cutter = subset.Subsetter(options)
    cutter.populate(unicodes=map(ord, sorted(characters)))
    cutter.subset(font)
    names.names = [
        name
        for name in names.names
        if name.nameID in options.name_IDs and name.langID in options.name_languages
    ]
    font["name"] = names
    made = BytesIO()
    font.flavor = "woff2"
    font.save(made)
    return made.getvalue()
