"""The body of a recipe, ready for a template: stages and steps with words, figures, cautions."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from itertools import takewhile

from markdown import Markdown
from markupsafe import Markup

from notchbook.composing.clipping import clip_rows
from notchbook.composing.kinds import kind
from notchbook.composing.meeting import ply_title
from notchbook.composing.plates import Plates
from notchbook.composing.prose import press_type, prose_html
from notchbook.composing.setting import Setting
from notchbook.composing.values import Values, words
from notchbook.drafting.draft import Draft
from notchbook.drafting.engine import evaluate_in
from notchbook.gathering.source import Catalogue
from notchbook.problems import Place, Problem, suggestion
from notchbook.reading.formula import Formula, Name
from notchbook.reading.recipe import FigureRule, Picture, Prose, Recipe, Stage, Step, Text
from notchbook.reading.walk import all_steps

NOTHING = Markup("")


@dataclass(frozen=True, slots=True)
class Caution:
    """A caution at a step. ``earlier`` is the id of the step that prints its words in full, and
    empty where this one does; ``again`` says where that step is.

    A booklet names the step and not its page: every page that asked for the number of another
    would be set three times over.
    """

    title: str
    text: str
    earlier: str
    again: str = ""


@dataclass(frozen=True, slots=True)
class Block:
    """One block of a stage or step: prose, or a figure, or (in a stage) a step. ``file`` leads to
    the figure on its own, where it has a file."""

    kind: str
    html: Markup = NOTHING
    caption: str = ""
    step: StepView | None = None
    file: str = ""


@dataclass(frozen=True, slots=True)
class StepView:
    """A step: its words up to the first figure, and the ``rest``. ``facts`` are what it cuts, sews,
    leaves open, clips and uses: (catalogue key, names)."""

    id: str
    number: int
    words: tuple[Block, ...]
    rest: tuple[Block, ...]
    facts: tuple[tuple[str, str], ...]
    cautions: tuple[Caution, ...]


@dataclass(frozen=True, slots=True)
class StageView:
    """A stage. What comes after the last step, such as notes for teachers, is no stage of the work
    and has the ``number`` 0."""

    id: str
    number: int
    title: str
    time: Markup
    blocks: tuple[Block, ...]


@dataclass(frozen=True, slots=True)
class Body:
    """All of a recipe's text. ``cautions`` are those its steps print: title and first step's id."""

    opening: tuple[Block, ...]
    stages: tuple[StageView, ...]
    cautions: tuple[tuple[str, str], ...]


def body(
    draft: Draft,
    setting: Setting,
    plates: Plates,
    pictures: Mapping[str, str],
    files: Mapping[Place, str] | None = None,
) -> Body:
    """Set the text of a recipe. ``pictures`` maps a photograph's path to its address, ``files`` a
    figure's place to that of its own file, where it has one."""
    desk = _Desk(draft, setting, plates, pictures, files or {}, press_type(), {})
    opening = desk.blocks(draft.recipe.opening)
    given = draft.recipe.stages
    last = max((k for k, stage in enumerate(given, start=1) if stage.steps), default=0)
    stages = tuple(
        desk.stage(k if k <= last else 0, stage) for k, stage in enumerate(given, start=1)
    )
    titles = tuple(
        (setting.say(f"care.{name}.title"), step) for name, (step, _) in desk.printed.items()
    )
    return Body(opening, stages, titles)


def check_care(recipe: Recipe, catalogue: Catalogue) -> tuple[Problem, ...]:
    """Cautions that the catalogue has no words for."""
    known = [
        key.split(".")[1]
        for key in catalogue.words
        if key.startswith("care.") and key.endswith(".title")
    ]
    named: Iterable[Text] = (
        *recipe.care,
        *(word for step in all_steps(recipe) for word in step.facts.care),
    )
    return tuple(
        Problem(
            word.place,
            f"There is no caution called “{word}”.",
            suggestion(word.value, known),
        )
        for word in named
        if word.value not in known
    )


