"""What is worked out from a set of measures, on demand: values, and the shapes of pieces.

Measures, workings, cloths and pieces are one graph: a piece asks for the workings in its
parameters, a working may ask for the length of another piece's edge, and a piece that is derived
from another one for that. What fails is reported once; whatever needs it stays silent.
"""

from __future__ import annotations

from collections.abc import Callable, Collection
from typing import TypeVar

from notchbook.drafting.draft import InnerLine
from notchbook.drafting.fit import LARGEST, SMALLEST, rides_up, stacked, stands_off
from notchbook.drafting.lines import inner_line
from notchbook.drafting.shape import Flat, Form, Refusal, Shape
from notchbook.drafting.signature import arguments, place_of, shape_of
from notchbook.problems import ContentError, Place, Problem, fault, suggestion
from notchbook.reading.arithmetic import Lookup, evaluate, holds
from notchbook.reading.choices import as_value
from notchbook.reading.formula import Formula, Geometry, Name, Number, parse
from notchbook.reading.origins import traced
from notchbook.reading.quantity import (
    AREA,
    LENGTH,
    RATIO,
    VOLUME,
    Dimension,
    Quantity,
    describe,
    with_units,
)
from notchbook.reading.recipe import Cut, Limit, LineRule, PieceRule, Recipe, Scalar, Size
from notchbook.reading.shown import tell

T = TypeVar("T")


class Spoiled(Exception):
    """Something this value needs has failed and has been reported already."""


