"""The lines of a body, sorted by the few marks that mean something here.

These are ``##``, ``1.`` at the start of a line, fences with a word, and indentation, which keeps
lines inside their step. Everything else is Markdown and stays as it was written.
"""

from __future__ import annotations

import re
from collections.abc import Generator, Iterator, Sequence
from dataclasses import dataclass, field

from notchbook.problems import Findings, Place
from notchbook.reading import prose

_HEADING = re.compile(r"( {0,3})(#{1,2})(?:[ \t]+(.*?))?(?:[ \t]+#+)?[ \t]*")
_ITEM = re.compile(r"([0-9]{1,9}\.)(?:([ \t]+)(.*))?")
_PAREN = re.compile(r"([0-9]{1,9})\)[ \t]")
_FENCE = re.compile(r"([ \t]*)(`{3,}|~{3,})[ \t]*([^`]*?)[ \t]*")
_UNDERLINE = re.compile(r" {0,3}(=+|-+)[ \t]*")
_WHEN = re.compile(r"when\b")
_BULLET = re.compile(r"[-*+>|][ \t]|#{3,}[ \t]")


@dataclass(frozen=True, slots=True)
class Heading:
    """The start of a stage."""

    title: str
    place: Place


@dataclass(frozen=True, slots=True)
class Item:
    """The start of a step; its words follow as a run."""

    place: Place


@dataclass(frozen=True, slots=True)
class Block:
    """A fenced block with a word. ``first`` is where its text begins."""

    word: str
    text: str
    place: Place
    first: Place
    in_step: bool


@dataclass(frozen=True, slots=True)
class Words:
    """Prose. ``when`` is what a block round it asks for, as written, with its place; ``joined``:
    no blank line parts it from the prose above."""

    run: prose.Run
    in_step: bool
    when: tuple[str, Place] | None = None
    joined: bool = False


Found = Heading | Item | Block | Words


def sort(lines: Sequence[str], first: int, file: str, findings: Findings) -> Iterator[Found]:
    """The lines sorted: headings, beginnings of steps, blocks, and runs of prose. ``first`` is the
    number of the first line in its file."""
    sorter = _Sorter(lines, first, findings, Place(file, first, 1))
    number = 0
    while number < len(lines):
        number += yield from sorter.line(number)
    yield from sorter.flush()


