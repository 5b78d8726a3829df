"""Documents as PDF. WeasyPrint, which takes half a second, is imported here and in ``fitting``, for
this module alone."""

from __future__ import annotations

import os
import re
import warnings
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from copy import copy
from io import BytesIO
from pathlib import Path
from typing import Any, NamedTuple
from xml.etree import ElementTree

from notchbook.gathering.source import Typefaces
from notchbook.pressing.imposition import Extent, trimmed
from notchbook.problems import Place, fault


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
        import weasyprint.svg
    except OSError:
        _what = "The library Pango, which sets the type of printed pages, can't be loaded."
        _remedy = "Install it: libpango-1.0-0 and libpangoft2-1.0-0 on Debian, elsewhere “pango”."
        raise fault(Place("Pango"), _what, _remedy) from None
    from weasyprint.html import HTML_HANDLERS, make_replaced_box
    from weasyprint.images import SVGImage
    from weasyprint.text.fonts import FontConfiguration
    from weasyprint.urls import FatalURLFetchingError, URLFetcher, URLFetcherResponse

    from notchbook.pressing.fitting import laid_to_fit


_SVG = "http://www.w3.org/2000/svg"


class Printed(NamedTuple):
    """A PDF and how many pages it has."""

    data: bytes
    pages: int


class Printer:
    """Prints HTML with one set of faces. Keeps what Pango has loaded from page to page.

    A document may fetch ``font:FILE`` and ``picture:PATH`` of its ``pictures``, and nothing else:
    one that asks for more is a fault of this program. The same arguments give the same bytes.
    """

    def __init__(self, typefaces: Typefaces) -> None:
        self._fonts = {f"font:{face.file}": face.data for face in typefaces.faces}
        with _no_system_fonts():
            self._loaded = FontConfiguration()

    def sheets(self, html: str) -> Printed:
        """A document that asks viewers for true scale."""
        return self._print(html, {}, _ask_for_true_scale)

    def booklet(
        self,
        html: str,
        pages: Sequence[Extent],
        pictures: Mapping[str, bytes] | None = None,
        *,
        loose: bool = False,
    ) -> tuple[Printed, ...]:
        """A document tagged for reading aloud that asks viewers for true scale, once with every
        size of page asked for.

        It is set once, at the size its style sheet names. The others are those pages cut or
        lengthened as much on either side, which takes a thirtieth of the time. Of its spare
        pages, whose ids begin with ``spare-``, those are kept that fill the last sheet.

        With ``loose``, the last of them comes once more before all, for a program to take pages
        from: its objects can be read one at a time, and are not packed into one stream.
        """
        made: list[bytes] = []
        *others, last = pages
        trim = _trimmer(others, last, loose, made)
        held = {f"picture:{path}": data for path, data in (pictures or {}).items()}
        data, count = self._print(html, held, trim, pdf_variant="pdf/ua-1")
        return tuple(Printed(each, count) for each in (*made, data))

    def _print(
        self, html: str, pictures: Mapping[str, bytes], finish: Finisher, **options: str
    ) -> Printed:
        html, drawings = _held_back(html)
        shelf = _Shelf({**self._fonts, **pictures}, drawings)
        document = weasyprint.HTML(string=html, url_fetcher=shelf, base_url="page:")
        whole = document.render(font_config=self._loaded, **options)
        rendered = whole.copy(_filled(whole.pages))
        data: bytes = rendered.write_pdf(finisher=finish, **options)
        return Printed(data, len(rendered.pages))


def _filled(pages: Sequence[Any]) -> list[Any]:
    """A booklet's pages without the spare ones that its sheets of four pages do not need."""
    spare = [any(id.startswith("spare-") for id in page.anchors) for page in pages]
    left = sum(spare) and (sum(spare) - len(pages)) % 4
    return [
        page for number, page in enumerate(pages) if not spare[number] or sum(spare[:number]) < left
    ]


Finisher = Callable[[Any, Any], None]
"""Called by WeasyPrint with the document and its PDF, before that is written."""


def _ask_for_true_scale(document: Any, pdf: Any) -> None:
    preferences = pdf.catalog.setdefault("ViewerPreferences", pydyf.Dictionary())
    preferences["PrintScaling"] = "/None"


def _trimmer(others: Sequence[Extent], last: Extent, loose: bool, made: list[bytes]) -> Finisher:
    """Writes a PDF with each of the ``others`` as its size of page, into ``made``, and leaves it
    with the ``last``; with ``loose``, that goes before them, its objects not packed."""

    def finish(document: Any, pdf: Any) -> None:
        _ask_for_true_scale(document, pdf)
        _say_what_heads_what(pdf)
        things = [thing for thing in pdf.objects if isinstance(thing, pydyf.Dictionary)]
        pages = [thing for thing in things if thing.get("Type") == "/Page"]
        kept = {page.number for page in pages}
        pdf.objects = [
            thing if thing.number in kept or thing.free == "f" else _Settled(thing)
            for thing in pdf.objects
        ]
        for extent in others:
            _trim(pages, extent)
            made.append(_written(pdf, packed=True))
        _trim(pages, last)
        if loose:
            made.insert(0, _written(pdf, packed=False))

    return finish


