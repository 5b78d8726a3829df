"""A recipe as machines read it: schema.org's HowTo, as JSON-LD to stand in a page."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable

from markupsafe import Markup

from notchbook.composing.chapters import Body, StepView
from notchbook.composing.lists import ShopRow
from notchbook.drafting.draft import Draft
from notchbook.drafting.engine import evaluate_in

# The second unit system's brackets come from the style sheet, which no machine reads.
_SECOND = re.compile(r'</span> <span class="(?:mm|in)">(.*?)</span>')


def howto(draft: Draft, body: Body, shop: Iterable[ShopRow]) -> Markup:
    """What to make, of what, with what, in which steps. Safe inside a ``<script>``."""
    recipe = draft.recipe
    facts: dict[str, object] = {
        "@context": "https://schema.org",
        "@type": "HowTo",
        "name": recipe.title.value,
        "description": recipe.summary.value,
        "supply": [{"@type": "HowToSupply", "name": row.title} for row in shop],
        "tool": [{"@type": "HowToTool", "name": tool.value} for tool in recipe.tools],
        "step": [
            {
                "@type": "HowToSection",
                "name": stage.title,
                "itemListElement": [
                    {"@type": "HowToStep", "url": f"#{step.id}", "text": _text(step)}
                    for step in steps
                ],
            }
            for stage in body.stages
            if (steps := [block.step for block in stage.blocks if block.step])
        ],
    }
    if recipe.time:
        minutes = round(evaluate_in(draft, recipe.time).value * 60)
        facts["totalTime"] = f"PT{minutes}M"
    return Markup(json.dumps(facts, ensure_ascii=False).replace("<", "\\u003c"))


def _text(step: StepView) -> str:
    html = " ".join(block.html for block in step.words)
    return Markup(_SECOND.sub(r"</span> (\1)", html)).striptags()
