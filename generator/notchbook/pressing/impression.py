"""Impressions: what one press run made, and how it takes the place of the one before.

Everything is made in a staging folder inside the output folder and swapped in when it is complete,
pages after what they link to. ``impression.json`` lists every file with its hash and what it was
made from. Files an earlier impression did not list are somebody else's and stay as they are.
"""

from __future__ import annotations

import errno
import hashlib
import json
import shutil
import signal
from collections.abc import Iterator, Mapping
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path, PurePosixPath
from typing import Any, Literal

from notchbook import __version__
from notchbook.pressing.signals import answered, heard
from notchbook.problems import ContentError, Place, Problem

LIST = "impression.json"
STAGING = ".notchbook-staging"

Purpose = Literal["site", "draft"]
"""A whole site, or one recipe for one body: neither takes the other's place."""


@dataclass(frozen=True, slots=True)
class Made:
    """A file of an impression: its path below the output folder, the SHA-256 of its bytes, and
    the groups of sources it was made from."""

    path: str
    sha256: str
    sources: tuple[str, ...]


def sha256(data: bytes) -> str:
    """The SHA-256 of some bytes, in hexadecimal."""
    return hashlib.sha256(data).hexdigest()


def write(folder: Path, path: str, data: bytes, sources: tuple[str, ...]) -> Made:
    """Write one file below a staging folder."""
    target = folder / path
    target.parent.mkdir(parents=True, exist_ok=True)
    target.write_bytes(data)
    return Made(path, sha256(data), sources)


@contextmanager
def staging(out: Path, purpose: Purpose) -> Iterator[Path]:
    """A folder inside ``out`` to make an impression in. It is gone afterwards, and ``out`` too
    where it was made for nothing.

    Raises ContentError where ``out`` holds what is no impression for this purpose, can't be written
    or fills.
    """
    new = not out.exists()
    folder = out / STAGING
    with _told(out):
        if out.exists() and not out.is_dir():
            raise ContentError([_problem(out, "is a file, not a folder", "Choose another --out.")])
        if out.is_dir() and any(path.name != STAGING for path in out.iterdir()):
            _earlier(out, purpose)
        if folder.exists():
            shutil.rmtree(folder)
        folder.mkdir(parents=True)
        try:
            yield folder
        finally:
            shutil.rmtree(folder, ignore_errors=True)
            if new:
                with suppress(OSError):
                    out.rmdir()


def swap_in(
    out: Path, folder: Path, purpose: Purpose, made: tuple[Made, ...], sources: Mapping[str, str]
) -> None:
    """Put a complete staging folder in the place of the impression before it.

    ``sources`` maps what the impression was made from to hashes. Raises ContentError where
    somebody else's file is in the way; nothing has been changed then. Ctrl-C, and what else asks
    the program to end, comes too late: what is complete is put in its place as a whole.
    """
    with _told(out), answered(heard("SIGINT", "SIGTERM", "SIGHUP"), signal.SIG_IGN):
        before = _earlier(out, purpose)
        files = {
            entry.path: {"from": list(entry.sources), "sha256": entry.sha256} for entry in made
        }
        _refuse_strangers(out, set(files), set(before))
        # Both lists together first: a run that is cut short leaves no file that nobody owns.
        _write_list(out, purpose, {**before, **files}, sources)
        for path in sorted(files, key=_links_last):
            (out / path).parent.mkdir(parents=True, exist_ok=True)
            (folder / path).replace(out / path)
        for path in sorted(set(before) - set(files)):
            _remove(out, path)
        _write_list(out, purpose, files, sources)


def _links_last(path: str) -> tuple[bool, int, str]:
    return path.endswith((".html", ".xml")), -path.count("/"), path


def _earlier(out: Path, purpose: Purpose) -> dict[str, Any]:
    """The files of the impression in ``out``, none where the folder holds nothing yet. Raises
    ContentError where it holds anything but an impression for this purpose."""
    held = [path.name for path in out.iterdir() if path.name != STAGING]
    if not held:
        return {}
    try:
        listed = json.loads((out / LIST).read_bytes())
        before = {path: entry for path, entry in listed["files"].items() if _inside(path)}
        other = listed.get("made", purpose)
    except (OSError, ValueError, KeyError, TypeError, AttributeError):
        what = "is not empty, and holds nothing that this program made"
        remedy = "Choose an empty folder with --out, or empty this one yourself."
        raise ContentError([_problem(out, what, remedy)]) from None
    if other != purpose:
        what = f"holds a {other}, and a {purpose} would take its place"
        raise ContentError([_problem(out, what, "Choose another folder with --out.")])
    return before


def _inside(path: str) -> bool:
    pure = PurePosixPath(path)
    return not pure.is_absolute() and ".." not in pure.parts


def _refuse_strangers(out: Path, files: set[str], before: set[str]) -> None:
    problems = []
    for path in sorted(files - before):
        pure = PurePosixPath(path)
        folders = [str(parent) for parent in pure.parents if str(parent) != "."]
        blocked = [folder for folder in folders if (out / folder).exists()
                   and not (out / folder).is_dir()]  # fmt: skip
        if (out / path).exists() or (out / path).is_symlink():
            blocked.append(path)
        problems += [
            _problem(out / name, "is in the way, and this program did not make it", "Move it away.")
            for name in blocked
        ]
    if problems:
        raise ContentError(problems)


def _remove(out: Path, path: str) -> None:
    """Remove a file of an earlier impression, and the folders it leaves empty."""
    target = out / path
    if not target.parent.resolve().is_relative_to(out.resolve()):
        return
    target.unlink(missing_ok=True)
    for parent in target.parents:
        if parent == out:
            return
        try:
            parent.rmdir()
        except OSError:
            return


def _write_list(
    out: Path, purpose: Purpose, files: Mapping[str, Any], sources: Mapping[str, str]
) -> None:
    listed = {
        "format": 1,
        "made": purpose,
        "notchbook": __version__,
        "sources": dict(sources),
        "files": dict(files),
    }
    fresh = out / STAGING / LIST
    fresh.write_text(json.dumps(listed, indent=1, sort_keys=True) + "\n", encoding="utf-8")
    fresh.replace(out / LIST)


@contextmanager
def _told(out: Path) -> Iterator[None]:
    """What the disk refuses, said in a sentence."""
    try:
        yield
    except OSError as error:
        if error.errno in (errno.ENOSPC, errno.EDQUOT):
            what, remedy = "can't take the whole impression: the disk is full", "Make room on it."
        else:
            what = f"can't be written: {(error.strerror or str(error)).lower()}"
            remedy = "Choose another folder with --out, or change who may write there."
        raise ContentError([_problem(out, what, remedy)]) from None


def _problem(path: Path, what: str, remedy: str) -> Problem:
    return Problem(Place(path.as_posix()), f"{path.as_posix()} {what}.", remedy)
