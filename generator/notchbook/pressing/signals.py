"""What asks a program to end: from the keyboard, another program, or a terminal that is closed."""

from __future__ import annotations

import signal
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from threading import current_thread, main_thread


def heard(*names: str) -> list[signal.Signals]:
    """Those of the signals named that this system has and this thread hears: the main one alone
    does."""
    if current_thread() is not main_thread():
        return []
    return [getattr(signal, name) for name in names if hasattr(signal, name)]


@contextmanager
def answered(
    signals: Iterable[signal.Signals], answer: Callable[[int, object], None] | signal.Handlers
) -> Iterator[None]:
    """While these signals have another answer than before."""
    before = {each: signal.signal(each, answer) for each in signals}
    try:
        yield
    finally:
        for each, handler in before.items():
            signal.signal(each, handler)
