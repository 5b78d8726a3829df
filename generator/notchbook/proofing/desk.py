"""The desk a trial is worked at: what was read last, what was shown last, and whose turn it is.

One thread watches and reads, one has recipes trued, and each open page has one that waits for news.
They meet here: ``turn`` guards what was read and trued and tells of news, ``hands`` lets one
compose at a time, ``press`` one print.
"""

from __future__ import annotations

import threading
import time
import traceback
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass, field
from functools import partial
from hashlib import sha256
from pathlib import Path
from typing import Any

from notchbook.composing.pages import site_assets
from notchbook.composing.setting import Setting
from notchbook.problems import ContentError, Place, Problem
from notchbook.proofing.beside import Spots, beside, spots
from notchbook.proofing.copies import HTML, Copy, Memory, copy_at, kind_of, nowhere
from notchbook.proofing.panel import Note, bound, outline, panel
from notchbook.proofing.trial import Kept, Trial, look, text_of
from notchbook.proofing.truing import true
from notchbook.reading.recipe import Recipe

HELD = 64
"""Files kept as they were shown last."""


@dataclass(frozen=True, slots=True)
class Shown:
    """A file as it was composed last, of ``parts``. ``copy`` is the last one that was whole, None
    where there never was one; ``blocks`` are the lines of ``text`` its page was made from, and
    ``problems`` what keeps a newer one from being made."""

    parts: tuple[object, ...]
    setting: Setting | None
    copy: Copy | None
    blocks: Spots
    text: str
    problems: tuple[Problem, ...]
    drawn: dict[str, Any]


@dataclass(frozen=True, slots=True)
class Answer:
    """What goes to a browser. ``version`` changes with all a page shows but its panel, which is
    empty for what is no page."""

    status: int
    data: bytes
    kind: str
    version: str = ""
    panel: str = ""


@dataclass(slots=True)
class Desk:
    """One trial of the workshop in ``content``, in the theme named or its own."""

    content: Path
    theme: str | None
    trial: Trial = field(default_factory=Trial)
    trued: dict[str, tuple[Recipe, tuple[Problem, ...]]] = field(default_factory=dict)
    shown: dict[str, Shown] = field(default_factory=dict)
    changed: dict[str, int] = field(default_factory=dict)
    news: int = 0
    closed: threading.Event = field(default_factory=threading.Event)
    turn: threading.Condition = field(default_factory=threading.Condition)
    hands: threading.Lock = field(default_factory=threading.Lock)
    press: threading.Lock = field(default_factory=threading.Lock)

    def read(self, settings: bool = True) -> None:
        """Read again what has changed on the disk."""
        for again in range(4):
            try:
                trial = look(self.content, self.theme, self.trial, settings)
                break
            except OSError:  # a file went away between being found and being read
                time.sleep(0.03 * (again + 1))
        else:
            return
        with self.turn:
            for slug, kept in trial.recipes.items():
                before = self.trial.recipes.get(slug)
                if before is None or before.recipe is not kept.recipe:
                    self.changed[slug] = self.news
            self.trial = trial
        self.tell()

    def tell(self) -> None:
        """Let every page that waits look whether there is news for it."""
        with self.turn:
            self.news += 1
            self.turn.notify_all()

    def close(self) -> None:
        """End all waiting."""
        self.closed.set()
        self.tell()

    def wait(self, news: int, seconds: float) -> None:
        """Wait for later news than ``news``, as long as ``seconds``."""
        with self.turn:
            self.turn.wait_for(lambda: self.news != news or self.closed.is_set(), seconds)

    def true(self) -> None:
        """Have every recipe trued once, the one that changed last first, until the desk is closed.
        One that changes meanwhile is begun again."""
        while not self.closed.is_set():
            with self.turn:
                self.turn.wait_for(lambda: self.closed.is_set() or self._untrued())
                waiting = self._untrued()
            if self.closed.is_set() or not waiting or not (recipe := waiting[0].recipe):
                continue
            try:
                problems = true(recipe, partial(self._wanted, recipe))
            except Exception as error:
                problems = (_failed(error),)
            if problems is not None:
                with self.turn:
                    self.trued[recipe.slug] = recipe, problems
                self.tell()

    def _wanted(self, recipe: Recipe) -> bool:
        """Whether a recipe is still the one to be trued first."""
        if self.closed.is_set():
            return False
        with self.turn:
            first = next(iter(self._untrued()), None)
        return first is not None and first.recipe is recipe

    def _untrued(self) -> list[Kept]:
        """The recipes that are whole and have not been trued, the one that changed last first."""
        waiting = [kept for kept in self.trial.recipes.values() if self._waits(kept)]
        return sorted(waiting, key=lambda kept: -self.changed.get(kept.source.slug, 0))

    def _waits(self, kept: Kept) -> bool:
        """Whether a recipe is whole and has not been trued."""
        trued = self.trued.get(kept.source.slug, (None, ()))[0]
        return bool(kept.recipe and kept.fresh and not kept.problems and trued is not kept.recipe)

    def _left(self, trial: Trial, own: Kept | None) -> int:
        """How many recipes are still to be trued that a page tells of: its own, or any. They are
        those it was composed from, which may have been saved again meanwhile."""
        return sum(map(self._waits, [own] if own else trial.recipes.values()))

    def answer(self, path: str) -> Answer:
        """What stands at ``path`` below the site's top: as the workshop is now, or as it was last
        whole, and then with what is wrong."""
        trial, shown = self._composed(path)
        copy = shown.copy
        known = copy is not None or bool(shown.problems)
        if copy and kind_of(path) != HTML:
            return Answer(200, copy.data, copy.kind)
        if known and kind_of(path) != HTML:
            said = "\n".join(map(str, shown.problems))
            return Answer(404, said.encode("utf-8", "replace"), "text/plain; charset=utf-8")
        data = copy.data if copy else _instead(trial, known).encode()
        version = _version(data, copy, shown.setting)
        own = trial.recipes.get(path.partition("/")[0])
        notes = tuple(self._notes(trial, own, shown))
        held = panel(
            notes,
            old=copy is not None and bool(shown.problems or trial.unset or (own and not own.fresh)),
            untrued=self._left(trial, own),
            own=bool(own and own.recipe),
        )
        page = bound(data.decode(), held, version)
        status = 200 if known else 404
        return Answer(status, page.encode("utf-8", "replace"), HTML, version, str(held))

    def _composed(self, path: str) -> tuple[Trial, Shown]:
        slug = path.partition("/")[0]
        with self.press if path.endswith(".pdf") else self.hands:
            trial = self.trial
            own = trial.recipes.get(slug)
            kept = [own] if own else list(trial.recipes.values())
            parts = (trial.setting, *trial.texts.values(), *(each.recipe for each in kept))
            last = self.shown.pop(path, None)
            if last is None or not _same(last.parts, parts):
                last = _again(trial, own, path, parts, last)
            if last.copy or last.problems:
                self.shown[path] = last
            while len(self.shown) > HELD:
                self.shown.pop(next(iter(self.shown)), None)
        return trial, last

    def _notes(self, trial: Trial, own: Kept | None, shown: Shown) -> Iterator[Note]:
        """This page's problems first, then those of what all pages share, then other recipes'."""
        others = [kept for kept in trial.recipes.values() if kept is not own and not kept.gone]
        found = [
            *(self._problems(own) if own else ()),
            *shown.problems,
            *trial.unset,
            *trial.unread,
            *(problem for kept in others for problem in self._problems(kept)),
        ]
        file = f"{own.source.folder}/recipe.md" if own else ""
        now = text_of(own.source) if own else ""
        for problem in dict.fromkeys(found):
            line = problem.place.line if problem.place.file == file else 0
            yield Note(problem, beside(line, shown.blocks, shown.text, now) if line else "")

    def _problems(self, kept: Kept) -> tuple[Problem, ...]:
        """What is wrong with a recipe; what truing found only while its text is the one trued."""
        trued = self.trued.get(kept.source.slug)
        if kept.problems or not trued or trued[0] is not kept.recipe:
            return kept.problems
        return trued[1]


