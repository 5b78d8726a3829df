"""Figures that grow smaller rather than leave the foot of a page empty, as WeasyPrint has none.

A figure too tall for what is left of its page would go overleaf with the last lines of its step,
and leave white behind. One whose drawing asks for it with ``object-fit: scale-down`` is made as
much smaller as it must be to stay, if its words can then still be read.
"""

from __future__ import annotations

import math
from typing import Any

from weasyprint.formatting_structure.boxes import BlockReplacedBox
from weasyprint.layout.block import block_box_layout

from notchbook.composing.figures.size import LEAST


def laid_to_fit(
    context: Any, box: Any, bottom_space: float, skip: Any, around: Any, page_is_empty: bool,
    absolute: Any, fixed: Any, margins: list[float], *others: Any,
) -> Any:  # fmt: skip
    """Lay out a block as WeasyPrint does. A figure the page has no room for is laid out again as if
    the page had no end, and what it is too tall is taken from its drawing."""
    place = box.position_x, box.position_y

    def lay() -> Any:
        box.position_x, box.position_y = place
        given = bottom_space, skip, around, page_is_empty, absolute, fixed, [*margins], *others
        return block_box_layout(context, box, *given)

    laid = lay()
    if box.element_tag != "figure" or laid[0] is not None:
        return laid
    end, context.page_bottom = context.page_bottom, math.inf
    whole = lay()
    context.page_bottom = end
    figure = whole[0]
    over = figure.border_box_y() + figure.border_height() + bottom_space - end
    return whole if _lessened(figure, over) else laid


def _lessened(figure: Any, over: float) -> bool:
    """Whether the drawing of a figure could be made lower by ``over``, which it then is."""
    drawing = next((b for b in figure.descendants() if isinstance(b, BlockReplacedBox)), None)
    if drawing is None or drawing.style["object_fit"] != "scale-down":
        return False
    height = drawing.height - over
    _, drawn, _ = drawing.replacement.get_intrinsic_size(1, drawing.style["font_size"])
    if height < LEAST * drawn:
        return False
    narrower = drawing.width * over / drawing.height
    drawing.width -= narrower
    drawing.height = height
    drawing.position_x += narrower / 2
    frame, *below = figure.children
    for box in {frame, figure} - {drawing}:
        box.height -= over
    for box in below:
        box.translate(dy=-over)
    return True
