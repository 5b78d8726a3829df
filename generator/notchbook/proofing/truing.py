"""A recipe trued in a process of its own: pages are composed meanwhile as quickly as ever, and one
that has changed again need not be waited for."""

from __future__ import annotations

import os
import signal
from collections.abc import Callable
from contextlib import suppress
from multiprocessing.connection import Connection

from notchbook.drafting import truing
from notchbook.pressing.workers import deaf, fresh_processes
from notchbook.problems import Problem
from notchbook.reading.recipe import Recipe

LOOK = 0.1
"""Seconds between looks at whether the verdict is still wanted."""

YIELDING = 10
"""What is added to the nice value of the process (POSIX.1-2024, ``nice``): the page comes first."""


def true(recipe: Recipe, wanted: Callable[[], bool]) -> tuple[Problem, ...] | None:
    """What is wrong with a recipe; None where that is no longer ``wanted``. Raises RuntimeError
    where truing itself fails."""
    context = fresh_processes(truing.__name__)
    ours, theirs = context.Pipe()
    process = context.Process(target=_true, args=(theirs,), daemon=True)
    with ours:
        with theirs, deaf():
            process.start()
        try:
            ours.send(recipe)
            while wanted():
                if ours.poll(LOOK):
                    break
            else:
                return None
            found: tuple[Problem, ...] | str = ours.recv()
        except (EOFError, OSError):
            found = "truing was ended from outside."
        finally:
            process.terminate()
            process.join()
    if isinstance(found, str):
        raise RuntimeError(found)
    return found


def _true(answer: Connection) -> None:
    """In the process: get a recipe, and send what is wrong with it, or a sentence why that can't be
    told. Whoever asked may have gone away meanwhile."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # where ``deaf`` could set no mask
    if hasattr(os, "nice"):
        os.nice(YIELDING)
    with answer, suppress(EOFError, OSError):
        recipe = answer.recv()
        try:
            found: tuple[Problem, ...] | str = truing.true(recipe)
        except Exception as error:
            found = f"{type(error).__name__}: {error}"
        answer.send(found)
