"""Staging and swapping in: what is made, what is removed, what is never touched."""

from __future__ import annotations

import errno
import json
import os
import signal
from collections.abc import Mapping
from pathlib import Path

import pytest

from notchbook.pressing.impression import STAGING, sha256, staging, swap_in, write
from notchbook.problems import ContentError


def make(out: Path, files: Mapping[str, str]) -> None:
    """An impression of the given files."""
    with staging(out, "site") as staged:
        made = tuple(write(staged, path, text.encode(), ("words",)) for path, text in files.items())
        swap_in(out, staged, "site", made, {"words": "0"})


def held(out: Path) -> dict[str, str]:
    """Every file below a folder but the list, with its text."""
    return {
        path.relative_to(out).as_posix(): path.read_text()
        for path in sorted(out.rglob("*"))
        if path.is_file() and path.name != "impression.json"
    }


def complaint(out: Path, files: Mapping[str, str]) -> str:
    with pytest.raises(ContentError) as caught:
        make(out, files)
    assert not (out / STAGING).exists()
    return str(caught.value)


def test_a_new_folder_holds_the_files_and_a_list_of_them_with_hashes(tmp_path: Path) -> None:
    out = tmp_path / "deep" / "site"
    make(out, {"index.html": "front", "hat/a.pdf": "sheets"})
    assert held(out) == {"index.html": "front", "hat/a.pdf": "sheets"}
    listed = json.loads((out / "impression.json").read_text())
    assert listed["files"]["hat/a.pdf"] == {"from": ["words"], "sha256": sha256(b"sheets")}
    assert listed["sources"] == {"words": "0"}


def test_what_the_new_impression_lacks_is_removed_with_its_empty_folders(tmp_path: Path) -> None:
    make(tmp_path, {"index.html": "1", "hat/a.pdf": "a", "hat/big/b.pdf": "b"})
    make(tmp_path, {"index.html": "2", "hat/a.pdf": "a"})
    assert held(tmp_path) == {"index.html": "2", "hat/a.pdf": "a"}
    assert not (tmp_path / "hat" / "big").exists()


@pytest.mark.parametrize("asked", [signal.SIGINT, signal.SIGTERM])
def test_who_asks_it_to_end_while_it_is_put_in_its_place_does_not_leave_half_of_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, asked: signal.Signals
) -> None:
    def end(number: int, _: object) -> None:
        raise KeyboardInterrupt(number)

    before = signal.signal(asked, end)
    make(tmp_path, {"index.html": "1", "hat/a.pdf": "a"})
    move = Path.replace

    def interrupted(self: Path, target: Path) -> Path:
        os.kill(os.getpid(), asked)
        return move(self, target)

    try:
        with monkeypatch.context() as patch:
            patch.setattr(Path, "replace", interrupted)
            make(tmp_path, {"index.html": "2", "hat/b.pdf": "b"})
    except KeyboardInterrupt:
        pytest.fail("It was interrupted.")
    assert held(tmp_path) == {"index.html": "2", "hat/b.pdf": "b"}
    try:
        with pytest.raises(KeyboardInterrupt):  # and is heard again
            signal.raise_signal(asked)
    finally:
        signal.signal(asked, before)


def test_what_no_impression_listed_stays(tmp_path: Path) -> None:
    make(tmp_path, {"index.html": "1", "hat/a.pdf": "a"})
    (tmp_path / "CNAME").write_text("mine")
    (tmp_path / "hat" / "note.txt").write_text("mine")
    make(tmp_path, {"index.html": "2"})
    assert held(tmp_path) == {"index.html": "2", "CNAME": "mine", "hat/note.txt": "mine"}


def test_somebody_else_s_file_in_the_way_is_not_overwritten(tmp_path: Path) -> None:
    make(tmp_path, {"index.html": "1"})
    (tmp_path / "about.html").write_text("mine")
    (tmp_path / "cape").write_text("mine")
    said = complaint(tmp_path, {"index.html": "2", "about.html": "2", "cape/index.html": "2"})
    assert "about.html is in the way, and this program did not make it." in said
    assert "/cape is in the way, and this program did not make it." in said
    assert held(tmp_path) == {"index.html": "1", "about.html": "mine", "cape": "mine"}


@pytest.mark.parametrize("lists", [None, "no json", "[]", '{"files": 3}'])
def test_a_folder_that_is_no_impression_is_refused(tmp_path: Path, lists: str | None) -> None:
    (tmp_path / "thesis.txt").write_text("mine")
    if lists is not None:
        (tmp_path / "impression.json").write_text(lists)
    said = complaint(tmp_path, {"index.html": "1"})
    assert "is not empty, and holds nothing that this program made." in said
    assert "Choose an empty folder with --out" in said
    assert held(tmp_path) == {"thesis.txt": "mine"}


