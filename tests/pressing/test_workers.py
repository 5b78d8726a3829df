"""Work shared out: the same results whatever the number of processes."""

from __future__ import annotations

import multiprocessing
import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from notchbook.pressing.workers import cores, share_out
from notchbook.problems import ContentError, Place, Problem


def multiply(factor: int) -> Callable[[int], int]:
    """What each process begins with."""

    def do(task: int) -> int:
        if task % 5 == 0:
            raise ContentError([Problem(Place("f", task, 1), f"{task} is bad.", "Change it.")])
        return factor * task

    return do


def in_which_process() -> Callable[[int], int]:
    return lambda task: os.getpid()


@pytest.mark.parametrize("jobs", [1, 3])
def test_results_come_in_the_order_of_the_tasks(jobs: int) -> None:
    ticks: list[None] = []
    done = share_out(multiply, (10,), [4, 3, 2, 1], jobs, lambda: ticks.append(None))
    assert done == [40, 30, 20, 10]
    assert len(ticks) == 4


@pytest.mark.parametrize("jobs", [1, 2])
def test_problems_of_all_tasks_are_raised_together(jobs: int) -> None:
    with pytest.raises(ContentError) as caught:
        share_out(multiply, (1,), [10, 1, 5], jobs, lambda: None)
    assert [problem.place.line for problem in caught.value.problems] == [5, 10]


def test_one_job_is_done_here_and_more_are_done_elsewhere() -> None:
    here = {os.getpid()}
    assert set(share_out(in_which_process, (), [1, 2, 3], 1, lambda: None)) == here
    assert not here & set(share_out(in_which_process, (), [1, 2, 3], 2, lambda: None))


def loaded() -> Callable[[str], bool]:
    return lambda module: module in sys.modules


READY = """
from notchbook.pressing.workers import get_ready, share_out
from tests.pressing.test_workers import loaded
get_ready("colorsys", {jobs})
print(share_out(loaded, (), ["colorsys", "this"], 2, lambda: None))
"""


@pytest.mark.skipif(
    "forkserver" not in multiprocessing.get_all_start_methods(), reason="none to be copied"
)
@pytest.mark.parametrize(("jobs", "found"), [(2, True), (1, False)])
def test_processes_have_what_was_got_ready_for_them(root: Path, jobs: int, found: bool) -> None:
    said = subprocess.run(
        [sys.executable, "-c", READY.format(jobs=jobs)],
        cwd=root, capture_output=True, text=True, check=True,
    )  # fmt: skip
    assert said.stdout == f"{[found, False]}\n"


def test_there_is_at_least_one_core() -> None:
    assert cores() >= 1
