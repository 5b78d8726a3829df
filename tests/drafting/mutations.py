"""Recipes an author has slipped in: valid ones with a few things changed as fingers change them."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path
from random import Random

from tests.drafting.test_sides import BODY, CAP, HEM, LINING, YOKE
from tests.recipes import HEAD, text_of

RECIPES = Path(__file__).parents[2] / "content" / "recipes"
_QUANTITY = re.compile(r"(?<![\w.])\d+(?:\.\d+)?(?= (?:mm|cm|deg|%))")
_COUNT = re.compile(r"(?<![\w.])\d+(?![\d.]| (?:mm|cm|deg|%))")
_SHAPE = re.compile(r"(?<=shape: )\w+")
_EDGE = re.compile(r"(?<=\w\.)[a-z_]+(?=[\],)\s])")
_NAME = re.compile(r"(?<=: )[a-z_]+(?=[,}\n])")
_SHAPES = ("ring", "cone", "tube", "disc", "strip", "gore", "sector", "panel", "facing", "inset")
_EDGES = ("left", "right", "top", "bottom", "rim", "inner", "outer", "edge", "base", "hem")
_NUMBERS = ("0", "1", "-3", "0.001", "7", "360", "1e9", "99999", "1000000000000")


def samples() -> list[str]:
    """Valid recipes: those of the demo workshop, and those of the tests."""
    cap = CAP.replace("NOTCHES", "12").replace("BASES", "[6 gore.base]")
    yoke = YOKE.replace("NECK", "[front.neck, back.neck, front.neck]")
    front = HEAD.replace(LINING, "")
    fronts = (cap.replace("shell: gores", "shell: 6"), HEM, yoke)
    ours = [text_of(), *(text_of(front + rest, BODY) for rest in fronts)]
    return [*ours, *(path.read_text("utf-8") for path in sorted(RECIPES.glob("*/recipe.md")))]


def mutated(text: str, seed: int) -> str:
    """One or two slips in the front matter, from the measures on."""
    random = Random(seed)
    front, body = text.split("\n---\n", 1)
    about, mark, front = front.partition("\nmeasures:\n")
    for _ in range(random.choice((1, 1, 1, 2))):
        front = random.choice(SLIPS)(front, random)
    return f"{about}{mark}{front}\n---\n{body}"


def _somewhere(
    pattern: re.Pattern[str], new: Callable[[str, Random], str]
) -> Callable[[str, Random], str]:
    """Another word in the place of one that the pattern finds."""

    def slip(front: str, random: Random) -> str:
        found = list(pattern.finditer(front))
        if not found:
            return front
        spot = random.choice(found)
        return front[: spot.start()] + new(spot[0], random) + front[spot.end() :]

    return slip


def _quantity(old: str, random: Random) -> str:
    if random.random() < 0.15:
        return random.choice(_NUMBERS)
    return f"{float(old) * random.choice((0.1, 0.8, 0.9, 0.95, 0.99, 1.01, 1.05, 1.1, 1.3, 3)):g}"


def _count(old: str, random: Random) -> str:
    if random.random() < 0.15:
        return random.choice(_NUMBERS)
    return str(int(old) + random.choice((-1, 1, 1, 2)))


def _lines(front: str, random: Random, change: Callable[[list[str], int], None]) -> str:
    lines = front.split("\n")
    change(lines, random.randrange(1, len(lines)))
    return "\n".join(lines)


def _drop(front: str, random: Random) -> str:
    return _lines(front, random, lambda lines, k: lines.pop(k) and None)


def _twice(front: str, random: Random) -> str:
    return _lines(front, random, lambda lines, k: lines.insert(k, lines[k]))


def _swap(front: str, random: Random) -> str:
    def change(lines: list[str], k: int) -> None:
        lines[k - 1], lines[k] = lines[k], lines[k - 1]

    return _lines(front, random, change)


SLIPS: tuple[Callable[[str, Random], str], ...] = (
    *(_somewhere(_QUANTITY, _quantity),) * 16,
    *(_somewhere(_COUNT, _count),) * 3,
    _somewhere(_SHAPE, lambda _, random: random.choice(_SHAPES)),
    _somewhere(_EDGE, lambda _, random: random.choice(_EDGES)),
    _somewhere(_NAME, lambda _, random: random.choice(("head", "1 cm", "bias", "round", "2", "x"))),
    _drop,
    _twice,
    _swap,
)
