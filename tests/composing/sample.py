"""Small drafts made by hand, and a setting with the real faces and words."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache

from notchbook.composing.figures import draw_figure
from notchbook.composing.setting import Setting
from notchbook.drafting.allowance import cut_lines
from notchbook.drafting.draft import Draft, Piece, Seam
from notchbook.drafting.seams import measure_seam, notches_of
from notchbook.drafting.shape import Shape
from notchbook.drafting.shapes import cone, disc, ring, strip, tube
from notchbook.gathering.catalogue import gather_catalogue
from notchbook.gathering.source import Theme
from notchbook.gathering.typefaces import gather_typefaces
from notchbook.problems import ContentError, Place, Problem
from notchbook.reading.formula import Formula, Number
from notchbook.reading.quantity import LENGTH, RATIO, Dimension, Quantity
from notchbook.reading.recipe import (
    Cloth,
    EdgeName,
    Edition,
    Entry,
    FigureRule,
    Recipe,
    Scalar,
    SeamRule,
    Series,
    Size,
    Table,
    Text,
)
from notchbook.reading.workshop import Workshop

NOWHERE = Place("recipe.md", 1, 1)

Allowances = Mapping[str, Mapping[str, float]]


@cache
def setting() -> Setting:
    """The workshop's faces and the English words."""
    fonts = {"text": ("spectral",), "label": ("ibm-plex-sans-condensed",), "others": ("noto-sans",)}
    workshop = Workshop(
        title=Text("Marrowick Lantern Walk", NOWHERE),
        summary="",
        maker="the costume bench",
        address="",
        language="en",
        units="metric",
        papers=("a4",),
        theme="broadside",
        fonts=fonts,
        place=NOWHERE,
    )
    return Setting(
        workshop,
        gather_catalogue("en", NOWHERE),
        gather_typefaces(fonts, NOWHERE),
        Theme("none", {}, {}, {}, {}),
    )


def piece(name: str, shape: Shape, allowance: Allowances, title: str = "") -> Piece:
    """A piece cut once from each cloth; ``allowance`` is each cloth's, edge by edge, in mm, with
    ``""`` for every other edge."""
    edges = shape.flat.edges
    per_cloth = {
        cloth: {edge: given[edge] if edge in given else given[""] for edge in edges}
        for cloth, given in allowance.items()
    }
    return Piece(
        name=name,
        title=title or name.capitalize(),
        shape="sample",
        flat=shape.flat,
        form=shape.form,
        moves=shape.moves,
        pairs={},
        counts=dict.fromkeys(allowance, 1),
        cut_lines=cut_lines(shape.flat, per_cloth),
        notches=(),
    )


def draft_of(*pieces: Piece, seams: Mapping[str, tuple[str, int]] | None = None) -> Draft:
    """A draft of some pieces. Seams by name: their sides (``"shell brim.outer, crown.rim"``) and
    how many notches they have."""
    by_name = {piece.name: piece for piece in pieces}
    flats = {piece.name: piece.flat for piece in pieces}
    measured: dict[str, Seam] = {}
    notches: dict[str, list[object]] = {name: [] for name in by_name}
    for name, (sides, count) in (seams or {}).items():
        rule = SeamRule(
            name, tuple((_edge(side),) for side in sides.split(", ")), {}, count, NOWHERE
        )
        measured[name] = measure_seam(rule, flats, {})
        reach = {
            (p.name, edge): max(line.allowance[edge] for line in p.cut_lines)
            for p in pieces
            for edge in p.flat.edges
        }
        for owner, notch in notches_of(measured[name], count, reach):
            if notch not in notches[owner]:
                notches[owner].append(notch)
    made = {
        name: Piece(
            piece.name, piece.title, piece.shape, piece.flat, piece.form, piece.moves,
            piece.counts, piece.pairs, piece.cut_lines, tuple(notches[name]),  # type: ignore[arg-type]
        )
        for name, piece in by_name.items()
    }  # fmt: skip
    return Draft(
        recipe=recipe(),
        size=Size("head-57cm", "57 cm", {}, NOWHERE),
        measures={},
        values={
            "channel": Quantity(7.0, LENGTH),
            "shell.thickness": Quantity(0.8, LENGTH),
            "lining.thickness": Quantity(0.3, LENGTH),
            "interfacing.thickness": Quantity(1.2, LENGTH),
        },
        pieces=made,
        seams=measured,
        notions={},
    )


