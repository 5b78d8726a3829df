"""The body: stages, numbered steps, fenced blocks, and the prose between them.

``lines.py`` has sorted the lines; what they hold is read here, in order.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from notchbook.problems import Findings, Place, suggestion
from notchbook.reading import lines, prose
from notchbook.reading.choices import read_when
from notchbook.reading.fields import Part, part, table, text
from notchbook.reading.formula import Formula
from notchbook.reading.quantity import LENGTH, TIME
from notchbook.reading.recipe import Facts, FigureRule, GapRule, Prose, Stage, Step, Text, When
from notchbook.reading.seams import edges
from notchbook.reading.walk import all_pictures
from notchbook.tree import load

WORDS = ("step", "figure", "stage", "when")
"""What a fenced block may be."""

FACTS = ("cut", "lines", "sew", "close", "use", "care")
STEP_KEYS = ("when", *FACTS, "leave", "clip")
LEAVE_KEYS = ("length", "at", "stays")
STAGE_KEYS = ("time",)
FIGURE_KEYS = ("view", "alt", "caption", "when")


@dataclass(frozen=True, slots=True)
class Body:
    """What stands below the front matter."""

    opening: tuple[Prose | FigureRule, ...]
    stages: tuple[Stage, ...]


@dataclass(slots=True)
class _Step:
    place: Place
    blocks: list[Prose | FigureRule] = field(default_factory=list)
    facts: Facts | None = None
    when: When = ()


@dataclass(slots=True)
class _Stage:
    title: str
    place: Place
    blocks: list[Prose | FigureRule | _Step] = field(default_factory=list)
    time: Formula | None = None


def read(text: str, line: int, file: str, files: Mapping[str, bytes], findings: Findings) -> Body:
    """The body whose ``text`` begins at the start of ``line``."""
    opening = _Stage("", Place(file, line, 1))
    stages: list[_Stage] = []
    step: _Step | None = None
    for found in lines.sort(text.split("\n"), line, file, findings):
        stage = stages[-1] if stages else opening
        match found:
            case lines.Heading():
                stages.append(_Stage(found.title, found.place))
                step = None
            case lines.Item():
                step = _Step(found.place)
                stage.blocks.append(step)
            case lines.Words():
                step = step if found.in_step else None
                words = prose.read(found.run, files, findings)
                if words:
                    when = _when(*found.when, findings) if found.when else ()
                    words = replace(words, when=when, joined=found.joined)
                    (step or stage).blocks.append(words)
            case lines.Block():
                step = step if found.in_step else None
                _block(found, stage, step, stage is opening, findings)
    _need_steps(opening, stages, findings)
    named = _named(stages, findings)
    blocks = tuple(block for block in opening.blocks if not isinstance(block, _Step))
    return Body(blocks, named)


def _need_steps(opening: _Stage, stages: Sequence[_Stage], findings: Findings) -> None:
    """Reports a text that does not say how anything is made."""
    if not stages:
        what = "The text has no stages, so it does not say how the thing is made."
        remedy = "Write “## Make it” on a line, and below it steps such as “1. Cut the pieces.”"
        findings.add(opening.place, what, remedy)
    elif not any(isinstance(block, _Step) for stage in stages for block in stage.blocks):
        what = "The stages have no steps."
        remedy = "Begin each step at the start of a line with its number: “1. Cut the pieces.”"
        findings.add(stages[0].place, what, remedy)


def _block(
    block: lines.Block, stage: _Stage, step: _Step | None, is_opening: bool, findings: Findings
) -> None:
    if block.word not in WORDS:
        what = f"No block is called “{block.word}”."
        findings.add(block.place, what, suggestion(block.word, WORDS))
        return
    if block.word == "step" and step is None:
        what = "The facts of a step stand outside of any step."
        findings.add(block.place, what, "Indent the block by four spaces, below its step.")
        return
    if block.word == "stage" and (step is not None or is_opening):
        what = "The facts of a stage stand in another place than below its heading."
        findings.add(block.place, what, "Put the block below the ## line, not indented.")
        return
    tree = load(block.text, block.first, findings)
    if tree is None:
        return
    if block.word == "figure":
        figure = part(tree, "the figure", block.place, (), findings, more=True)
        (step or stage).blocks.append(_figure(figure))
    elif step is not None:
        given = part(tree, "the step", block.place, STEP_KEYS, findings)
        if step.facts is not None:
            what = "This step's facts stand in two blocks."
            findings.add(block.place, what, "Put them all into the first.")
        step.facts, step.when = _facts(given), read_when(given)
    else:
        found = part(tree, "the stage", block.place, STAGE_KEYS, findings)
        if stage.time is not None:
            findings.add(block.place, "This stage's time stands here twice.", "Keep one of them.")
        stage.time = found.quantity_or_none("time", TIME)


def _when(said: str, place: Place, findings: Findings) -> When:
    """What stands behind the fence of a block of prose: ``when: {opening: oval}``."""
    if not re.match(r"when\s*:\s*\{", said):
        what = "This block does not say when its words are there."
        findings.add(place, what, "Write the choice behind the fence: ```when: {opening: oval}.")
        return ()
    tree = load(" " * (place.column - 1) + said, Place(place.file, place.line, 1), findings)
    return read_when(part(tree, "the block", place, ("when",), findings)) if tree else ()


def _figure(figure: Part) -> FigureRule:
    def words(key: str) -> Text | None:
        node = figure.get(key)
        if node is None:
            return None
        return text(node, f"“{key}”", figure.at(key), figure.findings)

    view = figure.text("view", "flat")
    keys = table(figure.branch, FIGURE_KEYS, figure.place)
    when = read_when(figure)
    return FigureRule(view, words("alt"), words("caption"), keys, figure.place, when)


def _facts(step: Part) -> Facts:
    leave = tuple(_gap(each, seam) for seam, each in step.parts("leave", LEAVE_KEYS))
    clip = tuple(
        name for node in step.rows("clip") for name in edges(node, "what is clipped", step.findings)
    )
    return Facts(**{key: step.texts(key) for key in FACTS}, leave=leave, clip=clip)


def _gap(gap: Part, seam: str) -> GapRule:
    """What is left open of a seam: ``{length: 7 cm, at: 0.5}``."""
    length, at = gap.quantity("length", LENGTH, "7 cm"), gap.quantity_or_none("at", None)
    return GapRule(Text(seam, gap.place), length, at, gap.yes("stays"), gap.place)


def _named(stages: Sequence[_Stage], findings: Findings) -> tuple[Stage, ...]:
    """Stages and steps with their ids."""
    taken: set[str] = set()
    done: list[Stage] = []
    for stage in stages:
        name = _slug(stage.title)
        while name in taken:
            name += "-again"
        taken.add(name)
        steps: list[Prose | FigureRule | Step] = []
        number = 0
        for block in stage.blocks:
            if isinstance(block, _Step):
                number += 1
                if not any(isinstance(words, Prose) for words in block.blocks):
                    findings.add(block.place, "This step has no words.", "Say what is to be done.")
                facts = block.facts or Facts()
                step = f"{name}-{number}"
                blocks = tuple(block.blocks)
                steps.append(Step(step, number, blocks, facts, block.place, block.when))
            else:
                steps.append(block)
        title, place = stage.title, stage.place
        done.append(Stage(name, title, stage.time, tuple(steps), place))
    return tuple(done)


def _slug(title: str) -> str:
    """A title as an id. Numbers are joined to the word before them, so that a stage's id never
    looks like that of another stage's step."""
    words = re.sub(r"[\W_]+", "-", title.lower()).strip("-") or "stage"
    return re.sub(r"-(?=[0-9])", "", words)


def pictures(body: Body, files: Mapping[str, bytes]) -> Mapping[str, bytes]:
    """The pictures that a body shows, by their paths, of the ``files`` beside it."""
    shown = (picture.path for picture in all_pictures(body))
    return {path: files[path] for path in shown if path in files}
