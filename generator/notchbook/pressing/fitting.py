"""Figures that grow smaller rather than leave the foot of a page empty. WeasyPrint has no such thing.

A figure too tall for what is left of its page would go overleaf, with the last lines of its step,
and leave white behind. Asked for with ``object-fit: scale-down``, it is instead made as small as it
must be to stay, though no smaller than its words can be read.
"""

from __future__ import annotations

from typing import Any

import weasyprint.layout.block

from notchbook.composing.figures.size import LEAST

FOOT = 12 * 96 / 25.4
"""What its caption is given, CSS pixels: two lines."""

_as_large_as_it_is = weasyprint.layout.block.block_replaced_box_layout


def _as_large_as_fits(context: Any, box: Any, containing_block: Any) -> Any:
    """Lay out a block that is one picture, on the page begun."""
    laid, *others = _as_large_as_it_is(context, box, containing_block)
    if box.style["object_fit"] == "scale-down":
        left = context.page_bottom - laid.content_box_y() - FOOT
        _, drawn, _ = laid.replacement.get_intrinsic_size(1, 16)
        height = max(min(left, laid.height), min(LEAST * drawn, laid.height))
        laid.width *= height / laid.height
        laid.height = height
        # block_level_width has set the margins of the larger picture; both are ``auto``.
        free = containing_block.width - laid.width
        laid.margin_left = laid.margin_right = free / 2
    return laid, *others


weasyprint.layout.block.block_replaced_box_layout = _as_large_as_fits
