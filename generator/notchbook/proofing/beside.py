"""Which block of a recipe's page was written on which line."""

from __future__ import annotations

import re
from bisect import bisect_right

from notchbook.reading.recipe import Recipe
from notchbook.reading.walk import all_figures, all_steps, placed_blocks

SECTIONS = {
    "editions": "editions",
    "measures": "measures",
    "sizes": "sizes",
    "limits": "measures",
    "choices": "choices",
    "cloths": "shopping",
    "notions": "shopping",
    "tools": "shopping",
    "workings": "workings",
    "pieces": "pieces",
    "seams": "seams",
    "care": "care",
}
"""Keys of the front matter, and the id of the heading of the section their values stand in."""

_KEY = re.compile(r"([a-z_]+)[ \t]*:")
_FACTS = re.compile(r"[ \t]*(`{3,}|~{3,})[ \t]*(step|stage)\b")

Spots = tuple[tuple[int, str], ...]
"""Lines, each with the id of the element that begins there on the page; empty for none."""


def spots(recipe: Recipe, text: str) -> Spots:
    """Where the blocks of the page of ``recipe``, read from ``text``, were written. A figure is
    known by the title of its drawing, ``f1-title``, as a piece is by ``p1-title``."""
    lines = text.split("\n")
    body = min((stage.place.line for stage in recipe.stages), default=len(lines) + 1)
    found: dict[int, str] = {}
    for number, line in enumerate(lines[: body - 1], start=1):
        key = _KEY.match(line)
        if key or line.rstrip() == "---":
            found[number] = SECTIONS.get(key[1], "") if key else ""
    for number, piece in enumerate(recipe.pieces.values(), start=1):
        found[piece.place.line] = f"p{number}-title"
    inside = {stage.place.line: stage.id for stage in recipe.stages}
    inside |= {step.place.line: step.id for step in all_steps(recipe)}
    inside |= {block.place.line: where for where, block in placed_blocks(recipe) if where}
    found |= inside
    found |= {r.place.line: f"f{n}-title" for n, r in enumerate(all_figures(recipe), start=1)}
    # Below a figure the words of its step, and its facts, are the step's again.
    around = tuple(sorted(inside.items()))
    for number, line in enumerate(lines, start=1):
        if _FACTS.match(line) and number > body:
            found[number] = _last(number, around)
    return tuple(sorted(found.items()))


def beside(line: int, blocks: Spots, text: str, now: str) -> str:
    """The id of the block that ``line`` of the text as it is ``now`` belongs to, on a page made
    from ``text``; empty where it belongs to none."""
    return _last(_then(line, text.split("\n"), now.split("\n")), blocks)


def _last(line: int, blocks: Spots) -> str:
    at = bisect_right(blocks, (line, "\uffff"))
    return blocks[at - 1][1] if at else ""


def _then(line: int, text: list[str], now: list[str]) -> int:
    """The line that stood where ``line`` stands now. What was changed is taken to be one stretch;
    a line in it is the one that stretch begins after."""
    if text == now:
        return line
    shorter = min(len(text), len(now))
    same = next((k for k in range(shorter) if text[k] != now[k]), shorter)
    after = next((k for k in range(shorter - same) if text[-1 - k] != now[-1 - k]), shorter - same)
    if line <= same:
        return line
    if line > len(now) - after:
        return line + len(text) - len(now)
    return min(line, max(same, len(text) - after))
