"""Small recipes for tests, as an author would write them."""

from __future__ import annotations

from functools import lru_cache

from notchbook.gathering.source import Source
from notchbook.reading.read import read_recipe
from notchbook.reading.recipe import Recipe

HEAD = """\
format: 1
title: Wick hat
summary: A small hat to try things on.
editions:
  - {number: 1, date: 2026-11-24, note: First edition.}
skill: beginner
time: 2 h
licence: CC-BY-4.0
tags: [hat]
measures:
  head:
    title: Head girth
    ask: Round the head, level.
    usual: 57 cm
    range: [52 cm, 66 cm]
  height:
    title: Height
    ask: Straight up from the brim.
    usual: 30 cm
    range: [25 cm, 60 cm]
sizes: {measure: head, from: 56 cm, to: 58 cm, step: 1 cm}
cloths:
  shell: {title: twill, thickness: 0.8 mm, widths: [150 cm], shrinkage: 3 %}
  lining: {title: lawn, thickness: 0.3 mm, widths: [112 cm]}
"""

STRIP = HEAD.replace("    title: Head girth\n", "    title: Head girth\n    strip: yes\n")
"""The same with a strip to try the measure with."""

HAT = """\
workings:
  rim: head + tau * shell.thickness + 8 mm
allowance: 12 mm
pieces:
  brim:
    title: Brim
    shape: ring
    inner: rim
    oval: 1.29
    width: 8 cm
    allowance: {outer: 6 mm}
    cut: {shell: 1, lining: 1}
  crown: {title: Point, shape: cone, rim: rim, height: height, cut: {shell: 1}}
seams:
  brim edge: {join: [shell brim.outer, lining brim.outer]}
  point seam: {join: [crown.left, crown.right], notches: 2}
  crown to brim: {join: [crown.rim, shell brim.inner], notches: 8}
notions:
  wire: {title: brim wire, amount: length(brim.outer) + 125 mm}
"""

STEPS = """\
## Make it

1. Cut {{ rim }}.

    ```step
    cut: [brim, crown]
    ```

2. Sew.

    ```step
    sew: [brim edge, point seam, crown to brim]
    use: [wire]
    ```
"""


def text_of(front: str = HEAD + HAT, body: str = STEPS) -> str:
    """A whole recipe file."""
    return f"---\n{front}---\n\n{body}"


@lru_cache
def recipe(front: str = HEAD + HAT, body: str = STEPS) -> Recipe:
    """A recipe as read, once. Raises ContentError as reading does."""
    data = text_of(front, body).encode()
    return read_recipe(Source("wick-hat", "wick-hat", {"recipe.md": data}))
