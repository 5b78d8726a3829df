"""PDFs as other tools see them: qpdf finds nothing wrong, no face is embedded but ours, and
booklets can be read aloud.

No validator of PDF/UA runs here. What stands in for it are the rules of ISO 14289-1 that a file
shows by itself, in ``unheard``: the claim and the title in the metadata, the language, the tags
that are said to be there, bookmarks, headings that leave out no level, an alternative text for
every figure, headers with a scope in every table, contents for every link, the order of tabs,
fonts that give their characters, and nothing drawn that is neither tagged nor an artifact. What it
can't see is whether the words of an alternative text are good, and colour.
"""

from __future__ import annotations

import subprocess
from collections.abc import Callable, Iterator
from pathlib import Path as File
from typing import Any

import pikepdf
import pytest

OURS = ("Spectral", "IBM-Plex-Sans-Condensed", "Noto-Sans")


def qpdf_finds_nothing_wrong(path: File) -> bool:
    """``qpdf --check``: the file's structure and every stream in it."""
    found = subprocess.run(["qpdf", "--check", path], capture_output=True, text=True, check=False)
    return found.returncode == 0 and "No syntax or stream encoding errors" in found.stdout


def strangers(path: File) -> list[str]:
    """Faces that are not ours, or not in the file."""
    with pikepdf.open(path) as pdf:
        fonts = [
            thing
            for thing in pdf.objects
            if isinstance(thing, pikepdf.Dictionary) and thing.get("/Type") == "/Font"
        ]
        assert fonts
        found = []
        for font in fonts:
            name = str(font.BaseFont)
            inner = font.get("/DescendantFonts", [font])[0]
            descriptor = inner.get("/FontDescriptor", {})
            embedded = any(key in descriptor for key in ("/FontFile", "/FontFile2", "/FontFile3"))
            # Six letters and a plus sign say that it is a subset (ISO 32000-1, 9.6.4).
            if not (embedded and name.partition("+")[2].startswith(OURS)):
                found.append(name)
    return found


def test_qpdf_finds_nothing_wrong(document: File) -> None:
    assert qpdf_finds_nothing_wrong(document)