def _again(
    trial: Trial, own: Kept | None, path: str, parts: tuple[object, ...], last: Shown | None
) -> Shown:
    """A file composed again, with what was drawn for the last one at hand."""
    setting = trial.setting
    blocks, text = (last.blocks, last.text) if last else ((), "")
    if setting is None:
        return Shown(parts, None, last.copy if last else None, blocks, text, trial.unset, {})
    before = last.drawn if last and last.setting is setting else {}
    memory = Memory({k: v for k, v in before.items() if k != "pressed"}, {})
    try:
        copy = copy_at(trial, setting, path, memory)
        problems: tuple[Problem, ...] = ()
        if own and not own.recipe:
            problems = own.problems
    except ContentError as error:
        copy, problems = None, error.problems
    except Exception as error:
        copy, problems = None, (_failed(error),)
    if copy and own and copy.recipe:
        blocks, text = spots(copy.recipe, own.text), own.text
    if copy is None and problems and last:
        return Shown(parts, last.setting, last.copy, blocks, text, problems, before)
    return Shown(parts, setting, copy, blocks, text, problems, memory.now)


def _instead(trial: Trial, known: bool) -> str:
    """What is shown where no page ever was: an outline of the page to come at an address that is
    ``known``, and that there is nothing at any other, as well as the theme can say it."""
    if trial.setting and not known:
        with suppress(ContentError):
            return nowhere(trial, trial.setting)
    return outline(trial.setting)


def _same(one: tuple[object, ...], other: tuple[object, ...]) -> bool:
    return len(one) == len(other) and all(a is b for a, b in zip(one, other, strict=True))


def _version(data: bytes, copy: Copy | None, setting: Setting | None) -> str:
    """A hash of all that a page shows: its own bytes, its style and its photographs."""
    told = sha256(data)
    for text in site_assets(setting).values() if setting and copy else ():
        told.update(text.encode())
    for picture in copy.recipe.pictures.values() if copy and copy.recipe else ():
        told.update(picture)
    return told.hexdigest()[:16]


def _failed(error: Exception) -> Problem:
    """A fault of the program, said to be one."""
    said = "".join(traceback.format_exception_only(error)).strip().splitlines()[0]
    where = traceback.extract_tb(error.__traceback__)[-1]
    what = f"Notchbook itself has failed: {said[:200]}"
    remedy = "Your content is not to blame. Tell whoever keeps the program, with the recipe."
    return Problem(Place(Path(where.filename).name, where.lineno or 0, 1), what, remedy)
