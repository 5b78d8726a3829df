"""The lay view: the pieces of one cloth laid out on it for cutting.

Keys: ``cloth``, and ``width`` where it is not the first one that the cloth is sold in and that
has room. Any width may be asked for. It shows which way up every piece lies, the selvages, the fold
and the grain, and says how much the pieces take.

Example::

    view: lay
    cloth: lawn
"""

from __future__ import annotations

from notchbook.composing.drawing import Drawing
from notchbook.composing.figures import keys
from notchbook.composing.figures.lay_plan import draw_lay
from notchbook.composing.setting import Setting
from notchbook.drafting.draft import Draft
from notchbook.drafting.packing.cloth import TooWide, lay, widths_of
from notchbook.problems import ContentError, Problem, fault, suggestion
from notchbook.reading.quantity import LENGTH
from notchbook.reading.recipe import FigureRule


def draw(draft: Draft, figure: FigureRule, setting: Setting) -> Drawing:
    """The cloth named, with all that is cut from it. Raises ContentError."""
    problems: list[Problem] = []
    keys.check_keys(figure.keys, ("cloth", "width"), "A figure of a lay", problems)
    names = keys.texts(figure.keys, "cloth", problems)
    width = keys.value(figure.keys, "width", LENGTH, draft, problems)
    cut_from = [
        name
        for name in draft.recipe.cloths
        if any(name in piece.counts for piece in draft.pieces.values())
    ]
    if len(names) != 1 and not problems:
        problems.append(keys.missing(figure, "cloth", "lay", cut_from[0]))
    for name in names:
        if name.value not in cut_from:
            what = f"No piece is cut from a cloth “{name.value}”."
            problems.append(Problem(name.place, what, suggestion(name.value, cut_from)))
    if width is not None and width < 100:
        at = figure.keys.entries["width"].place
        problems.append(Problem(at, "No cloth is that narrow.", "Make it 10 cm wide or wider."))
    if problems:
        raise ContentError(problems)
    cloth = draft.recipe.cloths[names[0].value]
    if width is None:
        widths = widths_of(draft, cloth)
        width = next((each for each, wide in widths if wide is None), widths[0][0])
    try:
        return draw_lay(draft, lay(draft, cloth.name, width), setting)
    except TooWide as wide:
        at = figure.keys.entries.get("width", figure.keys.entries["cloth"]).place
        found = wide.problem(draft.recipe)
        raise fault(at, found.what, found.remedy) from None