def test_a_list_that_points_outside_removes_nothing_there(tmp_path: Path) -> None:
    (tmp_path / "mine.txt").write_text("mine")
    out = tmp_path / "site"
    make(out, {"index.html": "1"})
    (out / "way").symlink_to(tmp_path)
    listed = json.loads((out / "impression.json").read_text())
    for path in ("../mine.txt", str(tmp_path / "mine.txt"), "way/mine.txt"):
        listed["files"][path] = {"from": [], "sha256": ""}
    (out / "impression.json").write_text(json.dumps(listed))
    make(out, {"index.html": "2"})
    assert (tmp_path / "mine.txt").read_text() == "mine"


def test_what_a_run_that_was_killed_left_behind_is_cleared_away(tmp_path: Path) -> None:
    (tmp_path / STAGING).mkdir()
    (tmp_path / STAGING / "half.pdf").write_text("half")
    make(tmp_path, {"index.html": "1"})
    assert held(tmp_path) == {"index.html": "1"}


def test_pages_come_after_what_they_link_to(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    moved: list[str] = []
    replace = Path.replace

    def watched(self: Path, target: Path) -> Path:
        moved.append(target.relative_to(tmp_path).as_posix())
        return replace(self, target)

    monkeypatch.setattr(Path, "replace", watched)
    pages = {"index.html": "", "feed.xml": "", "hat/index.html": "", "hat/usual/index.html": ""}
    make(tmp_path, {**pages, "hat/usual/sheets.pdf": "", "assets/site.css": ""})
    order = [path for path in moved if path != "impression.json"]
    assert set(order[:2]) == {"hat/usual/sheets.pdf", "assets/site.css"}
    assert order[2:] == ["hat/usual/index.html", "hat/index.html", "feed.xml", "index.html"]


def test_a_run_cut_short_while_swapping_leaves_no_file_that_nobody_owns(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    make(tmp_path, {"index.html": "1", "old.pdf": "1"})
    replace = Path.replace

    def failing(self: Path, target: Path) -> Path:
        if target.name == "index.html":
            raise KeyboardInterrupt
        return replace(self, target)

    with monkeypatch.context() as patch:
        patch.setattr(Path, "replace", failing)
        with pytest.raises(KeyboardInterrupt):
            make(tmp_path, {"index.html": "2", "new.pdf": "2"})
    assert held(tmp_path) == {"index.html": "1", "new.pdf": "2", "old.pdf": "1"}
    make(tmp_path, {"index.html": "3"})
    assert held(tmp_path) == {"index.html": "3"}


def test_a_disk_that_fills_leaves_the_earlier_site_as_it_was(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    make(tmp_path, {"index.html": "1", "hat/a.pdf": "1"})
    before = (tmp_path / "impression.json").read_bytes()
    write_bytes = Path.write_bytes

    def full(self: Path, data: bytes) -> int:
        if self.name == "a.pdf":
            raise OSError(errno.ENOSPC, "No space left on device")
        return write_bytes(self, data)

    monkeypatch.setattr(Path, "write_bytes", full)
    said = complaint(tmp_path, {"index.html": "2", "hat/a.pdf": "2"})
    assert "can't take the whole impression: the disk is full.\n    Make room on it." in said
    assert held(tmp_path) == {"index.html": "1", "hat/a.pdf": "1"}
    assert (tmp_path / "impression.json").read_bytes() == before


def test_a_folder_that_can_t_be_written_is_a_sentence(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refused(self: Path, **options: object) -> None:
        raise PermissionError(errno.EACCES, "Permission denied")

    monkeypatch.setattr(Path, "mkdir", refused)
    with pytest.raises(ContentError, match=r"site can't be written: permission denied\.\n"):
        make(tmp_path / "site", {"index.html": "1"})


def test_an_output_folder_that_is_a_file_is_a_sentence(tmp_path: Path) -> None:
    (tmp_path / "site").write_text("mine")
    assert "site is a file, not a folder." in complaint(tmp_path / "site", {"index.html": "1"})
    assert (tmp_path / "site").read_text() == "mine"


def test_a_folder_made_for_nothing_is_gone_again(tmp_path: Path) -> None:
    with pytest.raises(ContentError), staging(tmp_path / "site", "site"):
        raise ContentError([])
    assert not (tmp_path / "site").exists()
