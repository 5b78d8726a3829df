"""The demo site as it lies on disk: complete, linked within itself, each file what it says."""

from __future__ import annotations

import hashlib
import json
import subprocess
from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import unquote, urlsplit

import pikepdf
import pytest

POINT = 25.4 / 72
INCH = 25.4


class Links(HTMLParser):
    """Every address a page names, and every id it gives."""

    def __init__(self) -> None:
        super().__init__()
        self.addresses: list[str] = []
        self.ids: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        for name, value in attrs:
            if name in ("href", "src", "xlink:href") and value:
                self.addresses.append(value)
            if name == "id" and value:
                self.ids.append(value)


def links(page: Path) -> Links:
    found = Links()
    found.feed(page.read_text())
    return found


def test_the_list_names_every_file_with_its_hash(demo_site: Path) -> None:
    listed = json.loads((demo_site / "impression.json").read_text())["files"]
    on_disk = {
        path.relative_to(demo_site).as_posix(): path.read_bytes()
        for path in demo_site.rglob("*")
        if path.is_file() and path.name != "impression.json"
    }
    assert {path: entry["sha256"] for path, entry in listed.items()} == {
        path: hashlib.sha256(data).hexdigest() for path, data in on_disk.items()
    }


def test_every_link_leads_to_a_file_of_the_site_and_to_an_id_that_is_there(demo_site: Path) -> None:
    pages = {page.resolve(): links(page) for page in demo_site.rglob("*.html")}
    assert len(pages) >= 8
    for page, found in pages.items():
        for address in found.addresses:
            parts = urlsplit(address)
            if parts.scheme == "data":
                continue
            assert not parts.scheme and not parts.netloc, f"{page}: {address}"
            target = (page.parent / unquote(parts.path)).resolve() if parts.path else page
            assert target.is_file(), f"{page}: {address}"
            if parts.fragment:
                assert parts.fragment in pages[target].ids, f"{page}: {address}"


def test_ids_are_unique_on_every_page(demo_site: Path) -> None:
    for page in demo_site.rglob("*.html"):
        ids = links(page).ids
        assert len(ids) == len(set(ids)), page


def test_style_sheets_fetch_from_the_site_alone(demo_site: Path) -> None:
    style = demo_site / "assets" / "site.css"
    addresses = [part.split(")")[0].strip("\"'") for part in style.read_text().split("url(")[1:]]
    assert addresses
    for address in addresses:
        assert address.startswith("data:") or (style.parent / address).is_file(), address


# ISO 216 and ANSI/ASME Y14.1 size A; imposed booklets are whole sheets on their side.
SIZES = {
    "sheets-a4.pdf": (210, 297),
    "sheets-letter.pdf": (8.5 * INCH, 11 * INCH),
    "booklet-a5.pdf": (148, 210),
    "booklet-a5-print.pdf": (297, 210),
    "booklet-half-letter.pdf": (5.5 * INCH, 8.5 * INCH),
    "booklet-half-letter-print.pdf": (11 * INCH, 8.5 * INCH),
    "list.pdf": (210, 11 * INCH),
}


@pytest.mark.parametrize("name", SIZES)
def test_every_pdf_is_sound_has_its_paper_s_size_and_our_faces_alone(
    demo_site: Path, name: str
) -> None:
    path = sorted(demo_site.rglob(name))[0]
    checked = subprocess.run(["qpdf", "--check", path], capture_output=True, text=True)
    assert checked.returncode == 0, checked.stdout + checked.stderr
    width, height = SIZES[name]
    with pikepdf.open(path) as pdf:
        for page in pdf.pages:
            left, bottom, right, top = (float(edge) * POINT for edge in page.mediabox)
            assert (right - left, top - bottom) == pytest.approx((width, height), abs=0.1)
        things = [thing for thing in pdf.objects if isinstance(thing, pikepdf.Dictionary)]
        fonts = {str(thing.BaseFont) for thing in things if thing.get("/Type") == "/Font"}
    families = ("Spectral", "IBM-Plex-Sans-Condensed", "Noto-Sans")
    assert fonts
    assert all(font.lstrip("/").split("+")[-1].startswith(families) for font in fonts)