class Reckoning:
    """One recipe and one set of measures: what is worked out, what failed, what is being asked."""

    def __init__(self, recipe: Recipe, size: Size) -> None:
        self.recipe = recipe
        self.size = size
        self.values: dict[str, Quantity] = {}
        self.problems: list[Problem] = []
        self._shapes: dict[str, Shape] = {}
        self._lines: dict[str, InnerLine] = {}
        self._failed: set[str] = set()
        self._asking: list[str] = []

    def attempt(self, work: Callable[[], T]) -> T | None:
        """What ``work`` gives, or None where it failed; why is among the problems."""
        try:
            return work()
        except ContentError as error:
            self.problems.extend(error.problems)
        except Spoiled:
            pass
        return None

    def _ask(self, key: str, work: Callable[[], T]) -> T:
        """Work out one node of the graph; a node that is asked for while it is being worked out
        closes a circle."""
        if key in self._failed:
            raise Spoiled
        if key in self._asking:
            circle = [*self._asking[self._asking.index(key) :], key]
            self._failed.update(circle)
            place = _place_of(self.recipe, key)
            what = f"These need each other in a circle: {' → '.join(circle)}."
            remedy = "Give one of them a value that does not depend on the others."
            raise fault(place, what, remedy)
        self._asking.append(key)
        try:
            return work()
        except (ContentError, Spoiled) as error:
            self._failed.add(key)
            if isinstance(error, ContentError):
                self.problems.extend(error.problems)
            raise Spoiled from None
        finally:
            self._asking.pop()

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
        remedy = f"Give it between {measure.low.text} and {measure.high.text}."
        found = self.work_out(formula)
        if found.dimension != LENGTH:
            what = f"{measure.title} is a length; “{formula.text}” is not."
            raise fault(formula.place, what, remedy)
        low, high = self.work_out(measure.low, LENGTH), self.work_out(measure.high, LENGTH)
        if not low.value - 1e-6 <= found.value <= high.value + 1e-6:
            what = f"{measure.title} {formula.text} is out of range."
            raise fault(formula.place, what, remedy)
        return found

    def _cloth_property(self, name: str) -> Quantity:
        cloth, _, key = name.partition(".")
        rule = self.recipe.cloths[cloth]
        if key == "thickness":
            return self.within(rule.thickness, LENGTH, 0, 100, "between 0 mm and 100 mm")
        return self.within(rule.shrinkage, RATIO, 0, 0.5, "between 0 % and 50 %")

    def within(
        self, formula: Formula, dimension: Dimension, low: float, high: float, range_: str
    ) -> Quantity:
        """A formula's value, which has to lie between two ends; ``range_`` says so in words."""
        found = self.work_out(formula, dimension)
        if not low <= found.value <= high:
            what = f"“{formula.text}” comes to {tell(found)}, which is out of reach."
            raise fault(formula.place, what, f"Make it {range_}.")
        return found

    def shape(self, name: str) -> Shape:
        """The drafted shape of a piece."""
        if name not in self._shapes:
            rule = self.recipe.pieces[name]
            self._shapes[name] = self._ask(f"piece {name}", lambda: self._make_shape(rule))
        return self._shapes[name]

    def _make_shape(self, rule: PieceRule) -> Shape:
        make = shape_of(rule)
        try:
            return make(**arguments(rule, self.parameter, self._flat))
        except Refusal as refusal:
            what = f"Piece “{rule.name}” can't be made. {refusal.what}"
            place = place_of(rule, refusal.parameter)
            raise fault(place, what, refusal.remedy) from None

    def _flat(self, name: str, place: Place) -> Flat:
        """The flat piece another one is derived from."""
        self._check_known("piece", name, self.recipe.pieces, place)
        return self.shape(name).flat

    def line(self, rule: PieceRule, line: LineRule) -> InnerLine:
        """A line drawn inside a piece."""
        key = f"line {rule.name}.{line.name}"
        if key not in self._lines:
            flat = self.shape(rule.name).flat
            self._lines[key] = self._ask(key, lambda: inner_line(line, rule, flat, self.work_out))
        return self._lines[key]

    def look_up(self, node: Name | Geometry) -> Quantity:
        """What a name or a geometry function in a formula stands for."""
        if isinstance(node, Geometry):
            for name in (node.piece, *node.above):
                self._check_known("piece", name, self.recipe.pieces, node.place)
            rule = self.recipe.pieces[node.piece]
            line = rule.lines.get(node.edge or "")
            if line and node.function == "length":
                return length_of(self.line(rule, line), node)
            return read_geometry(node, self.shape, self.look_up)
        if node.name in self.values:
            return self.values[node.name]
        cloth, dot, key = node.name.partition(".")
        if dot:
            self._check_known("cloth", cloth, self.recipe.cloths, node.place)
            self._check_known("property of a cloth", key, ("shrinkage", "thickness"), node.place)
        else:
            if node.name in self.recipe.choices:
                raise fault(node.place, *as_value(node.name, self.recipe.choices))
            known = (*self.recipe.measures, *self.recipe.workings)
            self._check_known("measure or working", node.name, known, node.place)
        return self.value(node.name)

    def _check_known(self, kind: str, name: str, known: Collection[str], place: Place) -> None:
        """Names in a shape's parameters are first looked up here: reading can't tell a name from
        a word there."""
        if name not in known:
            what = f"There is no {kind} called “{name}”."
            raise fault(place, what, suggestion(name, known))

    def work_out(self, formula: Formula, dimension: Dimension | None = None) -> Quantity:
        """A formula's value, of the dimension asked for."""
        try:
            found = evaluate(formula.tree, self.look_up)
            if dimension is not None and found.dimension != dimension:
                raise _unlike(formula, found.dimension, dimension)
        except ContentError as error:
            raise traced(error, formula, self.recipe) from None
        return found

    def parameter(self, scalar: Scalar, dimension: Dimension) -> float:
        """A shape's parameter as a number in base units. A text that is no formula is parsed again,
        for its exact fault."""
        formula = scalar.formula or parse(scalar.text, scalar.place)
        return self.work_out(formula, dimension).value

    def allowances(self, rule: PieceRule, cut: Cut, flat: Flat) -> dict[str, float]:
        """Each edge's allowance for one cloth, mm: the narrowest word on it counts."""
        edges = flat.edges
        for given in (rule.allowance, cut.allowance):
            for edge in given:
                if edge and edge not in edges:
                    place = rule.allowance_keys.get(edge, given[edge].place)
                    what = f"Piece “{rule.name}” has no edge called “{edge}”."
                    raise fault(place, what, suggestion(edge, edges))
        return {
            edge: self.work_out(_allowance_of(self.recipe, rule, cut, edge), LENGTH).value
            for edge in edges
        }

    def keeps(self, limit: Limit) -> bool | None:
        """Whether a limit holds; None where that can't be worked out."""
        return self.attempt(lambda: holds(limit.require.tree, self.look_up))


