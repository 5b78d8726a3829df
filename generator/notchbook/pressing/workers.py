"""Work shared out among processes, one a core. What is made does not depend on how many."""

from __future__ import annotations

import gc
import multiprocessing
import os
import signal
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import Future, ProcessPoolExecutor, as_completed
from contextlib import contextmanager
from multiprocessing import forkserver, resource_tracker
from multiprocessing.context import ForkServerContext, SpawnContext
from threading import Thread
from typing import Any, TypeVar

from notchbook.problems import ContentError, Problem

T = TypeVar("T")
R = TypeVar("R")


def cores() -> int:
    """How many cores this process may use."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


def share_out(
    begin: Callable[..., Callable[[T], R]],
    given: tuple[Any, ...],
    tasks: Sequence[T],
    jobs: int,
    tick: Callable[[], None],
) -> list[R]:
    """Do every task, in ``jobs`` processes (with one, in this one), and return what each gave, in
    the order of the tasks. Put long tasks first.

    ``begin(*given)`` is called once a process and returns what does a task; both are pickled.
    ``tick`` is called after every task. Raises ContentError with the problems of all tasks. Where
    anything else is raised, an interrupt from the keyboard above all, the processes are ended with
    their tasks half done, so that none writes any more when this returns.
    """
    problems: list[Problem] = []
    results: dict[int, R] = {}

    def keep(number: int, give: Callable[[], R]) -> None:
        try:
            results[number] = give()
        except ContentError as error:
            problems.extend(error.problems)
        tick()

    if jobs == 1 or len(tasks) < 2:
        do = begin(*given)
        for number, task in enumerate(tasks):
            keep(number, lambda task=task: do(task))  # type: ignore[misc]
    else:
        before = set(multiprocessing.active_children())
        pool = ProcessPoolExecutor(
            min(jobs, len(tasks)),
            fresh_processes(begin.__module__),
            initializer=_start,
            initargs=(begin, given),
        )
        try:
            with deaf():
                futures: dict[Future[R], int] = {
                    pool.submit(_do, task): number for number, task in enumerate(tasks)
                }
            for future in as_completed(futures):
                keep(futures[future], future.result)
        except BaseException:
            for process in set(multiprocessing.active_children()) - before:
                process.terminate()
            raise
        finally:
            pool.shutdown(cancel_futures=True)
    if problems:
        raise ContentError(problems)
    return [results[number] for number in range(len(tasks))]


def get_ready(module: str, jobs: int) -> None:
    """Have a module that ``jobs`` processes will need loaded elsewhere, while this one goes on."""
    if jobs > 1 and "forkserver" in multiprocessing.get_all_start_methods():
        fresh_processes(module)
        with deaf():
            forkserver.ensure_running()


def fresh_processes(module: str) -> SpawnContext | ForkServerContext:
    """Processes that begin fresh: a copy of this one, threads and all, would not be safe. Where
    it can be done, the module they need is imported once and shared: the first one asked for while
    the program runs."""
    if "forkserver" not in multiprocessing.get_all_start_methods():
        return multiprocessing.get_context("spawn")
    context = multiprocessing.get_context("forkserver")
    context.set_forkserver_preload([module])
    return context


@contextmanager
def deaf() -> Iterator[None]:
    """Processes begun meanwhile don't hear Ctrl-C, which a terminal sends to all: it is this one
    that ends them. One that comes meanwhile is heard here afterwards."""
    if not hasattr(signal, "pthread_sigmask"):
        yield
        return
    resource_tracker.ensure_running()  # begun later, it would let the signal through again
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


_held: list[Callable[[Any], Any]] = []
"""In a worker alone: what does a task, left here by ``_start`` for ``_do``."""


def _start(begin: Callable[..., Callable[[Any], Any]], given: tuple[Any, ...]) -> None:
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # where no mask could be set, from now on
    gc.set_threshold(50_000, 20, 50)  # printing makes many objects and few circles: 7 % faster
    Thread(target=_end_with_parent, daemon=True).start()
    _held.append(begin(*given))


def _end_with_parent() -> None:
    """A parent that was killed could not end its workers, and they would go on writing."""
    parent = multiprocessing.parent_process()
    if parent:
        parent.join()
        os._exit(1)


def _do(task: Any) -> Any:
    return _held[-1](task)