@dataclass(slots=True)
class _Sorter:
    lines: Sequence[str]
    first: int
    findings: Findings
    start: Place
    """Where the prose that is not finished began, and its lines."""
    gathered: list[str] = field(default_factory=list)
    in_stage: bool = False
    in_step: bool = False
    after_words: bool = False
    """The line above is prose that this line may go on with."""
    after_when: bool = False
    """The line above ends a block of prose."""
    joined: bool = False
    """The prose at hand began right below such a block."""

    def flush(self) -> Iterator[Words]:
        if any(line.strip() for line in self.gathered):
            yield Words(_run(self.gathered, self.start), self.in_step, None, self.joined)
        self.gathered.clear()

    def leave(self) -> Iterator[Words]:
        """Ends the prose at hand, and the step if there is one."""
        yield from self.flush()
        self.in_step = self.after_words = False

    def gather(self, lines: Sequence[str], place: Place) -> None:
        if not self.gathered:
            self.start, self.joined = place, self.after_when and bool(lines[0].strip())
        self.gathered += lines

    def line(self, number: int) -> Generator[Found, None, int]:
        """Sorts what begins on a line, and says how many lines that was."""
        line = self.lines[number]
        indent = len(line) - len(line.lstrip())
        place = Place(self.start.file, self.first + number, indent + 1)
        inside = self.in_step and indent >= 2
        fence = _FENCE.fullmatch(line)
        heading = _HEADING.fullmatch(line.strip() if inside else line)
        item = _ITEM.fullmatch(line) if self.in_stage else None
        if fence and (inside or indent < 4):
            return (yield from self.fence(number, fence, place, inside))
        yield from self.plain(line, heading, item, place, inside)
        self.after_when = False
        return 1

    def plain(
        self,
        line: str,
        heading: re.Match[str] | None,
        item: re.Match[str] | None,
        place: Place,
        inside: bool,
    ) -> Iterator[Found]:
        """A line that begins no block."""
        if heading and not inside:
            yield from self.leave()
            yield self.heading(heading, place)
        elif item:
            yield from self.flush()
            yield Item(place)
            number_and_space = len(item[1]) + len(item[2] or "")
            self.gather([item[3] or ""], Place(place.file, place.line, number_and_space + 1))
            self.in_step, self.after_words = True, bool(item[3])
        else:
            self.check(line, heading is not None, place)
            if self.in_step and line.strip() and not inside and not self.goes_on(line):
                yield from self.leave()
            self.gather([line], Place(place.file, place.line, 1))
            self.after_words = bool(line.strip())

    def fence(
        self, number: int, fence: re.Match[str], place: Place, inside: bool
    ) -> Generator[Found, None, int]:
        """A fenced block: what has a word is one of ours, anything else is prose."""
        end = _closing(self.lines, number, fence[2])
        if end is None:
            what = "This fenced block is never closed."
            self.findings.add(place, what, f"End it with a line of {fence[2]}.")
            end = len(self.lines) - 1
        joined = self.after_words or self.after_when
        if not inside:
            yield from self.leave()
        self.after_when = False
        if _WHEN.match(fence[3]):
            yield from self.flush()
            yield from self.words_when(number, end, fence, place, joined)
            self.after_when = True
        elif fence[3]:
            yield from self.flush()
            inner = "\n".join(self.lines[number + 1 : end])
            yield Block(fence[3], inner, place, Place(place.file, place.line + 1, 1), inside)
        else:
            self.gather(self.lines[number : end + 1], Place(place.file, place.line, 1))
        self.after_words = False
        return end + 1 - number

    def words_when(
        self, number: int, end: int, fence: re.Match[str], place: Place, joined: bool
    ) -> Iterator[Words]:
        """A block of prose that is there only when something is chosen."""
        inner = self.lines[number + 1 : end]
        for k, line in enumerate(inner, start=place.line + 1):
            if _HEADING.fullmatch(line):
                what = "A stage begins inside a block that depends on a choice."
                remedy = "Give its steps a “when” each; a stage left without steps is left out."
                self.findings.add(Place(place.file, k, 1), what, remedy)
        if any(line.strip() for line in inner):
            said = fence[3], Place(place.file, place.line, fence.start(3) + 1)
            run = _run(inner, Place(place.file, place.line + 1, 1))
            yield Words(run, self.in_step, said, joined)

    def heading(self, heading: re.Match[str], place: Place) -> Heading:
        title = heading[3] or ""
        if len(heading[2]) == 1:
            what = "The title is in the front matter; a second one stands here."
            self.findings.add(place, what, "Write ## for a stage, ### for a heading inside one.")
        elif not title:
            self.findings.add(place, "This stage has no title.", "Write one after ##.")
        self.in_stage = True
        return Heading(title, place)

    def check(self, line: str, is_heading: bool, place: Place) -> None:
        """Reports what would become neither stage nor step and was meant to."""
        if is_heading:
            what = "A heading stands inside a step."
            self.findings.add(place, what, "Begin a stage at the start of a line, or write ###.")
        elif self.in_stage and (paren := _PAREN.match(line)):
            what = f"“{paren[0].strip()}” begins no step."
            self.findings.add(place, what, f"Write {paren[1]}. with a full stop.")
        elif self.after_words and _UNDERLINE.fullmatch(line):
            what = "This line makes a heading of the words above it."
            self.findings.add(place, what, "Write ## in front of a stage's title instead.")

    def goes_on(self, line: str) -> bool:
        """Whether a line that is not indented is still part of the paragraph above."""
        return self.after_words and not _BULLET.match(line)


def _closing(lines: Sequence[str], start: int, ticks: str) -> int | None:
    """The number of the line that closes the fence opened on line ``start``."""
    for number in range(start + 1, len(lines)):
        line = lines[number].strip()
        if len(line) >= len(ticks) and not line.strip(ticks[0]):
            return number
    return None


def _run(lines: Sequence[str], start: Place) -> prose.Run:
    # The first line of a step begins after its number and has no indentation to share; a line
    # that goes on without any is left alone.
    others = lines[1:] if start.column > 1 else lines
    spaces = [line[: len(line) - len(line.lstrip())] for line in others if line.strip()]
    indent = min((space for space in spaces if len(space) >= 2), key=len, default="")
    return prose.Run("\n".join(lines), start, indent)
