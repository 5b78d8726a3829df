"""How often an allowance is clipped or notched, in words: told along its edge."""

from __future__ import annotations

import math

from markupsafe import Markup

from notchbook.composing.meeting import edge_title
from notchbook.composing.setting import Setting
from notchbook.composing.values import Values, words
from notchbook.drafting.clips import Cuts, cuts_of
from notchbook.drafting.draft import Draft
from notchbook.reading.recipe import Step


def clip_rows(
    draft: Draft, step: Step, setting: Setting, values: Values
) -> tuple[tuple[str, Markup], ...]:
    """What a step clips and what it notches, each with how often: (``clip`` or ``notch``, words).
    Edges that are cut alike share their words."""
    rows: dict[str, dict[Markup, list[str]]] = {"clip": {}, "notch": {}}
    for name in step.facts.clip:
        for cuts in cuts_of(draft.pieces[name.piece], name.edge):
            titles = rows[cuts.how].setdefault(_every(cuts, setting, values), [])
            title = edge_title(draft, name, setting)
            if title not in titles:
                titles.append(title)
    say = setting.catalogue.words["step.clip.edges"]
    return tuple(
        (how, Markup("; ").join(words(say, edges=" + ".join(e), every=every) for every, e in told))
        for how, told in ((how, list(found.items())) for how, found in rows.items())
        if told
    )


def _every(cuts: Cuts, setting: Setting, values: Values) -> Markup:
    """``every 10 mm at front and back, every 15 mm at the sides``."""
    say = setting.catalogue.words[f"step.clip.{cuts.spaced}"]
    widest = Markup("") if math.isinf(cuts.widest) else values.length(cuts.widest)
    return words(say, closest=values.length(cuts.closest), widest=widest)
