"""Watching folders for changes, whatever becomes of them meanwhile."""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterator, Mapping
from pathlib import Path

import watchfiles

_PAUSE = 500
"""Milliseconds between looks at whether the folders themselves are still the same."""

Changed = frozenset[Path] | None


def changes(folders: Callable[[], tuple[Path, ...]], stop: threading.Event) -> Iterator[Changed]:
    """The paths that have changed below some folders, each time some have; None where anything
    may have, because a folder came, went or was put in the place of another."""
    while not stop.is_set():
        watched = _there(folders())
        if not watched:
            stop.wait(_PAUSE / 1000)
            if _there(folders()):
                yield None
            continue
        try:
            yield from _until_moved(folders, watched, stop)
        except OSError:  # a folder went away before it was watched
            stop.wait(_PAUSE / 1000)
        if not stop.is_set():
            yield None


def _until_moved(
    folders: Callable[[], tuple[Path, ...]], watched: Mapping[Path, int], stop: threading.Event
) -> Iterator[Changed]:
    begun = False
    for found in watchfiles.watch(
        *watched,
        watch_filter=None,
        debounce=400,
        step=30,
        rust_timeout=_PAUSE,
        stop_event=stop,
        yield_on_timeout=True,
        raise_interrupt=False,
        ignore_permission_denied=True,
    ):
        if not begun:  # anything may have changed before the watch began
            yield None
        elif found:
            yield frozenset(Path(path) for _, path in found)
        begun = True
        if _there(folders()) != watched:
            return


def _there(folders: tuple[Path, ...]) -> dict[Path, int]:
    """The folders that exist, each with the number of its inode."""
    found = {}
    for folder in folders:
        try:
            found[folder] = folder.stat().st_ino
        except OSError:
            continue
    return found
