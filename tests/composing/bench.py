"""A small recipe drafted and drawn, with the real words, faces and theme."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

from notchbook.composing.plates import Plates, draw_plates
from notchbook.composing.setting import Setting
from notchbook.drafting.draft import Draft, Lay
from notchbook.drafting.engine import draft, evaluate_in
from notchbook.drafting.packing.cloth import lay
from notchbook.gathering.theme import gather_theme
from notchbook.problems import Place
from tests.composing import sample
from tests.recipes import HAT, HEAD, recipe

HEAD_GIRTH = "    range: [52 cm, 66 cm]\n"
FRONT = HEAD.replace(HEAD_GIRTH, f"{HEAD_GIRTH}    numbers: hat\n") + HAT + "care: [shears, wire]\n"

BODY = """\
For *anyone* who'd like to try.

```figure
view: flat
piece: brim
alt: The brim laid flat.
caption: The brim.
```

## Cut
```stage
time: 30 min
```

Press first.

1. Cut along {{ rim }} at {{ head }}.

    ```step
    cut: [brim, crown]
    care: [shears]
    ```

    ```figure
    view: flat
    piece: crown
    alt: The point laid flat.
    ```

2. Look at it.

### When it does not fit

| Sign | Cure |
|---|---|
| tight | {{ 3 mm }} more |

## Sew & wear

1. Sew with {{ 4 / 2 }} pins.

    ```step
    sew: [brim edge, point seam, crown to brim]
    use: [wire]
    care: [shears, wire]
    ```
"""


def setting(address: str = "", units: str = "metric") -> Setting:
    """The sample workshop in the theme Broadside."""
    plain = sample.setting()
    workshop = replace(plain.workshop, address=address, units=units)
    theme = gather_theme("broadside", Place("workshop.yaml", 1, 1))
    return replace(plain, workshop=workshop, theme=theme)


@cache
def made(front: str = FRONT, body: str = BODY, size: int = 1) -> tuple[Draft, tuple[Lay, ...]]:
    """The recipe drafted in one of its sizes, and its lays."""
    read = recipe(front, body)
    drafted = draft(read, read.sizes[min(size, len(read.sizes) - 1)])
    lays = tuple(
        lay(drafted, cloth.name, evaluate_in(drafted, width).value)
        for cloth in read.cloths.values()
        for width in cloth.widths
    )
    return drafted, lays


@cache
def plates() -> Plates:
    """Every figure of the recipe."""
    return draw_plates(made()[0], setting())
