"""How the cost of a draft grows with what is drafted: no faster than the number of its parts."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import NamedTuple

from notchbook.drafting.engine import draft
from notchbook.drafting.truing import check
from notchbook.reading.recipe import Recipe
from tests.recipes import HEAD, recipe

TIMES = 4
"""So many times as many parts."""


class Growth(NamedTuple):
    """So many parts and ``TIMES`` as many, and what either takes, seconds."""

    what: str
    few: int
    before: float
    after: float

    @property
    def against_linear(self) -> float:
        """1 where so many times as many parts take so many times as long."""
        return self.after / self.before / TIMES


def growth(seconds_of: Callable[[Callable[[], object], int], float]) -> list[Growth]:
    """Measured by ``seconds_of`` some work, done a number of times."""
    found = []
    for what, make, few in (
        ("gores", gores, 8),
        ("points of a panel", points, 16),
        ("points of a gore's profile", profile, 16),
    ):
        before, after = (
            seconds_of(lambda made=made: list(check(draft(made, made.sizes[0]))), 9)
            for made in (make(few), make(few * TIMES))
        )
        found.append(Growth(what, few, before, after))
    return found


def gores(count: int) -> Recipe:
    """A cap of so many gores on a band, each a piece of its own."""
    pieces = [
        f"  pane_{k}: {{title: Pane {k}, shape: gore, gores: {count}, number: {k}, oval: 1.29, "
        f"girth: head, height: 12 cm, cut: {{shell: 1}}}}"
        for k in range(1, count + 1)
    ]
    seams = [
        f"  seam {k}: {{join: [pane_{k}.left, pane_{k % count + 1}.right], notches: 1}}"
        for k in range(1, count + 1)
    ]
    return _recipe(pieces, seams)


def points(count: int) -> Recipe:
    """A panel with so many points, its upper edge a zigzag of straight edges."""
    at = [f"p{k}: [{k} cm, {3 * (k % 2)} mm]" for k in range(count)]
    ends = f"low: [{count - 1} cm, 20 cm], left: [0 cm, 20 cm]"
    edges = [f"e{k}: [p{k}, p{k + 1}]" for k in range(count - 1)]
    round_ = f"side: [p{count - 1}, low], bottom: [low, left], back: [left, p0]"
    panel = (
        "  flap: {title: Flap, shape: panel, points: {" + ", ".join([*at, ends]) + "}, edges: {"
        + ", ".join([*edges, round_]) + "}, cut: {shell: 1}}"
    )  # fmt: skip
    return _recipe([panel], [])


def profile(count: int) -> Recipe:
    """A gore of a surface whose profile is a smooth curve through so many points."""
    shares = [k / count for k in range(count + 1)]
    through = [f"[{90 + 10 * math.sin(9 * t) - 60 * t:.3f} mm, {150 * t:.3f} mm]" for t in shares]
    gore = f"shape: gore, gores: 8, profile: {{curve: [{', '.join(through)}]}}, cut: {{shell: 8}}"
    return _recipe([f"  pane: {{title: Pane, {gore}}}"], [])


def _recipe(pieces: list[str], seams: list[str]) -> Recipe:
    told = ["allowance: 1 mm", "pieces:", *pieces, *(["seams:", *seams] if seams else [])]
    return recipe(HEAD + "\n".join(told) + "\n", "## Make it\n\n1. Draft it.\n")
