"""How large figures are drawn: so that their words can be read wherever they are shown smallest.

A theme shows a figure as large as its column allows and never larger than it is, on paper. What
may be drawn is therefore bounded, not scaled: what finds no room is said in words below.
"""

from __future__ import annotations

SIZE = 3.4
"""Type of dimensions, callouts and notes, mm: the smallest in any figure."""

WIDEST, HIGHEST = 120.0, 100.0
"""The most a figure takes, mm."""

TALLEST = 115.0
"""The most it takes in height with several pieces or a long key, mm."""

LEAST = 0.68
"""The least share of its size a figure has in a booklet, mm in one: its smallest words are then
2.3 mm, which is 6½ point."""
