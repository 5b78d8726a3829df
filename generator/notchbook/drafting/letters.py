"""Letters that count things."""

from __future__ import annotations

from string import ascii_lowercase, ascii_uppercase

CAPITALS = "".join(letter for letter in ascii_uppercase if letter not in "IOQ")
"""Capitals that are taken for no figure and no other capital."""

SMALL = ascii_lowercase


def letter(number: int, letters: str = CAPITALS) -> str:
    """The letter of this number, from 0; after the last one come AA, BB and so on.

    >>> letter(0), letter(len(CAPITALS))
    ('A', 'AA')
    """
    turn, place = divmod(number, len(letters))
    return letters[place] * (turn + 1)
