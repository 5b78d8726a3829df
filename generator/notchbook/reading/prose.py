"""Prose: Markdown as the author wrote it, with formulas and pictures lifted out.

What Markdown would turn into something a recipe must not hold (raw HTML, pictures from elsewhere,
addresses of other kinds) is refused here, outside of code.
"""

from __future__ import annotations

import html
import re
from collections.abc import Mapping
from dataclasses import dataclass

from notchbook.problems import ContentError, Findings, Place, suggestion
from notchbook.reading.formula import parse
from notchbook.reading.recipe import Inline, Picture, Prose

LARGEST_PICTURE = 20_000_000
"""Bytes."""

# In this order: what is literal, what is lifted out, what is looked at.
_MARKS = re.compile(
    r"""
      (?P<fence> ^[ \t]*(?P<ticks>`{3,}|~{3,}) [^\n]*\n
        (?:[^\n]*\n)*? [ \t]*(?P=ticks)[`~]*[ \t]*$ )
    | (?P<escape> \\[^\n] )
    | (?P<code> (?P<quote>`+)(?!`) [^\n]*? (?<!`)(?P=quote)(?!`) )
    | (?P<formula> \{\{ (?P<inner>(?:(?!\{\{|\n[ \t]*\n).)*?) \}\} )
    | (?P<open> \{\{ )
    | (?P<picture> !\[ (?P<alt>[^\[\]]*) \]
        \( [ ]* (?:<(?P<angled>[^<>\n]*)>|(?P<path>[^\s()<>]*)) [ ]* \) )
    | (?P<odd_picture> !\[ )
    | (?P<link> \]\( \s* (?:<(?P<angled_to>[^<>\n]*)>|(?P<to>[^\s)]*)) )
    | (?P<named> ^[ ]{0,3}\[[^\[\]\n]*\]:\s* <?(?P<named_to>[^\s>]*) )
    | <(?P<auto> [A-Za-z][A-Za-z0-9+.-]*:[^\s<>]* | [^\s<>@]+@[^\s<>]+ )>
    | (?P<tag> <(?:/?(?P<element>[A-Za-z][A-Za-z0-9]*)|[/!?]) )
    """,
    re.MULTILINE | re.DOTALL | re.VERBOSE,
)
_WEB = ("http://", "https://")
_SIGNS = (b"\x89PNG\r\n\x1a\n", b"\xff\xd8\xff")
_SUFFIXES = ("png", "jpg", "jpeg", "webp")


@dataclass(frozen=True, slots=True)
class Run:
    """Consecutive lines of prose. ``place`` is where the first begins, ``indent`` what stands in
    front of the others because they belong to a step."""

    text: str
    place: Place
    indent: str


def read(run: Run, files: Mapping[str, bytes], findings: Findings) -> Prose | None:
    """The prose of a run; None where it is blank. ``files`` are those beside the recipe."""
    parts: list[str | Inline | Picture] = []
    done = 0
    opened: set[str] = set()
    for mark in _MARKS.finditer(run.text):
        place = _place(run, mark.start())
        lifted: Inline | Picture | None = None
        match _kind(mark):
            case "formula":
                lifted = _inline(mark, run, findings)
            case "open":
                findings.add(place, "“{{” is never closed.", "Write “}}” after the formula.")
            case "picture":
                lifted = _picture(mark, place, files, findings)
            case "odd_picture":
                what = "This picture is not written as pictures are."
                findings.add(place, what, "Write ![what it shows](file.jpg), with no title.")
            case "link" | "named" | "auto":
                _check_address(_address(mark), place, findings)
            case "tag":
                _refuse_tag(mark, place, opened, findings)
            case _:
                pass
        if lifted is not None:
            parts += (_plain(run, done, mark.start()), lifted)
            done = mark.end()
    parts.append(_plain(run, done, len(run.text)))
    if isinstance(parts[-1], str):
        parts[-1] = parts[-1].rstrip()
    if isinstance(parts[0], str):
        parts[0] = parts[0].lstrip("\n")
    kept = tuple(part for part in parts if part != "")
    blank = all(isinstance(part, str) and not part.strip() for part in kept)
    return None if blank else Prose(kept, _place(run, len(run.text) - len(run.text.lstrip())))


def check_page(run: Run, findings: Findings) -> None:
    """Find what is wrong with a text page, which is Markdown with neither formulas nor pictures."""
    opened: set[str] = set()
    for mark in _MARKS.finditer(run.text):
        place = _place(run, mark.start())
        match _kind(mark):
            case "formula" | "open":
                what = "A text page has no measures, so “{{” can't be worked out here."
                findings.add(place, what, "Write the value itself, or put the words in a recipe.")
            case "picture" | "odd_picture":
                what = "A text page can't show pictures."
                findings.add(place, what, "Take the picture out, or put it in a recipe.")
            case "fence":
                what = "A text page has no fenced blocks."
                findings.add(place, what, "Write plain paragraphs, or `words between backticks`.")
            case "link" | "named":
                _check_address(_address(mark), place, findings, (*_WEB, "mailto:"))
            case "auto":
                to = mark["auto"] if ":" in mark["auto"] else f"mailto:{mark['auto']}"
                _check_address(to, place, findings, (*_WEB, "mailto:"))
            case "tag":
                _refuse_tag(mark, place, opened, findings)
            case _:
                pass


