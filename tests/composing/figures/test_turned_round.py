"""What goes round, turned through a gap: which of the two is which, and where the way out is."""

from __future__ import annotations

from notchbook.composing.drawing import Drawing, Stroke
from notchbook.composing.figures import draw_figure
from notchbook.reading.walk import all_figures
from tests.collection import made
from tests.composing.figures.drawn import faultless
from tests.composing.geometry import texts
from tests.composing.sample import setting


def turned(slug: str) -> Drawing:
    (rule,) = (rule for rule in all_figures(made(slug).recipe) if rule.view.value == "turn")
    drawing = draw_figure(made(slug), rule, setting())
    faultless(drawing)
    return drawing


def crosses(drawing: Drawing) -> int:
    """How many crosses mark the seam, that of the key left out."""
    arms = [
        path
        for item in drawing.items
        if isinstance(item, Stroke) and item.role == "solid-edge" and len(item.paths) > 1
        for path in item.paths
    ]
    return len(arms) // 2 - 1


def test_both_cloths_are_named_in_every_state() -> None:
    for slug in ("chandlers-pouch", "globe-bearers-cap"):
        words = [text.text for text in texts(turned(slug).items)]
        assert (words.count("shell"), words.count("lining")) == (3, 3)


def test_the_seam_is_closed_but_where_it_is_itself_the_gap() -> None:
    assert crosses(turned("chandlers-pouch")) == 6
    assert crosses(turned("globe-bearers-cap")) == 4  # at the back it is open until the end
