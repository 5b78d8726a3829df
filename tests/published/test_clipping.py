"""How often an allowance is clipped: against the handbook's half inch and what the trade does."""

from __future__ import annotations

import math
import re

import pytest
from scipy.special import ellipe

from notchbook.drafting.clips import spacing
from tests.published.checks import INCH
from tests.published.written import page
from tests.recipes import HEAD, text_of

BRIM = f"""{HEAD}
allowance: 12 mm
pieces:
  brim: {{title: Brim, shape: ring, inner: 25 in, oval: 1.3, width: 15 cm, cut: {{shell: 1}}}}
  round: {{title: Round, shape: ring, inner: 25 in, width: 139 mm, cut: {{lining: 1}}}}
care: []
"""

STEPS = """\
## Make it

1. Cut.

    ```step
    cut: [brim, round]
    clip: [brim.inner, round.inner, round.outer]
    ```
"""


def test_clips_on_the_handbooks_loop_are_half_an_inch_apart() -> None:
    """G. A. Martin, Make Your Own Hats, 1921: a 25 inch loop, slashed every half inch."""
    radius = 25 * INCH / math.tau
    assert spacing(radius) == pytest.approx(INCH / 2, abs=0.03)
    for factor in (1.01, 0.99):
        assert abs(spacing(radius * factor) - INCH / 2) > 0.03


def test_a_page_prints_clips_along_an_oval_and_notches_as_the_trade_cuts_them() -> None:
    """Curvature of an ellipse: a ÷ b² at its ends, b ÷ a² at its sides, its axes from the girth by
    the elliptic integral. Notches every 15 to 20 mm on the edge of a brim (common practice)."""
    said = page(text_of(BRIM, STEPS))
    oval, opening, edge = (
        [int(mm) for mm in re.findall(r"(\d+)\u00a0mm", row)]
        for row in re.findall(r"(?:Brim|Round), \w+: every (.*?)(?:;|</dd>)", said, re.S)
    )
    long = 25 * INCH / (4 * float(ellipe(1 - 1 / 1.3**2)))
    short = long / 1.3
    # Tabs stand off by s² ÷ 8r, whatever the radius.
    stands = (INCH / 2) ** 2 / (8 * 25 * INCH / math.tau)
    assert oval == [round(math.sqrt(8 * stands * r)) for r in (short**2 / long, long**2 / short)]
    assert opening == [13]
    assert 15 <= edge[0] <= 20
