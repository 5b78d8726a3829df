"""Documents as PDF. The only module that imports WeasyPrint, which takes half a second."""

from __future__ import annotations

import os
import warnings
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path
from typing import Any, Literal, NamedTuple

from notchbook.gathering.source import Typefaces
from notchbook.problems import ContentError, Place, Problem


@contextmanager
def _no_system_fonts() -> Iterator[None]:
    """While fontconfig is set up: with its own settings, it sees no face of the system, so none
    can ever be embedded. Afterwards the environment is as it was, for programs begun from here."""
    before = os.environ.get("FONTCONFIG_FILE")
    os.environ["FONTCONFIG_FILE"] = str(Path(__file__).with_name("fonts.conf"))
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # that there are no system fonts
            yield
    finally:
        if before is None:
            del os.environ["FONTCONFIG_FILE"]
        else:
            os.environ["FONTCONFIG_FILE"] = before


with _no_system_fonts():
    import pydyf

    try:
        import weasyprint
    except OSError:
        _what = "The library Pango, which sets the type of printed pages, can't be loaded."
        _remedy = "Install it: libpango-1.0-0 and libpangoft2-1.0-0 on Debian, elsewhere “pango”."
        raise ContentError([Problem(Place("Pango", 1, 1), _what, _remedy)]) from None
    from weasyprint.text.fonts import FontConfiguration
    from weasyprint.urls import FatalURLFetchingError, URLFetcher, URLFetcherResponse

Kind = Literal["sheets", "booklet"]
"""Sheets ask viewers for true scale; booklets are tagged for reading aloud."""


class Printed(NamedTuple):
    """A PDF and how many pages it has."""

    data: bytes
    pages: int


class Printer:
    """Prints HTML with one set of faces. Keeps what Pango has loaded from page to page."""

    def __init__(self, typefaces: Typefaces) -> None:
        faces = (*typefaces.text, *typefaces.label, *typefaces.others)
        self._fonts = {f"font:{face.file}": face.data for face in faces}
        with _no_system_fonts():
            self._loaded = FontConfiguration()

    def pdf(self, html: str, kind: Kind, pictures: Mapping[str, bytes] | None = None) -> Printed:
        """The document as PDF, the same bytes for the same arguments.

        It may fetch ``font:FILE`` and ``picture:PATH`` of ``pictures``, and nothing else: a
        document that asks for more is a fault of this program.
        """
        held = self._fonts | {f"picture:{path}": data for path, data in (pictures or {}).items()}
        document = weasyprint.HTML(string=html, url_fetcher=_Shelf(held), base_url="page:")
        options = {"pdf_variant": "pdf/ua-1"} if kind == "booklet" else {}
        rendered = document.render(font_config=self._loaded, **options)
        finisher = _ask_for_true_scale if kind == "sheets" else None
        data: bytes = rendered.write_pdf(finisher=finisher, **options)
        return Printed(data, len(rendered.pages))


class _Shelf(URLFetcher):  # type: ignore[misc]
    """Serves what it holds."""

    def __init__(self, held: Mapping[str, bytes]) -> None:
        super().__init__(allowed_protocols=())
        self._held = held

    def fetch(self, url: str, headers: object = None) -> URLFetcherResponse:
        if url not in self._held:
            raise FatalURLFetchingError(f"a printed page asks for {url}")
        return URLFetcherResponse(url, self._held[url])


def _ask_for_true_scale(document: Any, pdf: Any) -> None:
    pdf.catalog["ViewerPreferences"] = pydyf.Dictionary({"PrintScaling": "/None"})
