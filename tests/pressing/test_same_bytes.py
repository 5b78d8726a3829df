"""The same content gives the same bytes, whatever the number of jobs, hash seed, folder or zone."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

from tests.starter import begin_small


def test_two_presses_in_different_circumstances_differ_in_no_byte(tmp_path: Path) -> None:
    presses = []
    for folder, jobs, seed, zone in (
        ("here", "1", "1", "Pacific/Kiritimati"),
        ("some where/else", "2", "4711", "America/Anchorage"),
    ):
        home = tmp_path / folder
        begin_small(home / "content")
        settings = home / "content" / "workshop.yaml"
        papers = settings.read_text().replace("[a4, letter]", "[a4]")  # two prove no more than one
        settings.write_text(papers + "address: https://example.org/patterns/\n")
        subprocess.run(
            [sys.executable, "-m", "notchbook", "press", "--jobs", jobs],
            cwd=home,
            env={**os.environ, "PYTHONHASHSEED": seed, "TZ": zone},
            check=True,
            capture_output=True,
        )
        site = home / "site"
        presses.append(
            {
                path.relative_to(site).as_posix(): path.read_bytes()
                for path in site.rglob("*")
                if path.is_file()
            }
        )
    first, second = presses
    assert sorted(first) == sorted(second)
    assert [path for path in first if first[path] != second[path]] == []
    assert {"impression.json", "feed.xml", "sitemap.xml", "404.html"} < set(first)
