"""The site opens from a folder on disk and from a host's subfolder, and fetches nothing else."""

from __future__ import annotations

import json
from pathlib import Path
from xml.etree import ElementTree

import html5lib
import pypdfium2
import pytest

from tests.browser.conftest import Open
from tests.browser.pages import KINDS, RECIPE, SIZE, faults


@pytest.mark.parametrize("place", ["disk", "host"])
@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_of_page_loads_whole(
    kind: str, place: str, open_page: Open, demo_site: Path, served: str
) -> None:
    home = f"{demo_site.as_uri()}/" if place == "disk" else served
    page = open_page("about:blank")
    with faults(page, home) as found:
        page.goto(home + KINDS[kind])
        page.evaluate("document.fonts.ready.then(() => true)")
        assert found == []
    # The faces of the site, not a browser's own.
    if kind != "missing":
        assert page.evaluate('document.fonts.check("600 1rem Spectral")')
        assert "Spectral" in page.evaluate(
            "[...document.fonts].filter(f => f.status == 'loaded').map(f => f.family).join()"
        )


def test_a_script_that_fails_or_a_file_that_is_missing_is_noticed(
    open_page: Open, tmp_path: Path
) -> None:
    (tmp_path / "index.html").write_text(
        '<!DOCTYPE html><title>x</title><img src="gone.png" alt=""><img src="http://127.0.0.1:9/">'
        "<script>throw Error('no')</script>"
    )
    page = open_page("about:blank")
    with faults(page, f"{tmp_path.as_uri()}/") as found:
        page.goto((tmp_path / "index.html").as_uri(), wait_until="networkidle")
    said = " ".join(found)
    assert "gone.png" in said
    assert "left home for http://127.0.0.1:9/" in said
    assert "script: no" in said


@pytest.mark.parametrize("depth", ["nothing.html", "lamplighters-hat/head-99cm/index.html"])
def test_nothing_at_an_address_is_said_in_a_page_that_looks_like_the_others(
    depth: str, open_page: Open, served: str
) -> None:
    page = open_page("about:blank")
    with faults(page, served) as found:
        response = page.goto(served + depth, wait_until="networkidle")
    assert response is not None
    assert response.status == 404
    assert all("404 " in fault or "console: Failed to load" in fault for fault in found)
    assert len([fault for fault in found if fault.startswith("404")]) == 1  # the page itself
    assert page.get_by_role("heading", level=1).inner_text() == "Nothing at this address"
    styled = "getComputedStyle(document.documentElement).backgroundColor"
    assert page.evaluate(styled) == "rgb(241, 235, 222)"
    family = "getComputedStyle(document.querySelector('h1')).fontFamily"
    assert page.evaluate(family) == "serif"


def downloads(site: Path, of: str) -> dict[Path, str]:
    """The files a page offers to print and keep, with what it says about their length."""
    page = site / of
    tree = html5lib.parse(page.read_text(), namespaceHTMLElements=False)
    rows = tree.findall(".//ul[@class='leaders']/li")
    return {
        (page.parent / row.find("a").get("href")).resolve(): row.find("span").text for row in rows
    }


@pytest.mark.parametrize("of", [RECIPE, SIZE])
def test_every_download_is_there_and_as_long_as_the_page_says(of: str, demo_site: Path) -> None:
    files = downloads(demo_site, of)
    assert {file.suffix for file in files} == {".pdf", ".svg", ".json"}
    assert len(files) == 7
    for file, length in files.items():
        data = file.read_bytes()
        if file.suffix == ".pdf":
            assert data.startswith(b"%PDF-")
            assert length in (f"{len(pypdfium2.PdfDocument(data))} pages", "1 page")
        elif file.suffix == ".json":
            assert json.loads(data)["format"] == 1


def test_every_size_has_every_download(demo_site: Path) -> None:
    names = {
        page.parent.name: sorted(file.name for file in page.parent.iterdir())
        for page in (demo_site / SIZE).parents[1].glob("*/index.html")
    }
    assert len(names) == 2
    assert len({tuple(files) for files in names.values()}) == 1
    assert len(next(iter(names.values()))) == 8


def test_the_pattern_opens_alone_at_its_true_size(demo_site: Path, open_page: Open) -> None:
    file = demo_site / SIZE.replace("index.html", "pattern.svg")
    page = open_page("about:blank")
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.goto(file.as_uri())
    assert asked == [file.as_uri()]
    root = ElementTree.parse(file).getroot()
    width, height = (float(root.attrib[side].removesuffix("mm")) for side in ("width", "height"))
    box = page.evaluate(
        "(({width, height}) => [width, height])(document.documentElement.getBoundingClientRect())"
    )
    assert box == pytest.approx([width / 25.4 * 96, height / 25.4 * 96], abs=0.1)
    assert page.evaluate("document.querySelectorAll('[data-piece]').length") == 4


def test_the_pattern_refers_to_nothing_outside_itself(demo_site: Path) -> None:
    for file in demo_site.rglob("pattern.svg"):
        for element in ElementTree.parse(file).iter():
            assert element.tag.partition("}")[2] not in {
                "script",
                "style",
                "image",
                "foreignObject",
            }
            for name, value in element.attrib.items():
                assert "href" not in name or value.startswith("#")
                assert "url(" not in value or value.startswith("url(#")