def test_a_damaged_document_is_noticed(pressed: File, tmp_path: File) -> None:
    whole = (pressed / "sheets-a4.pdf").read_bytes()
    (tmp_path / "damaged.pdf").write_bytes(whole[: len(whole) * 99 // 100])
    assert not qpdf_finds_nothing_wrong(tmp_path / "damaged.pdf")


def test_only_our_faces_are_embedded(document: File) -> None:
    assert strangers(document) == []


def test_a_strangers_face_is_noticed(pressed: File, tmp_path: File) -> None:
    with pikepdf.open(pressed / "booklet-a5.pdf") as pdf:
        helvetica = pikepdf.Dictionary(
            Type=pikepdf.Name.Font, Subtype=pikepdf.Name.Type1, BaseFont=pikepdf.Name.Helvetica
        )
        pdf.pages[0].Resources.Font["/F99"] = pdf.make_indirect(helvetica)
        pdf.save(tmp_path / "strange.pdf")
    assert strangers(tmp_path / "strange.pdf") == ["/Helvetica"]


PAINTS = {"Tj", "TJ", "'", '"', "S", "s", "f", "F", "f*", "B", "B*", "b", "b*", "Do", "sh"}
"""Operators that leave ink (ISO 32000-1, annex A)."""


def elements(element: Any, above: tuple[str, ...] = ()) -> Iterator[tuple[Any, tuple[str, ...]]]:
    """Everything in the structure tree, in reading order, with what it stands in."""
    within = above
    if "/S" in element:
        yield element, above
        within = (*above, str(element.S))
    inner = element.get("/K", [])
    for kid in inner if isinstance(inner, pikepdf.Array) else [inner]:
        if isinstance(kid, pikepdf.Dictionary):
            yield from elements(kid, within)


def bare(page: Any) -> int:
    """How often a page leaves ink that belongs to no tag and is no artifact either."""
    depth = found = 0
    for operands in pikepdf.parse_content_stream(page):
        name = str(operands.operator)
        depth += (name in ("BDC", "BMC")) - (name == "EMC")
        found += name in PAINTS and not depth
    return found


def unheard(pdf: pikepdf.Pdf) -> list[str]:
    """What keeps a booklet from being read aloud."""
    root: Any = pdf.Root
    found: list[str] = []
    with pdf.open_metadata() as metadata:
        if metadata.get("pdfuaid:part") != "1" or not metadata.get("dc:title"):
            found.append("metadata")
    if not root.get("/Lang"):
        found.append("language")
    if not ("/MarkInfo" in root and root.MarkInfo.get("/Marked")):
        found.append("marks")
    if not root.ViewerPreferences.get("/DisplayDocTitle"):
        found.append("title bar")
    if "/Outlines" not in root:
        found.append("bookmarks")
    tree = list(elements(root.StructTreeRoot))
    levels = [int(str(each.S)[2:]) for each, _ in tree if str(each.S)[2:].isdigit()]
    if any(after > before + 1 for before, after in zip([0, *levels], levels, strict=False)):
        found.append("headings")
    for each, _ in tree:
        kind = str(each.S)
        if kind == "/Figure" and not str(each.get("/Alt", "")).strip():
            found.append("figure")
        if kind == "/Table" and not any(str(cell.S) == "/TH" for cell, _ in elements(each)):
            found.append("table")
        if kind == "/TH" and each.A.get("/Scope") not in ("/Column", "/Row"):
            found.append("header")
    for page in pdf.pages:
        if page.get("/Tabs") != "/S" or "/StructParents" not in page:
            found.append("order")
        if any("/Contents" not in note for note in page.get("/Annots", [])):
            found.append("link")
        if any("/ToUnicode" not in font for font in page.Resources.get("/Font", {}).values()):
            found.append("characters")
        if bare(page):
            found.append("ink")
    return found


@pytest.mark.parametrize("name", ["booklet-a5.pdf", "booklet-half-letter.pdf"])
def test_a_booklet_can_be_read_aloud(pressed: File, name: str) -> None:
    with pikepdf.open(pressed / name) as pdf:
        assert unheard(pdf) == []
        kinds = [str(element.S) for element, _ in elements(pdf.Root.StructTreeRoot)]
        assert {"/Figure", "/Table", "/TH", "/H1", "/H2", "/L", "/Link"} <= set(kinds)


def first(pdf: pikepdf.Pdf, kind: str) -> Any:
    return next(each for each, _ in elements(pdf.Root.StructTreeRoot) if str(each.S) == kind)


SPOILT: dict[str, Callable[[pikepdf.Pdf], None]] = {
    "language": lambda pdf: pdf.Root.__delitem__("/Lang"),
    "title bar": lambda pdf: pdf.Root.ViewerPreferences.__delitem__("/DisplayDocTitle"),
    "figure": lambda pdf: first(pdf, "/Figure").__delitem__("/Alt"),
    "header": lambda pdf: first(pdf, "/TH").A.__delitem__("/Scope"),
    "headings": lambda pdf: first(pdf, "/H2").__setitem__("/S", pikepdf.Name("/H4")),
    "order": lambda pdf: pdf.pages[1].__delitem__("/Tabs"),
    "ink": lambda pdf: pdf.pages[1].contents_add(b"0 0 9 9 re f"),
}


@pytest.mark.parametrize("fault", SPOILT)
def test_what_would_not_be_heard_is_noticed(pressed: File, fault: str) -> None:
    with pikepdf.open(pressed / "booklet-a5.pdf") as pdf:
        SPOILT[fault](pdf)
        assert unheard(pdf) == [fault]


def test_running_heads_and_feet_are_artifacts(pressed: File) -> None:
    with pikepdf.open(pressed / "booklet-a5.pdf") as pdf:
        marks = [
            str(operation.operands[0])
            for operation in pikepdf.parse_content_stream(pdf.pages[2])
            if str(operation.operator) in ("BDC", "BMC")
        ]
        assert "/Artifact" in marks
        tagged = {str(each.S) for each, _ in elements(pdf.Root.StructTreeRoot)}
        assert "/Artifact" not in tagged
