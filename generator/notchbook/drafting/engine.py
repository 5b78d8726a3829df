"""One recipe drafted for one body.

Measures, workings, pieces and quantities are one graph, evaluated on demand: a piece asks for the
workings in its parameters, a working may ask for the length of another piece's edge. What fails
is reported once; whatever needs it stays silent.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from dataclasses import replace
from functools import partial
from typing import TypeVar

from notchbook.drafting.allowance import AllowanceError, cut_lines
from notchbook.drafting.draft import Draft, Notch, Piece, Seam
from notchbook.drafting.seams import measure_seam, notches_of
from notchbook.drafting.shape import Flat, Refusal, Shape
from notchbook.drafting.signature import arguments, place_of, shape_of
from notchbook.problems import ContentError, Place, Problem, suggestion
from notchbook.reading.arithmetic import evaluate, holds
from notchbook.reading.formula import Formula, Geometry, Name, parse
from notchbook.reading.quantity import (
    AREA,
    LENGTH,
    RATIO,
    TIME,
    VOLUME,
    Dimension,
    Quantity,
    describe,
)
from notchbook.reading.recipe import Cut, Limit, PieceRule, Recipe, Scalar, Size

T = TypeVar("T")


def draft(recipe: Recipe, size: Size) -> Draft:
    """Draft a recipe for one set of measures.

    Raises ContentError with every problem of this size: measures out of range, limits not kept,
    formulas that can't be worked out, pieces that can't be made.
    """
    return _Desk(recipe, size).draft()


def evaluate_in(made: Draft, formula: Formula) -> Quantity:
    """The value of a formula in the text, for a draft already made."""

    def look_up(node: Name | Geometry) -> Quantity:
        if isinstance(node, Geometry):
            piece = made.pieces[node.piece]
            return _read_geometry(node, Shape(piece.flat, piece.form, piece.moves))
        return made.values[node.name]

    return evaluate(formula.tree, look_up)


def limits_kept(recipe: Recipe, size: Size) -> bool:
    """Whether a set of measures keeps the recipe's limits. One that can't be worked out counts as
    kept: drafting then says why."""
    desk = _Desk(recipe, size)
    return all(desk.keeps(limit) is not False for limit in recipe.limits)


class _Spoiled(Exception):
    """Something this value needs has failed and has been reported already."""


class _Desk:
    """The working state of one draft: what is worked out, what failed, what is being asked."""

    def __init__(self, recipe: Recipe, size: Size) -> None:
        self.recipe = recipe
        self.size = size
        self.values: dict[str, Quantity] = {}
        self.shapes: dict[str, Shape] = {}
        self.failed: set[str] = set()
        self.asking: list[str] = []
        self.problems: list[Problem] = []

    def draft(self) -> Draft:
        """Work out everything; what could not be is raised together."""
        recipe = self.recipe
        measures = {name: self._try(partial(self.value, name)) for name in recipe.measures}
        for name in recipe.workings:
            self._try(partial(self.value, name))
        for cloth in recipe.cloths.values():
            for key in ("thickness", "shrinkage"):
                self._try(partial(self.value, f"{cloth.name}.{key}"))
            for width in cloth.widths:
                self._try(partial(self._within, width, LENGTH, 100, 1e4, "between 10 cm and 10 m"))
        times = (recipe.time, *(stage.time for stage in recipe.stages))
        for time in times:
            if time:
                self._try(partial(self.work_out, time, TIME))
        for limit in recipe.limits:
            if self.keeps(limit) is False:
                what = f"These measures don't go together ({limit.require.text}): {limit.say}"
                remedy = "Change the measures, or the limit."
                self.problems.append(Problem(limit.require.place, what, remedy))
        pieces = {
            name: piece
            for name, rule in recipe.pieces.items()
            if (piece := self._try(partial(self.piece, rule))) is not None
        }
        notions = {
            name: self._try(partial(self.work_out, notion.amount)) if notion.amount else None
            for name, notion in recipe.notions.items()
        }
        if len(pieces) == len(recipe.pieces):
            pieces, seams = self.join(pieces)
        if self.problems:
            raise ContentError(self.problems)
        values = dict(self.values)
        kept = {name: value.value for name, value in measures.items() if value is not None}
        return Draft(recipe, self.size, kept, values, pieces, seams, notions)

    def _try(self, work: Callable[[], T]) -> T | None:
        try:
            return work()
        except ContentError as error:
            self.problems.extend(error.problems)
        except _Spoiled:
            pass
        return None

    # The graph.

    def _ask(self, key: str, work: Callable[[], T]) -> T:
        """Work out one node of the graph; a node that is asked for while it is being worked out
        closes a circle."""
        if key in self.failed:
            raise _Spoiled
        if key in self.asking:
            circle = [*self.asking[self.asking.index(key) :], key]
            self.failed.update(circle)
            place = _place_of(self.recipe, key)
            what = f"These need each other in a circle: {' → '.join(circle)}."
            remedy = "Give one of them a value that does not depend on the others."
            raise ContentError([Problem(place, what, remedy)])
        self.asking.append(key)
        try:
            return work()
        except (ContentError, _Spoiled) as error:
            self.failed.add(key)
            if isinstance(error, ContentError):
                self.problems.extend(error.problems)
            raise _Spoiled from None
        finally:
            self.asking.pop()

    def value(self, name: str) -> Quantity:
        """A measure, a working, or a property of a cloth (``shell.thickness``)."""
        if name not in self.values:
            self.values[name] = self._ask(name, lambda: self._work_out_value(name))
        return self.values[name]

    def _work_out_value(self, name: str) -> Quantity:
        if name in self.recipe.workings:
            return self.work_out(self.recipe.workings[name].formula)
        if "." in name:
            return self._cloth_property(name)
        measure = self.recipe.measures[name]
        formula = self.size.measures.get(name, measure.usual)
        found = self.work_out(formula)
        low, high = self.work_out(measure.low), self.work_out(measure.high)
        if found.dimension != low.dimension:
            what = f"{measure.title} is {describe(low.dimension)}; “{formula.text}” is not."
            remedy = f"Give it between {measure.low.text} and {measure.high.text}."
            raise ContentError([Problem(formula.place, what, remedy)])
        if not low.value - 1e-6 <= found.value <= high.value + 1e-6:
            what = f"{measure.title} {formula.text} is out of range."
            remedy = f"Give it between {measure.low.text} and {measure.high.text}."
            raise ContentError([Problem(formula.place, what, remedy)])
        return found

    def _cloth_property(self, name: str) -> Quantity:
        cloth, _, key = name.partition(".")
        rule = self.recipe.cloths[cloth]
        if key == "thickness":
            return self._within(rule.thickness, LENGTH, 0, 100, "between 0 mm and 100 mm")
        return self._within(rule.shrinkage, RATIO, 0, 0.5, "between 0 % and 50 %")

    def _within(
        self, formula: Formula, dimension: Dimension, low: float, high: float, range_: str
    ) -> Quantity:
        found = self.work_out(formula, dimension)
        if not low <= found.value <= high:
            what = f"“{formula.text}” comes to {found.value:g}, which is out of reach."
            raise ContentError([Problem(formula.place, what, f"Make it {range_}.")])
        return found

    def shape(self, name: str) -> Shape:
        """The drafted shape of a piece."""
        if name not in self.shapes:
            rule = self.recipe.pieces[name]
            self.shapes[name] = self._ask(f"piece {name}", lambda: self._make_shape(rule))
        return self.shapes[name]

    def _make_shape(self, rule: PieceRule) -> Shape:
        make = shape_of(rule)
        try:
            return make(**arguments(rule, self.parameter))
        except Refusal as refusal:
            what = f"Piece “{rule.name}” can't be made. {refusal.what}"
            place = place_of(rule, refusal.parameter)
            raise ContentError([Problem(place, what, refusal.remedy)]) from None

    def look_up(self, node: Name | Geometry) -> Quantity:
        """What a name or a geometry function in a formula stands for."""
        if isinstance(node, Geometry):
            self._check_known("piece", node.piece, self.recipe.pieces, node.place)
            return _read_geometry(node, self.shape(node.piece))
        cloth, dot, key = node.name.partition(".")
        if dot:
            self._check_known("cloth", cloth, self.recipe.cloths, node.place)
            self._check_known("property of a cloth", key, ("shrinkage", "thickness"), node.place)
        else:
            known = (*self.recipe.measures, *self.recipe.workings)
            self._check_known("measure or working", node.name, known, node.place)
        return self.value(node.name)

    def _check_known(self, kind: str, name: str, known: Collection[str], place: Place) -> None:
        """Names in a shape's parameters are first looked up here: reading can't tell a name from
        a word there."""
        if name not in known:
            what = f"There is no {kind} called “{name}”."
            raise ContentError([Problem(place, what, suggestion(name, known))])

    def work_out(self, formula: Formula, dimension: Dimension | None = None) -> Quantity:
        """A formula's value, of the dimension asked for."""
        found = evaluate(formula.tree, self.look_up)
        if dimension is not None and found.dimension != dimension:
            kind = describe(found.dimension)
            what = f"“{formula.text}” is {kind}; {describe(dimension)} belongs here."
            remedy = "Change the formula so that its units agree, as 12 mm + 1 cm do."
            raise ContentError([Problem(formula.place, what, remedy)])
        return found

    def parameter(self, scalar: Scalar, dimension: Dimension) -> float:
        """A shape's parameter as a number in base units. A text that is no formula is parsed again,
        for its exact fault."""
        formula = scalar.formula or parse(scalar.text, scalar.place)
        return self.work_out(formula, dimension).value

    def keeps(self, limit: Limit) -> bool | None:
        """Whether a limit holds; None where that can't be worked out."""
        return self._try(lambda: holds(limit.require.tree, self.look_up))

    # Pieces and seams.

    def piece(self, rule: PieceRule) -> Piece:
        """A whole piece but for its notches, which need the seams."""
        shape = self.shape(rule.name)
        per_cloth = {cut.cloth: self.allowances(rule, cut, shape.flat) for cut in rule.cut}
        try:
            lines = cut_lines(shape.flat, per_cloth)
        except AllowanceError as error:
            what = f"Piece “{rule.name}” can't be given its allowance: {error.what}"
            remedy = f"Use a smaller allowance at “{error.edge}”, or a larger piece."
            place = _allowance_place(self.recipe, rule, error.edge).place
            raise ContentError([Problem(place, what, remedy)]) from None
        return Piece(
            name=rule.name,
            title=rule.title.value,
            shape=rule.shape.value,
            flat=shape.flat,
            form=shape.form,
            moves=shape.moves,
            counts={cut.cloth: cut.count for cut in rule.cut},
            cut_lines=lines,
            notches=(),
        )

    def allowances(self, rule: PieceRule, cut: Cut, flat: Flat) -> dict[str, float]:
        """Each edge's allowance for one cloth, mm: the narrowest word on it counts."""
        edges = flat.edges
        for given in (rule.allowance, cut.allowance):
            for edge in given:
                if edge and edge not in edges:
                    place = rule.allowance_keys.get(edge, given[edge].place)
                    what = f"Piece “{rule.name}” has no edge called “{edge}”."
                    raise ContentError([Problem(place, what, suggestion(edge, edges))])
        return {
            edge: self.work_out(_allowance_of(self.recipe, rule, cut, edge), LENGTH).value
            for edge in edges
        }

    def join(self, pieces: Mapping[str, Piece]) -> tuple[dict[str, Piece], dict[str, Seam]]:
        """The seams of drafted pieces, and the pieces with their notches."""
        flats = {name: piece.flat for name, piece in pieces.items()}
        reach = {
            (piece.name, edge): max(line.allowance[edge] for line in piece.cut_lines)
            for piece in pieces.values()
            for edge in piece.flat.edges
        }
        seams: dict[str, Seam] = {}
        notches: dict[str, list[Notch]] = {name: [] for name in pieces}
        for rule in self.recipe.seams.values():
            unknown = [
                Problem(
                    name.place,
                    f"Piece “{name.piece}” has no edge called “{name.edge}”.",
                    suggestion(name.edge, flats[name.piece].edges),
                )
                for side in rule.sides
                for name in side
                if name.edge not in flats[name.piece].edges
            ]
            if unknown:
                self.problems.extend(unknown)
                continue
            ease = {
                number: found.value
                for number, formula in rule.ease.items()
                if (found := self._try(partial(self.work_out, formula, LENGTH))) is not None
            }
            seam = measure_seam(rule, flats, ease)
            seams[rule.name] = seam
            for piece, notch in notches_of(seam, rule.notches, flats, reach):
                notches[piece].append(notch)
        notched = {
            name: replace(piece, notches=tuple(notches[name])) for name, piece in pieces.items()
        }
        return notched, seams