def _refuse_tag(mark: re.Match[str], place: Place, opened: set[str], findings: Findings) -> None:
    """Report raw HTML. ``opened`` holds the closing tags of what was reported before."""
    if mark["tag"] in opened:
        return
    opened.add(f"</{mark['element']}")
    what = f"Raw HTML is not passed on: “{mark['tag']}”."
    findings.add(place, what, "Use Markdown; write &lt; for a “<” that is meant as such.")


def _kind(mark: re.Match[str]) -> str:
    kinds = ("fence", "escape", "code", "formula", "open", "picture", "odd_picture")
    for kind in (*kinds, "link", "named", "auto", "tag"):
        if mark[kind] is not None:
            return kind
    raise AssertionError(mark[0])


def _plain(run: Run, start: int, end: int) -> str:
    text = run.text[start:end]
    if not run.indent:
        return text
    if start == 0:
        text = text.removeprefix(run.indent)
    return text.replace(f"\n{run.indent}", "\n")


def _place(run: Run, at: int) -> Place:
    before = run.text[:at]
    lines = before.count("\n")
    if not lines:
        return Place(run.place.file, run.place.line, run.place.column + at)
    return Place(run.place.file, run.place.line + lines, at - before.rfind("\n"))


def _inline(mark: re.Match[str], run: Run, findings: Findings) -> Inline | None:
    inner = mark["inner"]
    start = mark.start("inner") + len(inner) - len(inner.lstrip())
    try:
        return Inline(parse(inner.strip(), _place(run, start)))
    except ContentError as error:
        findings.take(error)
        return None


def _picture(
    mark: re.Match[str], place: Place, files: Mapping[str, bytes], findings: Findings
) -> Picture:
    path = mark["path"] if mark["angled"] is None else mark["angled"]
    alt = " ".join(mark["alt"].split())
    if not alt:
        what = f"The picture “{path}” has no words for those who can't see it."
        findings.add(place, what, "Write what it shows between the brackets: ![…].")
    picture = Picture(path.removeprefix("./"), alt, place)
    fault = _fault(picture.path, files)
    if fault:
        findings.add(place, *fault)
    return picture


def _fault(path: str, files: Mapping[str, bytes]) -> tuple[str, str] | None:
    """What is wrong with a picture and what to do, if anything is."""
    beside = f"Put the file beside the recipe and write its name: ![…]({path.split('/')[-1]})."
    if not path:
        return "This picture names no file.", "Write it in the parentheses: ![…](file.jpg)."
    if re.match(r"[A-Za-z][A-Za-z0-9+.-]*:|//", path):
        return f"The picture “{path}” is from elsewhere.", beside
    if path.startswith("/") or ".." in path.split("/") or "\\" in path:
        return f"The picture “{path}” is outside the recipe's folder.", beside
    if path not in files:
        pictures = [name for name in files if name.lower().endswith(_SUFFIXES)]
        remedy = suggestion(path, pictures) if pictures else "Put the file beside recipe.md."
        return f"There is no picture “{path}” beside the recipe.", remedy
    data = files[path]
    is_webp = data[:4] == b"RIFF" and data[8:12] == b"WEBP"
    if not path.lower().endswith(_SUFFIXES) or not (data.startswith(_SIGNS) or is_webp):
        return f"“{path}” is not a PNG, JPEG or WebP picture.", "Save it as one of these."
    if len(data) > LARGEST_PICTURE:
        size = f"{len(data) / 1e6:.0f} MB"
        return f"The picture “{path}” is enormous: {size}.", "Save it smaller, below 20 MB."
    return None


def _address(mark: re.Match[str]) -> str:
    for group in ("angled_to", "to", "named_to", "auto"):
        if mark[group] is not None:
            return mark[group]
    raise AssertionError(mark[0])


def _check_address(
    address: str, place: Place, findings: Findings, allowed: tuple[str, ...] = _WEB
) -> None:
    # As a browser will see it: entities resolved, and nothing invisible inside a scheme.
    seen = re.sub(r"[\x00-\x20\\]", "", html.unescape(address)).lower()
    scheme = re.match(r"[^/?#]*:", seen)
    if "@" in seen.split("/")[0] and not scheme:
        what = f"A link to “{address}” is a mail address."
        findings.add(place, what, "Write it as plain words, without < and >.")
    elif scheme and not seen.startswith(allowed):
        here = "a recipe" if allowed == _WEB else "a text page"
        what = f"A link to “{address}” is not followed from {here}."
        findings.add(place, what, "Link to https://…, to a page beside this one, or to #a-part.")
