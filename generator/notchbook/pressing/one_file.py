"""A file of its own, beside no site: written, or a sentence why not."""

from __future__ import annotations

from pathlib import Path

from notchbook.problems import Place, fault


def write_one(out: Path, data: bytes) -> None:
    """Write what a command was asked for with ``--out``. Raises ContentError."""
    try:
        out.write_bytes(data)
    except OSError as error:
        what = f"{out.as_posix()} can't be written: {(error.strerror or str(error)).lower()}."
        remedy = "Choose another file with --out, or change who may write there."
        raise fault(Place(out.as_posix()), what, remedy) from None
