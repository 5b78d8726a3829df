"""A small pouch with a line inside it and a gap in its seams, for tests."""

from __future__ import annotations

from notchbook.drafting.draft import Draft
from notchbook.drafting.engine import draft
from notchbook.reading.recipe import Recipe
from tests.recipes import HEAD, recipe

PIECES = """\
allowance: 10 mm
pieces:
  side:
    title: Side
    shape: tube
    girth: 40 cm
    height: 20 cm
    cut: {shell: 1, lining: 1}
    lines:
      row: {title: row of stitches, kind: stitched, %s}
  base: {title: Base, shape: disc, girth: 40 cm, cut: {shell: 1, lining: 1}}
seams:
  back: {join: [shell side.left, shell side.right]}
  lining back: {join: [lining side.left, lining side.right]}
  base: {join: [shell side.bottom, shell base.edge], notches: 4}
  lining base: {join: [lining side.bottom, lining base.edge], notches: 4}
  top: {join: [shell side.top, lining side.top]}
"""

BODY = """\
## Make it

1. Cut.

    ```step
    cut: [side, base]
    ```

2. Sew.

    ```step
    lines: [side.row]
    sew: [back, lining back, base, lining base, top]
    leave: {base: {length: 8 cm}}
    ```

3. Close it.

    ```step
    close: [base]
    ```
"""

ALONG = "along: top, inside: 3 cm"


def lined(drawn: str = ALONG, old: str = "", new: str = "") -> Recipe:
    """The recipe with its line drawn so, and one text in it changed."""
    front, body = HEAD + PIECES % drawn, BODY
    assert not old or (front + body).count(old) == 1, old
    if old:
        front, body = front.replace(old, new), body.replace(old, new)
    return recipe(front, body)


def drafted(drawn: str = ALONG, old: str = "", new: str = "") -> Draft:
    """The recipe drafted in its first size."""
    made = lined(drawn, old, new)
    return draft(made, made.sizes[0])
