"""The recipe as read: every value with its place, nothing yet drafted."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

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
class Measure:
    """What the reader takes with a tape."""

    name: str
    title: Text
    ask: Text
    usual: Formula
    low: Formula
    high: Formula
    place: Place


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


@dataclass(frozen=True, slots=True)
class Cloth:
    """What pieces are cut from. In formulas: ``shell.thickness``, ``shell.shrinkage``."""

    name: str
    title: Text
    thickness: Formula
    widths: tuple[Formula, ...]
    shrinkage: Formula
    nap: bool
    place: Place


@dataclass(frozen=True, slots=True)
class Working:
    """A derived value. ``why`` is the author's reason, where one is given."""

    name: str
    formula: Formula
    why: Text | None
    place: Place


@dataclass(frozen=True, slots=True)
class Cut:
    """How often a piece is cut from one cloth, and where its allowance differs there.

    ``allowance`` maps edge names to formulas; the key ``""`` stands for every edge.
    """

    cloth: str
    count: int
    allowance: Mapping[str, Formula]
    place: Place


@dataclass(frozen=True, slots=True)
class PieceRule:
    """A pattern piece as the recipe gives it.

    ``parameters`` are the shape's own keys, unread; the shape knows what they mean.
    ``allowance`` maps edge names to formulas; the key ``""`` stands for every edge.
    """

    name: str
    title: Text
    shape: Text
    parameters: Table
    allowance: Mapping[str, Formula]
    allowance_keys: Mapping[str, Place]
    cut: tuple[Cut, ...]
    place: Place


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
class SeamRule:
    """A named meeting of two or more sides, each a run of edges in sewing order.

    ``ease`` holds, by the number of the side it belongs to (from 0), how much longer than the
    first side that side is meant to be. In recipes the side is named by its piece.
    """

    name: str
    sides: tuple[tuple[EdgeName, ...], ...]
    ease: Mapping[int, Formula]
    notches: int
    place: Place


@dataclass(frozen=True, slots=True)
class Notion:
    """Anything bought that is not cloth. ``often`` marks one that several steps use."""

    name: str
    title: Text
    amount: Formula | None
    often: bool
    place: Place


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
    """Markdown as written, with what is no Markdown lifted out of it."""

    parts: tuple[str | Inline | Picture, ...]
    place: Place


@dataclass(frozen=True, slots=True)
class FigureRule:
    """A ``figure`` block: which view, and the view's own keys, unread."""

    view: Text
    alt: Text | None
    caption: Text | None
    keys: Table
    place: Place


@dataclass(frozen=True, slots=True)
class Facts:
    """What a step does: ``cut`` names pieces (``shell brim``), ``sew`` seams, ``use`` notions,
    ``care`` cautions."""

    cut: tuple[Text, ...] = ()
    sew: tuple[Text, ...] = ()
    use: tuple[Text, ...] = ()
    care: tuple[Text, ...] = ()


@dataclass(frozen=True, slots=True)
class Step:
    """One numbered step. ``id`` is unique in the recipe and permanent while its place is."""

    id: str
    number: int
    blocks: tuple[Prose | FigureRule, ...]
    facts: Facts
    place: Place


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
    """One thing to make. ``opening`` is what stands before the first stage."""

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

    @property
    def edition(self) -> Edition:
        """The newest edition."""
        return max(self.editions, key=lambda edition: edition.number)


Units = Literal["metric", "inch"]


@dataclass(frozen=True, slots=True)
class Workshop:
    """The settings every recipe of a site shares, from ``workshop.yaml``.

    ``address`` is where the site will stand, or empty. ``units`` come first where both are shown.
    """

    title: Text
    summary: str
    maker: str
    address: str
    language: str
    units: Units
    papers: tuple[str, ...]
    theme: str
    fonts: Mapping[str, tuple[str, ...]]
    place: Place