def _unlike(formula: Formula, found: Dimension, wanted: Dimension) -> ContentError:
    what = f"“{formula.text}” is {describe(found)}; {describe(wanted)} belongs here."
    bare = isinstance(formula.tree, Number) and found == RATIO
    offered = with_units(formula.text, wanted) if bare else ""
    remedy = f"Write its unit: {offered}." if offered else "Check its units."
    return fault(formula.place, what, remedy)


def read_geometry(node: Geometry, shape_of: Callable[[str], Shape], look_up: Lookup) -> Quantity:
    """What a geometry function reads off drafted pieces, whose shapes ``shape_of`` gives by name.
    Raises ContentError, and whatever ``shape_of`` and ``look_up`` raise."""
    if node.given:
        forms = [(name, shape_of(name).form) for name in (node.piece, *node.above)]
        return _worn(node, forms, evaluate(node.given, look_up))
    shape = shape_of(node.piece)
    if node.function == "area":
        return Quantity(sum(path.area() for path in shape.flat.outline()), AREA)
    if node.function == "volume":
        if shape.form is None:
            what = f"Piece “{node.piece}” is flat and encloses no volume."
            remedy = "Ask for the volume of a piece that has one, such as a cone."
            raise fault(node.place, what, remedy)
        return Quantity(shape.form.volume, VOLUME)
    edges = shape.flat.edges
    if node.edge is None or node.edge not in edges:
        what = f"Piece “{node.piece}” has no edge called “{node.edge}”."
        raise fault(node.place, what, suggestion(node.edge or "", edges))
    return Quantity(edges[node.edge].length(), LENGTH)


def length_of(line: InnerLine, node: Geometry) -> Quantity:
    """How long a line drawn inside a piece is. ContentError where it is crosses."""
    if line.path is None:
        what = f"“{node.piece}.{node.edge}” are crosses, which have no length."
        raise fault(node.place, what, "Ask for the length of an edge, or of a line.")
    return Quantity(line.path.length(), LENGTH)


def _worn(node: Geometry, forms: list[tuple[str, Form | None]], girth: Quantity) -> Quantity:
    """How far pieces, from the lowest up, ride up on a head of some girth, or stand off it."""
    insides = [(name, form.inside if form else ()) for name, form in forms]
    for name, inside in insides:
        # A disc closes what it is sewn to, and nothing else.
        if not inside or (name == node.piece and not inside[-1].height):
            what = f"Nothing can be put into piece “{name}”."
            remedy = "Ask for a cone, a tube or a gore that is open below."
            raise fault(node.place, what, remedy)
    if girth.dimension != LENGTH or not SMALLEST <= girth.value <= LARGEST:
        what = f"“{node.function}” takes the girth of a head, and this comes to {tell(girth)}."
        remedy = f"Write a girth: {node.function}({', '.join(name for name, _ in forms)}, 57 cm)."
        raise fault(node.place, what, remedy)
    fits = rides_up if node.function == "rides_up" else stands_off
    try:
        return Quantity(fits(stacked(insides), girth.value), LENGTH)
    except Refusal as refusal:
        raise fault(node.place, refusal.what, refusal.remedy) from None


def _allowance_of(recipe: Recipe, rule: PieceRule, cut: Cut, edge: str) -> Formula:
    for given in (cut.allowance, rule.allowance):
        for key in (edge, ""):
            if key in given:
                return given[key]
    return recipe.allowance


def _place_of(recipe: Recipe, key: str) -> Place:
    """Where a node of the graph stands: ``rim``, ``shell.thickness`` or ``piece brim``."""
    if key.startswith("line "):
        piece, _, line = key.removeprefix("line ").partition(".")
        return recipe.pieces[piece].lines[line].place
    if key.startswith("piece "):
        return recipe.pieces[key.removeprefix("piece ")].place
    cloth = recipe.cloths.get(key.partition(".")[0]) if "." in key else None
    return (cloth or recipe.workings.get(key) or recipe.measures[key]).place
