"""A press that is ended before its time: at once, with a sentence, and with nothing left behind."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import CliRunner

from notchbook.cli import main
from notchbook.pressing.impression import STAGING, Made, write
from notchbook.pressing.size import Bench
from notchbook.pressing.workers import share_out
from tests.starter import begin_small

LONG = 60.0
"""Seconds that a task takes which nobody is to wait for."""


def slowly(folder: str) -> Callable[[str], None]:
    """What each process begins with: tasks that leave a file at once, and those that work on."""

    def do(task: str) -> None:
        Path(folder, f"{task} begun").touch()
        if task == "wrong":
            until(lambda: Path(folder, "long begun").exists())
            raise KeyError(task)
        time.sleep(LONG)
        Path(folder, f"{task} done").touch()

    return do


def until(it_is: Callable[[], bool]) -> None:
    for _ in range(int(LONG / 0.02)):
        if it_is():
            return
        time.sleep(0.02)
    raise AssertionError("It never came.")


def test_what_goes_wrong_in_one_process_ends_the_others_with_their_tasks_half_done(
    tmp_path: Path,
) -> None:
    with pytest.raises(KeyError):
        share_out(slowly, (str(tmp_path),), ["long", "wrong"], 2, lambda: None)
    assert sorted(path.name for path in tmp_path.iterdir()) == ["long begun", "wrong begun"]


def test_ctrl_c_ends_a_press_with_a_sentence_and_leaves_nothing_behind(tmp_path: Path) -> None:
    begin_small(tmp_path / "content")
    with subprocess.Popen(
        [sys.executable, "-m", "notchbook", "press", "--jobs", "2"],
        cwd=tmp_path, start_new_session=True, text=True,
        stdout=subprocess.PIPE, stderr=subprocess.PIPE,
    ) as run:  # fmt: skip
        until(lambda: (tmp_path / "site" / STAGING).is_dir())
        os.killpg(run.pid, signal.SIGINT)  # as a terminal does it: to every process
        said = run.communicate()
    assert said == ("", "\nStopped. Nothing was pressed.\n")
    assert run.returncode == 130
    assert [path.name for path in tmp_path.iterdir()] == ["content"]


def test_a_press_that_is_told_to_end_clears_up_as_well(
    workshop: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def told(bench: Bench, *_: object) -> list[Made]:
        made = write(bench.staged, "cosy/index.html", b"half a site", ())
        os.kill(os.getpid(), signal.SIGTERM)
        return [made]

    monkeypatch.setattr("notchbook.pressing.press._share_out", told)
    out = tmp_path / "site"
    words = ["press", "--content", str(workshop), "--out", str(out), "--jobs", "1"]
    before = signal.getsignal(signal.SIGTERM)
    done = CliRunner().invoke(main, words)
    assert (done.exit_code, done.output) == (143, "\nStopped. Nothing was pressed.\n")
    assert not out.exists()
    assert signal.getsignal(signal.SIGTERM) == before
