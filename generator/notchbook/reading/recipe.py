"""The recipe as read: every value with its place, nothing yet drafted."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from notchbook.problems import Place
from notchbook.reading.formula import Formula


@dataclass(frozen=True, slots=True)
class Text:
    """Words of the author's, with their place."""

    value: str
    place: Place

    def __str__(self) -> str:
        return self.value


@dataclass(frozen=True, slots=True)
class Scalar:
    """A parameter's value: its text, and the formula it reads as (none where it does not)."""

    text: str
    place: Place
    formula: Formula | None


@dataclass(frozen=True, slots=True)
class Series:
    """A parameter's value that is a list."""

    entries: tuple[Entry, ...]
    place: Place


@dataclass(frozen=True, slots=True)
class Table:
    """A parameter's value that is a mapping. ``keys`` holds the place of every key."""

    entries: Mapping[str, Entry]
    keys: Mapping[str, Place]
    place: Place


Entry = Scalar | Series | Table


@dataclass(frozen=True, slots=True)
class Edition:
    """A published state of the recipe. ``date`` is ISO 8601, as written."""

    number: int
    date: str
    note: str


@dataclass(frozen=True, slots=True)
class Choice:
    """Something the reader decides that is no measure. ``options`` maps each to its title."""

    name: str
    title: Text
    ask: Text
    options: Mapping[str, Text]
    usual: str
    place: Place


@dataclass(frozen=True, slots=True)
class Condition:
    """What a ``when`` asks of one choice: that it is settled as one of these options."""

    choice: Text
    options: tuple[Text, ...]


When = tuple[Condition, ...]
"""All of these have to hold; nothing is asked of what is always there."""


@dataclass(frozen=True, slots=True)
class ChoiceSet:
    """A set of choices that is published, every choice settled. ``sizes`` are the ids of those it
    is published in besides the usual one; None stands for all."""

    id: str
    chosen: Mapping[str, str]
    sizes: tuple[str, ...] | None
    place: Place


@dataclass(frozen=True, slots=True)
class By:
    """A working's formulas, one for each option of a choice."""

    choice: Text
    formulas: Mapping[str, Formula]


TAKEN = (
    "head", "forehead", "crown", "neck", "shoulders", "back", "hand", "calf", "ankle", "leg",
)  # fmt: skip
"""Where a measure is taken: round the head above the ears, or in the middle of the forehead; from
there up to a book on the crown; round the base of the neck, both shoulders, the knuckles of a hand,
the calf or the ankle; down the back from the neck, down the leg from calf to ankle bone."""


@dataclass(frozen=True, slots=True)
class Measure:
    """What the reader takes with a tape. ``hat`` marks a head girth, whose sizes have hat numbers
    too; ``strip`` what goes round, as a head girth does, and can be tried with a strip of paper;
    ``taken`` is where the tape goes, one of ``TAKEN`` or empty."""

    name: str
    title: Text
    ask: Text
    usual: Formula
    low: Formula
    high: Formula
    hat: bool
    place: Place
    when: When = ()
    strip: bool = False
    taken: str = ""


@dataclass(frozen=True, slots=True)
class Size:
    """A set of measures that is published. Measures not named here stay at their usual value."""

    id: str
    title: str
    measures: Mapping[str, Formula]
    place: Place


@dataclass(frozen=True, slots=True)
class Limit:
    """What must hold between measures, and the sentence that says so."""

    require: Formula
    say: Text
    when: When = ()


@dataclass(frozen=True, slots=True)
class Cloth:
    """What pieces are cut from. In formulas: ``shell.thickness``, ``shell.shrinkage``. ``narrows``
    is what it shrinks across its width. One that is ``folded`` is laid doubled for cutting."""

    name: str
    title: Text
    thickness: Formula
    widths: tuple[Formula, ...]
    shrinkage: Formula
    nap: bool
    place: Place
    narrows: Formula | None = None
    folded: bool = False


@dataclass(frozen=True, slots=True)
class Working:
    """A derived value. ``why`` is the author's reason, where one is given. Where it goes ``by`` a
    choice that is not settled yet, ``formula`` is that of the usual option."""

    name: str
    formula: Formula
    why: Text | None
    place: Place
    by: By | None = None