def recipe() -> Recipe:
    """A recipe with nothing in it but what a drawing reads."""
    nothing = formula(0, LENGTH)
    cloths = {
        name: Cloth(name, Text(title, NOWHERE), nothing, (), formula(0), False, NOWHERE)
        for name, title in (
            ("shell", "firm twill"),
            ("lining", "cotton lawn"),
            ("interfacing", "heavy craft interfacing"),
        )
    }
    return Recipe(
        slug="lamplighters-hat",
        title=Text("Lamplighter’s hat", NOWHERE),
        summary=Text("", NOWHERE),
        editions=(Edition(1, "2026-11-24", "First edition."),),
        skill="",
        time=None,
        licence="CC-BY-4.0",
        tags=(),
        measures={},
        sizes=(),
        limits=(),
        cloths=cloths,
        workings={},
        pieces={},
        allowance=nothing,
        seams={},
        notions={},
        tools=(),
        care=(),
        opening=(),
        stages=(),
        pictures={},
        place=NOWHERE,
    )


def formula(value: float, dimension: Dimension = RATIO) -> Formula:
    """A plain number as a formula."""
    return Formula(str(value), Number(Quantity(value, dimension), NOWHERE), NOWHERE)


def hat(
    head: float = 585.0, brim: float = 150.0, height: float = 450.0, oval: float = 1.29
) -> Draft:
    """The pieces of a pointed, brimmed hat."""
    crown = cone.draft(rim=head, height=height)
    lined = cone.draft(rim=head, height=height, keep=min(140.0, height / 2))
    top = lined.flat.edges["top"].path.length()
    return draft_of(
        piece(
            "brim",
            ring.draft(inner=head, width=brim, oval=oval),
            {
                "shell": {"": 12, "outer": 6},
                "lining": {"": 12, "outer": 6},
                "interfacing": {"inner": 0, "outer": -2},
            },
        ),
        piece("crown", crown, {"shell": {"": 12}}, "Point"),
        piece("crown_lining", lined, {"lining": {"": 12}}, "Point lining"),
        piece("lining_tip", disc.draft(girth=top), {"lining": {"": 12}}, "Lining tip"),
        piece("band", strip.draft(length=head + 20, width=25), {"shell": {"": 0}}, "Head band"),
        piece("cuff", tube.draft(girth=head, height=70), {"shell": {"": 12}, "lining": {"": 10}}),
        seams={
            "brim edge": ("shell brim.outer, lining brim.outer", 0),
            "point seam": ("crown.left, crown.right", 2),
            "lining seam": ("crown_lining.left, crown_lining.right", 1),
            "lining tip": ("crown_lining.top, lining_tip.edge", 4),
            "crown to brim": ("crown.rim, shell brim.inner", 8),
            "lining to brim": ("crown_lining.rim, lining brim.inner", 4),
        },
    )


def figure(view: str, **keys: str | list[str] | dict[str, str] | Formula) -> FigureRule:
    """A figure block; its keys stand on one line each, from line 41, columns as in a recipe."""
    entries: dict[str, Entry] = {}
    places: dict[str, Place] = {}
    for line, (key, value) in enumerate(keys.items(), start=41):
        places[key] = Place("recipe.md", line, 5)
        entries[key] = _entry(value, Place("recipe.md", line, 7 + len(key)))
    view_text = Text(view, Place("recipe.md", 40, 11))
    return FigureRule(view_text, None, None, Table(entries, places, NOWHERE), NOWHERE)


def figure_problems(draft: Draft, rule: FigureRule) -> tuple[Problem, ...]:
    """What is wrong with a figure."""
    try:
        draw_figure(draft, rule, setting())
    except ContentError as error:
        return error.problems
    return ()


def _entry(value: str | list[str] | dict[str, str] | Formula, place: Place) -> Entry:
    if isinstance(value, Formula):
        return Scalar(value.text, place, value)
    if isinstance(value, str):
        return Scalar(value, place, None)
    at = place.column + 1
    if isinstance(value, dict):
        entries: dict[str, Entry] = {}
        places: dict[str, Place] = {}
        for key, text in value.items():
            places[key] = Place(place.file, place.line, at)
            entries[key] = Scalar(text, Place(place.file, place.line, at + len(key) + 2), None)
            at += len(key) + len(text) + 4
        return Table(entries, places, place)
    series: list[Entry] = []
    for text in value:
        series.append(Scalar(text, Place(place.file, place.line, at), None))
        at += len(text) + 2
    return Series(tuple(series), place)


def _edge(text: str) -> EdgeName:
    *cloth, rest = text.split(" ")
    name, edge = rest.split(".")
    return EdgeName(name, edge, cloth[0] if cloth else None, NOWHERE)
