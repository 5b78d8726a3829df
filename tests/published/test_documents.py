"""PDFs as other tools see them: qpdf finds nothing wrong, and no face is embedded but ours."""

from __future__ import annotations

import subprocess
from pathlib import Path as File

import pikepdf

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