@dataclass(frozen=True, slots=True)
class Cut:
    """How often a piece is cut from one cloth, and where its allowance differs there. Where it is
    cut in ``pairs``, every second one of the ``count`` is turned over.

    ``allowance`` maps edge names to formulas; the key ``""`` stands for every edge.
    """

    cloth: str
    count: int
    pairs: int
    allowance: Mapping[str, Formula]
    place: Place


@dataclass(frozen=True, slots=True)
class Spot:
    """A place in a piece: so far along an edge (a length from its start, or a share of it), and so
    far from there into the piece, square to the edge; on the edge where nothing is said."""

    edge: Text
    at: Formula
    inside: Formula | None
    place: Place


@dataclass(frozen=True, slots=True)
class Parallel:
    """A line that keeps its distance from an edge: along the whole of it, or between two places of
    it, each a length from its start or a share of it."""

    edge: Text
    inside: Formula
    start: Formula | None
    end: Formula | None


@dataclass(frozen=True, slots=True)
class Between:
    """A straight line from one place to another."""

    start: Spot
    end: Spot


@dataclass(frozen=True, slots=True)
class Crosses:
    """Small crosses at one or more places."""

    spots: tuple[Spot, ...]


@dataclass(frozen=True, slots=True)
class LineRule:
    """A line or some crosses drawn inside a piece. ``kind`` says what is done there: ``stitched``,
    ``folded``, ``placed``, or ``arrow`` for a direction that is only marked."""

    name: str
    title: Text
    kind: str
    drawn: Parallel | Between | Crosses
    place: Place
    when: When = ()


@dataclass(frozen=True, slots=True)
class PieceRule:
    """A pattern piece as the recipe gives it.

    ``parameters`` are the shape's own keys, unread; the shape knows what they mean.
    ``allowance`` maps edge names to formulas; the key ``""`` stands for every edge. ``corners``
    says what some edges ask the corners of their allowance to be: ``mitred``, ``squared`` or
    ``turned back``. ``paper`` is how much of it is printed on sheets: ``whole``, ``half``,
    ``quarter``.
    """

    name: str
    title: Text
    shape: Text
    parameters: Table
    allowance: Mapping[str, Formula]
    allowance_keys: Mapping[str, Place]
    corners: Mapping[str, str]
    cut: tuple[Cut, ...]
    place: Place
    when: When = ()
    lines: Mapping[str, LineRule] = field(default_factory=dict)
    paper: str = "whole"


@dataclass(frozen=True, slots=True)
class EdgeName:
    """``brim.outer`` or, where the piece is cut from several cloths, ``shell brim.outer``."""

    piece: str
    edge: str
    cloth: str | None
    place: Place

    def __str__(self) -> str:
        front = f"{self.cloth} " if self.cloth else ""
        return f"{front}{self.piece}.{self.edge}"


@dataclass(frozen=True, slots=True)
class PleatRule:
    """So many pleats, evenly along a side, each folding twice ``depth`` away."""

    count: int
    depth: Formula
    place: Place


@dataclass(frozen=True, slots=True)
class SeamRule:
    """A named meeting of two or more sides, each a run of edges in sewing order.

    ``ease`` holds, by the number of the side it belongs to (from 0), how much longer than the
    first side that side is meant to be; ``gather`` how many times as long; ``pleats`` how many
    pleats take the difference up. In recipes the side is named by its piece.
    """

    name: str
    sides: tuple[tuple[EdgeName, ...], ...]
    ease: Mapping[int, Formula]
    notches: int
    place: Place
    gather: Mapping[int, Formula] = field(default_factory=dict)
    pleats: Mapping[int, PleatRule] = field(default_factory=dict)
    when: When = ()


@dataclass(frozen=True, slots=True)
class Notion:
    """Anything bought that is not cloth. ``often`` marks one that several steps use."""

    name: str
    title: Text
    amount: Formula | None
    often: bool
    place: Place
    when: When = ()


@dataclass(frozen=True, slots=True)
class Inline:
    """``{{ formula }}`` in the text: printed for the size at hand."""

    formula: Formula


