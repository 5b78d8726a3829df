"""The body: stages, numbered steps, fenced blocks, and the prose between them.

``lines.py`` has sorted the lines; what they hold is read here, in order.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from notchbook.problems import Place, suggestion
from notchbook.reading import lines, prose
from notchbook.reading.fields import Part, part, table, text
from notchbook.reading.findings import Findings
from notchbook.reading.formula import Formula
from notchbook.reading.quantity import TIME
from notchbook.reading.recipe import Facts, FigureRule, Picture, Prose, Stage, Step, Text
from notchbook.reading.tree import load

WORDS = ("step", "figure", "stage")
"""What a fenced block may be."""

FACTS = ("cut", "sew", "use", "care")


@dataclass(frozen=True, slots=True)
class Body:
    """What stands below the front matter, and the pictures it shows by their paths."""

    opening: tuple[Prose | FigureRule, ...]
    stages: tuple[Stage, ...]
    pictures: Mapping[str, bytes]


@dataclass(slots=True)
class _Step:
    place: Place
    blocks: list[Prose | FigureRule] = field(default_factory=list)
    facts: Facts | None = None


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
                    (step or stage).blocks.append(words)
            case lines.Block():
                step = step if found.in_step else None
                _block(found, stage, step, stage is opening, findings)
    named = _named(stages, findings)
    blocks = tuple(block for block in opening.blocks if not isinstance(block, _Step))
    return Body(blocks, named, _pictures(blocks, named, files))


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
        facts = _facts(part(tree, "the step", block.place, FACTS, findings))
        if step.facts is not None:
            what = "This step's facts stand in two blocks."
            findings.add(block.place, what, "Put them all into the first.")
        step.facts = facts
    else:
        found = part(tree, "the stage", block.place, ("time",), findings)
        if stage.time is not None:
            findings.add(block.place, "This stage's time stands here twice.", "Keep one of them.")
        stage.time = found.quantity_or_none("time", TIME)


def _figure(figure: Part) -> FigureRule:
    def words(key: str) -> Text | None:
        node = figure.get(key)
        if node is None:
            return None
        return text(node, f"“{key}”", figure.at(key), figure.findings)

    view = figure.text("view", "flat")
    keys = table(figure.branch, ("view", "alt", "caption"), figure.place)
    return FigureRule(view, words("alt"), words("caption"), keys, figure.place)


def _facts(step: Part) -> Facts:
    return Facts(**{key: step.texts(key) for key in FACTS})


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
                steps.append(Step(step, number, tuple(block.blocks), facts, block.place))
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


def _pictures(
    opening: Sequence[Prose | FigureRule], stages: Sequence[Stage], files: Mapping[str, bytes]
) -> Mapping[str, bytes]:
    return {
        part.path: files[part.path]
        for words in all_prose(opening, stages)
        for part in words.parts
        if isinstance(part, Picture) and part.path in files
    }


def all_prose(opening: Sequence[Prose | FigureRule], stages: Sequence[Stage]) -> Iterator[Prose]:
    """Every run of prose, in order."""
    blocks = [*opening]
    for stage in stages:
        for block in stage.blocks:
            blocks += block.blocks if isinstance(block, Step) else (block,)
    yield from (block for block in blocks if isinstance(block, Prose))