def _read_geometry(node: Geometry, shape: Shape) -> Quantity:
    if node.function == "area":
        return Quantity(sum(path.area() for path in shape.flat.outline()), AREA)
    if node.function == "volume":
        if shape.form is None:
            what = f"Piece “{node.piece}” is flat and encloses no volume."
            remedy = "Ask for the volume of a piece that has one, such as a cone."
            raise ContentError([Problem(node.place, what, remedy)])
        return Quantity(shape.form.volume, VOLUME)
    edges = shape.flat.edges
    if node.edge is None or node.edge not in edges:
        what = f"Piece “{node.piece}” has no edge called “{node.edge}”."
        raise ContentError([Problem(node.place, what, suggestion(node.edge or "", edges))])
    return Quantity(edges[node.edge].path.length(), LENGTH)


def _place_of(recipe: Recipe, key: str) -> Place:
    """Where a node of the graph stands: ``rim``, ``shell.thickness`` or ``piece brim``."""
    if key.startswith("piece "):
        return recipe.pieces[key.removeprefix("piece ")].place
    cloth = recipe.cloths.get(key.partition(".")[0]) if "." in key else None
    return (cloth or recipe.workings.get(key) or recipe.measures[key]).place


def _allowance_of(recipe: Recipe, rule: PieceRule, cut: Cut, edge: str) -> Formula:
    for given in (cut.allowance, rule.allowance):
        for key in (edge, ""):
            if key in given:
                return given[key]
    return recipe.allowance


def _allowance_place(recipe: Recipe, rule: PieceRule, edge: str) -> Formula:
    for cut in rule.cut:
        if edge in cut.allowance:
            return cut.allowance[edge]
    return rule.allowance.get(edge) or rule.allowance.get("") or recipe.allowance
