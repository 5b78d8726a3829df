"""The words the tool says to readers: one folder a language, beside the code."""

from __future__ import annotations

from importlib.resources import files

from notchbook.gathering.flat import flat
from notchbook.gathering.source import Catalogue
from notchbook.problems import Place, fault, suggestion


def gather_catalogue(language: str, place: Place) -> Catalogue:
    """Every word of ``language``; ``place`` is where the workshop asks for it.

    Raises ContentError where the language is unknown or two of its files share a key.
    """
    folder = files("notchbook") / "languages"
    known = sorted(entry.name for entry in folder.iterdir() if entry.is_dir())
    if language not in known:
        what = f"There is no word catalogue for the language “{language}”."
        raise fault(place, what, suggestion(language, known))
    words: dict[str, str] = {}
    entries = (folder / language).iterdir()
    for entry in sorted(entries, key=lambda entry: entry.name):
        file = f"languages/{language}/{entry.name}"
        for key, text in flat(entry.read_text(encoding="utf-8"), file).items():
            if key in words:
                what = f"The key “{key}” stands in another file of this language too."
                raise fault(Place(file, 1, 1), what, "Keep one of the two.")
            words[key] = text
    return Catalogue(language, words)