@dataclass(frozen=True, slots=True)
class Picture:
    """An author's photograph beside the recipe. ``path`` is below the recipe's folder."""

    path: str
    alt: str
    place: Place


@dataclass(frozen=True, slots=True)
class Prose:
    """Markdown as written, with what is no Markdown lifted out of it. ``joined``: it goes on
    with the run before it, no blank line between, as the rows of one table do."""

    parts: tuple[str | Inline | Picture, ...]
    place: Place
    when: When = ()
    joined: bool = False


@dataclass(frozen=True, slots=True)
class FigureRule:
    """A ``figure`` block: which view, and the view's own keys, unread."""

    view: Text
    alt: Text | None
    caption: Text | None
    keys: Table
    place: Place
    when: When = ()


@dataclass(frozen=True, slots=True)
class GapRule:
    """What a step leaves open of a seam it sews: so long, its middle ``at`` a share or a length
    along the first side. One that ``stays`` is never closed."""

    seam: Text
    length: Formula
    at: Formula | None
    stays: bool
    place: Place


@dataclass(frozen=True, slots=True)
class Facts:
    """What a step does: ``cut`` names pieces (``shell brim``), ``lines`` what is drawn inside them
    (``side.fold``), ``sew`` seams, ``close`` those with a gap that an earlier step left, ``use``
    notions, ``care`` cautions, ``clip`` edges whose allowance is clipped or notched."""

    cut: tuple[Text, ...] = ()
    lines: tuple[Text, ...] = ()
    sew: tuple[Text, ...] = ()
    close: tuple[Text, ...] = ()
    use: tuple[Text, ...] = ()
    care: tuple[Text, ...] = ()
    leave: tuple[GapRule, ...] = ()
    clip: tuple[EdgeName, ...] = ()


@dataclass(frozen=True, slots=True)
class Step:
    """One numbered step. ``id`` is unique in the recipe and permanent while its place is."""

    id: str
    number: int
    blocks: tuple[Prose | FigureRule, ...]
    facts: Facts
    place: Place
    when: When = ()


@dataclass(frozen=True, slots=True)
class Stage:
    """A ``##`` heading, its words before, between and after the steps, and the steps."""

    id: str
    title: str
    time: Formula | None
    blocks: tuple[Prose | FigureRule | Step, ...]
    place: Place

    @property
    def steps(self) -> tuple[Step, ...]:
        """The steps alone, in order."""
        return tuple(block for block in self.blocks if isinstance(block, Step))


@dataclass(frozen=True, slots=True)
class Recipe:
    """One thing to make. ``opening`` is what stands before the first stage.

    ``chosen`` is how its choices are settled, in their order; until they are, by ``choose`` in
    ``choosing.py``, it is empty and everything any option asks for is here.
    """

    slug: str
    title: Text
    summary: Text
    editions: tuple[Edition, ...]
    skill: str
    time: Formula | None
    licence: str
    tags: tuple[str, ...]
    measures: Mapping[str, Measure]
    sizes: tuple[Size, ...]
    limits: tuple[Limit, ...]
    cloths: Mapping[str, Cloth]
    workings: Mapping[str, Working]
    pieces: Mapping[str, PieceRule]
    allowance: Formula
    seams: Mapping[str, SeamRule]
    notions: Mapping[str, Notion]
    tools: tuple[Text, ...]
    care: tuple[Text, ...]
    opening: tuple[Prose | FigureRule, ...]
    stages: tuple[Stage, ...]
    pictures: Mapping[str, bytes]
    place: Place
    choices: Mapping[str, Choice] = field(default_factory=dict)
    sets: tuple[ChoiceSet, ...] = ()
    chosen: Mapping[str, str] = field(default_factory=dict)

    @property
    def edition(self) -> Edition:
        """The newest edition."""
        return max(self.editions, key=lambda edition: edition.number)

    def size(self, id: str) -> Size:
        """The published size with this id, which exists."""
        return next(size for size in self.sizes if size.id == id)

    @property
    def home(self) -> str:
        """Where its sizes are published, below the site's top: in a folder called after it, and
        there in one called after its set where it has choices."""
        here = next((each for each in self.sets if each.chosen == self.chosen), None)
        return f"{self.slug}/{here.id}" if here else self.slug
