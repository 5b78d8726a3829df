"""``notchbook proof`` as people use it."""

from __future__ import annotations

import signal
import socket
import subprocess
import sys
import urllib.request
from pathlib import Path

from click.testing import CliRunner

from notchbook.cli import main


def test_a_trial_ends_with_a_sentence_and_leaves_nothing_behind(workshop: Path) -> None:
    command = str(Path(sys.executable).with_name("notchbook"))
    with subprocess.Popen(
        [command, "proof", str(workshop)], stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True
    ) as run:
        assert run.stdout and run.stderr
        address = run.stdout.readline().removeprefix("Open ").strip()
        assert address.startswith("http://127.0.0.1:")
        with urllib.request.urlopen(f"{address}printing.html") as page:
            assert b"Trial copy" in page.read()
        assert "Ctrl-C ends it" in run.stdout.readline()
        run.send_signal(signal.SIGINT)
        assert run.stdout.read().strip() == "The trial has ended. Nothing was written."
        assert run.stderr.read() == ""
    assert run.returncode == 0
    assert sorted(path.name for path in workshop.iterdir()) == ["recipes", "workshop.yaml"]


def test_a_port_that_is_taken_is_said(workshop: Path) -> None:
    with socket.create_server(("127.0.0.1", 0)) as taken:
        port = str(taken.getsockname()[1])
        done = CliRunner().invoke(main, ["proof", "--content", str(workshop), "--port", port])
    assert done.exit_code == 1
    assert done.stderr == (
        f"--port {port}: The port {port} can't be had: address already in use.\n"
        "    Leave --port out to be given a free one.\n"
        "1 problem. Nothing was served.\n"
    )


def test_a_folder_that_is_not_there_is_said(tmp_path: Path) -> None:
    done = CliRunner().invoke(main, ["proof", str(tmp_path / "contant")])
    assert done.exit_code == 1
    assert "is not there, so nothing can be watched." in done.stderr
