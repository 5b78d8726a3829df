"""What readers call a draft."""

from __future__ import annotations

from notchbook.composing.setting import Setting
from notchbook.drafting.draft import Draft
from notchbook.reading.choosing import chosen_title


def size_title(draft: Draft, setting: Setting) -> str:
    """A draft's size and, where its recipe has choices, how they are settled."""
    chosen = chosen_title(draft.recipe)
    if not chosen:
        return draft.size.title
    return setting.say("size.chosen", size=draft.size.title, choices=chosen)
