"""A small hat with choices, for tests."""

from __future__ import annotations

from notchbook.reading.recipe import Recipe
from tests.recipes import HAT, HEAD, recipe, text_of

CHOICES = """\
choices:
  opening:
    title: Head opening
    ask: Oval sits still.
    options: {oval: oval, round: round}
    usual: oval
  edge:
    title: Edge
    ask: Wire keeps its line.
    options: {soft: soft, wired: wired}
    usual: soft
publish:
  oval: {opening: oval}
  round-wired: {opening: round, edge: wired, sizes: [head-56cm]}
"""

_HAT = (
    HAT.replace("oval: 1.29", "oval: ratio")
    .replace(
        "workings:\n",
        "workings:\n"
        "  ratio: {by: opening, oval: 1.29, round: 1, why: Heads are oval.}\n"
        "  channel: {by: edge, soft: 0 mm, wired: 7 mm}\n",
    )
    .replace(
        "notions:\n  wire: {title: brim wire,",
        "  ear seam: {when: {opening: oval}, join: [ear.edge, wad.edge]}\n"
        "notions:\n  wire: {when: {edge: wired}, title: brim wire,",
    )
    .replace(
        "seams:\n",
        "  ear: {when: {opening: oval}, title: Ear, shape: disc, across: 6 cm, cut: {shell: 1}}\n"
        "  wad: {when: {opening: oval}, title: Wad, shape: disc, across: 6 cm, cut: {felt: 1}}\n"
        "seams:\n",
    )
)
_HEAD = HEAD.replace(
    "cloths:\n", "cloths:\n  felt: {title: felt, thickness: 2 mm, widths: [90 cm]}\n"
)
FRONT = _HEAD + CHOICES + _HAT

BODY = """\
## Make it

1. Cut.

    ```step
    cut: [brim, crown]
    ```

2. Cut and sew the ears.

    ```step
    when: {opening: oval}
    cut: [ear, wad]
    sew: [ear seam]
    care: [needle]
    ```

3. Sew.

    ```step
    sew: [brim edge, point seam, crown to brim]
    ```

    ```figure
    when: {opening: round}
    view: flat
    piece: brim
    ```

## Wire it

1. Put in the wire.

    ```step
    when: {edge: wired}
    use: [wire]
    care: [wire]
    ```

## Wear it

With pride.
"""


def text(front: str = FRONT + "care: [needle, wire]\n", body: str = BODY) -> str:
    """The whole file."""
    return text_of(front, body)


def choosy(old: str = "", new: str = "") -> Recipe:
    """The recipe, one text in it changed."""
    front, body = FRONT + "care: [needle, wire]\n", BODY
    assert not old or (front + body).count(old) == 1, old
    if old:
        front, body = front.replace(old, new), body.replace(old, new)
    return recipe(front, body)