def _written(pdf: Any, packed: bool) -> bytes:
    writable = copy(pdf)  # writing adds objects
    writable.objects = list(pdf.objects)
    written = BytesIO()
    writable.write(written, compress=packed)
    return written.getvalue()


class _Settled(pydyf.Object):  # type: ignore[misc]
    """A part of a PDF that stays as it is, put into bytes once, however often it is written."""

    data = b""
    compressible = False

    def __init__(self, thing: Any) -> None:
        super().__init__()
        self.number, self.generation = thing.number, thing.generation
        self.data, self.compressible = thing.data, thing.compressible


def _say_what_heads_what(pdf: Any) -> None:
    """Give every header of a table its scope (ISO 32000-1, table 349), which WeasyPrint leaves
    out. A table shown as a list has no headers left, and is no table to listeners either."""
    elements = {
        thing.reference: thing
        for thing in pdf.objects
        if isinstance(thing, pydyf.Dictionary) and thing.get("Type") == "/StructElem"
    }

    def above(element: Any) -> Iterator[Any]:
        while (element := elements.get(element["P"])) is not None:
            yield element

    cells = [each for each in elements.values() if each["S"] in ("/TH", "/TD")]
    tables: dict[int, list[Any]] = {}
    for cell in cells:
        line = [cell]
        for each in above(cell):
            line.append(each)
            if each["S"] == "/Table":
                break
        tables.setdefault(line[-1].number, []).append(line)
        if cell["S"] == "/TH":
            heads = any(each["S"] == "/THead" for each in line)
            cell["A"]["Scope"] = "/Column" if heads else "/Row"
    for lines in tables.values():
        if all(line[0]["S"] == "/TD" for line in lines):
            for line in lines:
                for each in line:
                    each["S"] = "/Div"
                    each.pop("A", None)


def _trim(pages: Sequence[Any], extent: Extent) -> None:
    for page in pages:
        box = pydyf.Array(round(edge, 4) for edge in trimmed(page["MediaBox"], extent))
        page["MediaBox"] = page["TrimBox"] = page["BleedBox"] = box


class _Run(str):
    """Text that gives itself whole where its letters are asked for."""

    __slots__ = ()

    def __iter__(self) -> Iterator[str]:
        yield str(self)


def _held_back(html: str) -> tuple[str, Mapping[str, str]]:
    """A page whose inline drawings are left empty but for their titles, and the whole of each by
    the number it then bears. WeasyPrint's reader of HTML, and its styles, would look at every line
    of a drawing, which takes longer than drawing them, and finds nothing: drawings are styled by
    their own attributes alone."""
    drawings: dict[str, str] = {}

    def emptied(found: re.Match[str]) -> str:
        number = str(len(drawings))
        drawings[number] = found[0].replace("<svg", f'<svg xmlns="{_SVG}"', 1)
        named = "".join(re.findall("<(?:title|desc).*?</(?:title|desc)>", found[2], re.DOTALL))
        return f'<svg data-drawing="{number}"{found[1]}>{named}</svg>'

    return re.sub("<svg([^>]*)>(.*?)</svg>", emptied, html, flags=re.DOTALL), drawings


def _drawing(element: Any, box: Any, get_image: Any, base_url: str) -> list[Any]:
    """The box of an inline drawing that was held back."""
    given = get_image.keywords
    drawing = ElementTree.fromstring(given["url_fetcher"].drawings[element.get("data-drawing")])
    image = SVGImage(drawing, base_url, given["url_fetcher"], given["context"])
    return [make_replaced_box(element, box, image)]


_letter_by_letter = weasyprint.svg.TAGS["text"]


def _in_one_run(svg: Any, node: Any, font_size: float) -> None:
    """Text of an SVG in one run, kerned. WeasyPrint sets it letter by letter, since every letter
    may have a place of its own; none of ours has, and sheets take half as long again."""
    node._etree_node.text = _Run(node.text)
    _letter_by_letter(svg, node, font_size)


weasyprint.svg.text = weasyprint.svg.TAGS["text"] = _in_one_run
HTML_HANDLERS[f"{{{_SVG}}}svg"] = _drawing
weasyprint.layout.block.block_box_layout = laid_to_fit


class _Shelf(URLFetcher):  # type: ignore[misc]
    """Serves what it holds, and has the document's drawings by their numbers."""

    def __init__(self, held: Mapping[str, bytes], drawings: Mapping[str, str]) -> None:
        super().__init__(allowed_protocols=())
        self._held = held
        self.drawings = drawings

    def fetch(self, url: str, headers: object = None) -> URLFetcherResponse:
        if url not in self._held:
            raise FatalURLFetchingError(f"a printed page asks for {url}")
        return URLFetcherResponse(url, self._held[url])
