"""The recipe that the reference for authors shows every view of a figure on.

It has what views ask for and no more: a seam with a gap that is turned, one that is pressed open, a
curve to clip, an edge to fold, another to gather, a ribbon to lay in, two cloths, measures with
their places. Its lining is smaller than what it lies in, as linings are, and lower, so that filling
finds room above it.
"""

from __future__ import annotations

RECIPE = """\
---
format: 1
title: Watchman's hat
summary: A small brimmed hat with a lining, to show what figures can do.
editions: [{number: 1, date: 2026-11-24, note: First edition.}]
licence: CC-BY-4.0
measures:
  head:
    title: Head girth
    ask: Level, above the ears and eyebrows.
    usual: 57 cm
    range: [52 cm, 64 cm]
    taken: head
    numbers: hat
  height: {title: Height of the crown, ask: Straight up., usual: 9 cm, range: [8 cm, 14 cm]}
cloths:
  twill: {title: cotton twill, thickness: 0.8 mm, widths: [112 cm]}
  lawn: {title: cotton lawn, thickness: 0.3 mm, widths: [112 cm]}
workings:
  rim: head + 1 cm
  turn: tau * twill.thickness
allowance: 10 mm
pieces:
  side: {title: Side, shape: tube, girth: rim, height: height, cut: {twill: 1}}
  tip: {title: Tip, shape: disc, girth: length(side.top), cut: {twill: 1}}
  brim: {title: Brim, shape: ring, inner: rim, width: 7 cm, cut: {twill: 1}}
  under_brim: {title: Under brim, shape: ring, inner: rim, width: 6.8 cm, cut: {twill: 1}}
  lining: {title: Lining, shape: tube, girth: rim - turn, height: height - 3 cm, cut: {lawn: 1}}
  lining_tip: {title: Lining tip, shape: disc, girth: 1.3 * length(lining.top), cut: {lawn: 1}}
seams:
  brim edge: {join: [under_brim.outer, brim.outer], ease: {brim: tau * 2 mm}, notches: 4}
  back seam: {join: [side.left, side.right]}
  tip seam: {join: [side.top, tip.edge], notches: 4}
  side to brim: {join: [side.bottom, brim.inner, under_brim.inner], notches: 4}
  lining seam: {join: [lining.left, lining.right]}
  lining tip: {join: [lining.top, lining_tip.edge], gather: {lining_tip: 1.3}, notches: 4}
  lining to brim: {join: [lining.bottom, under_brim.inner], ease: {under_brim: turn}, notches: 4}
notions:
  band: {title: petersham ribbon 25 mm wide, amount: length(lining.bottom) + 2 cm}
---

## Make it

1. Cut out.

    ```step
    cut: [brim, under_brim, side, tip, lining, lining_tip]
    ```

2. Sew the edge of the brim, right sides together.

    ```step
    sew: [brim edge]
    leave: {brim edge: {length: 8 cm}}
    ```

3. Turn it right side out and close the gap.

    ```step
    close: [brim edge]
    ```

4. Sew the crown, and the brim to it.

    ```step
    sew: [back seam, tip seam, side to brim]
    clip: [brim.inner, under_brim.inner]
    ```

5. Sew the lining. Turn its edge under and sew it in by hand.

    ```step
    sew: [lining seam, lining tip, lining to brim]
    ```

6. Sew the ribbon into the opening.

    ```step
    use: [band]
    ```
"""