@dataclass(frozen=True, slots=True)
class _Desk:
    draft: Draft
    setting: Setting
    plates: Plates
    pictures: Mapping[str, str]
    files: Mapping[Place, str]
    converter: Markdown
    printed: dict[str, tuple[str, str]]
    """Cautions already printed in full: the step's id, and where it is in words."""

    @property
    def values(self) -> Values:
        return Values(self.setting.workshop.units)

    def stage(self, number: int, stage: Stage) -> StageView:
        """One stage with its steps."""
        time = self.values.quantity(evaluate_in(self.draft, stage.time)) if stage.time else None
        blocks = self.blocks(stage.blocks, number)
        return StageView(stage.id, number, stage.title, time or NOTHING, blocks)

    def blocks(
        self, blocks: Iterable[Prose | FigureRule | Step], stage: int = 0
    ) -> tuple[Block, ...]:
        """Blocks in order, of the stage with this number."""
        return tuple(self.block(block, stage) for block in blocks)

    def block(self, block: Prose | FigureRule | Step, stage: int) -> Block:
        """One block."""
        match block:
            case Prose():
                html = prose_html(
                    block, self.converter, value=self.value, picture=self.picture
                )  # fmt: skip
                return Block("prose", html)
            case FigureRule():
                caption = block.caption.value if block.caption else ""
                drawn = Markup(self.plates.figures[block.place])
                return Block("figure", drawn, caption, file=self.files.get(block.place, ""))
            case Step():
                return Block("step", step=self.step(block, stage))

    def step(self, step: Step, stage: int) -> StepView:
        """One step."""
        blocks = self.blocks(step.blocks)
        words = tuple(takewhile(lambda block: block.kind == "prose", blocks))
        return StepView(
            step.id,
            step.number,
            words,
            blocks[len(words) :],
            self.facts(step),
            tuple(self.caution(word.value, step, stage) for word in step.facts.care),
        )

    def facts(self, step: Step) -> tuple[tuple[str, str], ...]:
        """What a step cuts, sews, clips and uses, by title where there is one."""
        recipe, facts = self.draft.recipe, step.facts
        rows = (
            ("cut", ", ".join(self.ply(word.value) for word in facts.cut)),
            ("lines", ", ".join(dict.fromkeys(self.line(word.value) for word in facts.lines))),
            ("sew", ", ".join(word.value for word in facts.sew)),
            ("leave", Markup("; ").join(self.opening(gap.seam.value) for gap in facts.leave)),
            ("close", ", ".join(word.value for word in facts.close)),
            *clip_rows(self.draft, step, self.setting, self.values),
            ("use", ", ".join(_title(recipe, word.value) for word in facts.use)),
        )
        return tuple(row for row in rows if row[1])

    def ply(self, word: str) -> str:
        """``shell brim`` as a reader knows it: ``Brim (firm twill)``."""
        *cloth, piece = word.split()
        return ply_title(self.draft, piece, cloth[0] if cloth else None, self.setting)

    def line(self, word: str) -> str:
        """``side.fold`` as a reader knows it: ``Fold (Side)``."""
        name, _, line = word.partition(".")
        piece = self.draft.pieces[name]
        title = next(each.title for each in piece.lines if each.name == line)
        return self.setting.say("step.lines.line", line=title, piece=piece.title)

    def opening(self, seam: str) -> Markup:
        """How much of a seam stays open, and where."""
        opening = self.draft.openings[seam]
        key = "step.leave.gap"
        if opening.notch is not None:
            key = "step.leave.notch" if opening.notch else "step.leave.double"
        say, length = self.setting.catalogue.words[key], self.values.length(opening.length)
        return words(say, seam=seam, length=length, number=str(opening.notch))

    def caution(self, name: str, step: Step, stage: int) -> Caution:
        """A caution, in full the first time."""
        say = self.setting.say
        here = step.id, say("care.again", stage=stage, step=step.number)
        earlier = self.printed.setdefault(name, here)
        return Caution(
            say(f"care.{name}.title"),
            say(f"care.{name}.text"),
            *(earlier if earlier != here else ("", "")),
        )

    def value(self, formula: Formula) -> Markup:
        """A formula's value in both unit systems; a measure as a tape shows it."""
        tree = formula.tree
        if isinstance(tree, Name) and tree.name in self.draft.recipe.measures:
            return self.values.body(self.draft.values[tree.name])
        meant = kind(tree, self.draft.recipe)
        return self.values.quantity(evaluate_in(self.draft, formula), meant)

    def picture(self, picture: Picture) -> Markup:
        """A photograph."""
        return Markup('<img src="{}" alt="{}">').format(
            self.pictures[picture.path], picture.alt
        )  # fmt: skip


def _title(recipe: Recipe, name: str) -> str:
    return recipe.notions[name].title.value if name in recipe.notions else name
