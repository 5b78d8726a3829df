"""A trial from its beginning to its end."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from threading import Thread

from notchbook.gathering.theme import find_theme
from notchbook.problems import Place, fault
from notchbook.proofing.desk import Desk
from notchbook.proofing.serving import served
from notchbook.proofing.watching import changes


@contextmanager
def proof(content: Path, theme: str | None, port: int) -> Iterator[str]:
    """While the workshop in ``content`` is watched and its trial copy served: the address of its
    front page. Raises ContentError where there is no such folder or the port can't be had."""
    if not content.is_dir():
        what = f"The content folder “{content.as_posix()}” is not there, so nothing can be watched."
        raise fault(
            Place(content.as_posix()),
            what,
            "Name the right folder, or make one: notchbook begin NAME.",
        )
    desk = Desk(content, theme)
    desk.read()
    threads = [Thread(target=work, args=(desk,), daemon=True) for work in (_watch, Desk.true)]
    try:
        with served(desk, port) as address:
            for thread in threads:
                thread.start()
            yield address
    finally:
        desk.close()
        for thread in threads:
            if thread.is_alive():
                thread.join(2.0)


def _watch(desk: Desk) -> None:
    for changed in changes(lambda: _folders(desk), desk.closed):
        shelves = [(desk.content / name).absolute() for name in ("recipes", "pages")]
        desk.read(
            settings=changed is None
            or any(
                not any(path.absolute().is_relative_to(shelf) for shelf in shelves)
                for path in changed
            )
        )


def _folders(desk: Desk) -> tuple[Path, ...]:
    """The content folder and the theme's."""
    setting = desk.trial.setting
    name = desk.theme or (setting.workshop.theme if setting else "")
    theme = find_theme(name) if name else None
    return (desk.content, theme) if isinstance(theme, Path) else (desk.content,)
