"""How long an author waits for the page after saving."""

from __future__ import annotations

import shutil
import statistics
import time
from pathlib import Path

from notchbook.proofing.desk import Desk
from notchbook.proofing.proof import proof
from tests.proofing.author import Author


def waiting(content: Path, slug: str, folder: Path, times: int = 5) -> tuple[float, float]:
    """Median seconds from saving a changed word of a recipe's text until its open page has been
    told, and those that reading it and composing its page take alone, with everything drawn
    again. The recipe is being trued meanwhile, as it is for an author."""
    copied = folder / "content"
    shutil.copytree(content, copied)
    text = (copied / "recipes" / slug / "recipe.md").read_text(encoding="utf-8")
    path = f"{slug}/index.html"
    found = []
    with proof(copied, None, 0) as address:
        author = Author(copied, folder, address)
        with author.opened(path) as until:
            until("Trial copy")
            for number in range(times):
                began = time.perf_counter()
                changed = text.replace("\n1. ", f"\n1. Wait{number}. ", 1)
                (copied / "recipes" / slug / "recipe.md").write_text(changed, encoding="utf-8")
                until(f"Wait{number}.")
                found.append(time.perf_counter() - began)
    alone = []
    for _ in range(2):
        desk = Desk(copied, None)
        desk.read()
        began = time.perf_counter()
        desk.answer(path)
        alone.append(time.perf_counter() - began)
    return statistics.median(found), statistics.median(alone)
