"""What a trial is told of the folders it watches."""

from __future__ import annotations

import threading
from pathlib import Path

from notchbook.proofing.watching import changes


def test_where_a_watch_begins_anything_may_have_changed_just_before(tmp_path: Path) -> None:
    stop = threading.Event()
    told = changes(lambda: (tmp_path,), stop)
    assert next(told) is None
    (tmp_path / "recipe.md").write_text("x")
    assert next(told) == {tmp_path / "recipe.md"}
    stop.set()
