"""Bytes to text, whatever an editor put around it."""

from __future__ import annotations

import re

from notchbook.problems import ContentError, Place, Problem, fault

LARGEST = 1_000_000
"""Bytes in one text."""

# What YAML 1.2 does not allow in a text, and nothing else needs either.
_UNPRINTABLE = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x84\x86-\x9f\ufffe\uffff]")


def decode(data: bytes, file: str) -> str:
    """The text of a file, without a byte-order mark, its lines ending in ``\\n``.

    Raises ContentError where the file is empty, too large, not UTF-8, or has control characters.
    """
    top = Place(file, 1, 1)
    if len(data) > LARGEST:
        what = f"This text is enormous: {len(data):,} bytes."
        raise fault(top, what, f"Keep it under {LARGEST:,} bytes.")
    try:
        text = _lines(data.decode("utf-8-sig"))
    except UnicodeDecodeError as error:
        place = place_of(_lines(data[: error.start].decode("utf-8-sig", "replace")), None, file)
        what = f"This file is not UTF-8 text: byte {data[error.start]:02X} makes no sense here."
        raise fault(place, what, "Save it as UTF-8 in your editor.") from None
    if not text.strip():
        what = "This file is empty."
        raise ContentError(
            [Problem(top, what, "Write front matter between --- lines, then steps.")]
        )
    problems = [_unprintable(text, found.start(), file) for found in _UNPRINTABLE.finditer(text)]
    if problems:
        raise ContentError(problems[:10])
    return text


def place_of(text: str, at: int | None, file: str) -> Place:
    """The place of position ``at`` (the end, where there is none) of a file's whole text."""
    before = text[:at]
    return Place(file, before.count("\n") + 1, len(before) - before.rfind("\n"))


def _unprintable(text: str, at: int, file: str) -> Problem:
    code = ord(text[at])
    what = "A NUL character" if code == 0 else f"The control character U+{code:04X}"
    return Problem(place_of(text, at, file), f"{what} stands here.", "Delete it.")


def _lines(text: str) -> str:
    return text.replace("\r\n", "\n").replace("\r", "\n")
