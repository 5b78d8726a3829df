"""Names: that each is one, that no two clash, and that whatever is named exists.

Reading knows names; what a shape's parameters mean, which edges a shape has and what a figure
shows is known further on.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Mapping
from itertools import combinations

from notchbook.problems import Findings, Place, suggestion
from notchbook.reading.choices import as_value
from notchbook.reading.formula import RESERVED, Formula, Geometry, Name, references
from notchbook.reading.front_matter import CLOTHS, KEYS, PIECES
from notchbook.reading.inner_lines import formulas_of
from notchbook.reading.recipe import (
    Choice,
    Cloth,
    Condition,
    EdgeName,
    LineRule,
    Measure,
    PieceRule,
    Recipe,
    Step,
    Text,
    When,
    Working,
)
from notchbook.reading.walk import all_blocks, all_gaps, all_inlines, all_steps
from notchbook.tree import Branch, Row

PROPERTIES = ("thickness", "shrinkage")
"""Properties of a cloth that formulas can use."""

_WORD = re.compile(r"[^\W\d]\w*")


def check(recipe: Recipe, tree: Branch, findings: Findings) -> None:
    """Reports every name that is none, is taken, or stands for nothing.

    ``tree`` is the front matter the recipe was read from: where a part of it could not be read,
    names that might stand there are left alone.
    """
    _check_definitions(recipe, findings)
    checker = _Checker(recipe, _whole_parts(tree), findings)
    for when in _whens(recipe):
        for condition in when:
            checker.condition(condition)
    for working in recipe.workings.values():
        if working.by:
            checker.choice(working.by.choice)
    for formula in all_formulas(recipe):
        for node in references(formula.tree):
            checker.reference(node)
    for piece in recipe.pieces.values():
        for cut in piece.cut:
            checker.known(cut.cloth, cut.place, recipe.cloths, "cloths", "cloth")
    for seam in recipe.seams.values():
        for side in seam.sides:
            for edge in side:
                checker.edge(edge)
    for step in all_steps(recipe):
        checker.step(step)


def _whole_parts(tree: Branch) -> frozenset[str]:
    """The keys of the front matter under which every name is known. A key nobody knows may be any
    of those that are missing, misspelt."""
    misspelt = any(key not in KEYS for key in tree.entries)
    return frozenset(
        key
        for key in KEYS
        if isinstance(tree.entries.get(key), Branch | Row)
        or (key not in tree.entries and not misspelt)
    )


def _check_definitions(recipe: Recipe, findings: Findings) -> None:
    named: list[Measure | Choice | Working | Cloth | PieceRule | LineRule] = [
        *recipe.measures.values()
    ]
    named += [
        *recipe.choices.values(),
        *recipe.workings.values(),
        *recipe.cloths.values(),
        *recipe.pieces.values(),
        *(line for piece in recipe.pieces.values() for line in piece.lines.values()),
    ]
    for each in named:
        if each.name in RESERVED:
            what = f"“{each.name}” is a word of the formula language."
            findings.add(each.place, what, "Choose another name.")
        elif not _WORD.fullmatch(each.name):
            what = f"“{each.name}” can't be a name."
            remedy = "Use letters, digits and underscores, and begin with a letter."
            plain = re.sub(r"[\s-]+", "_", each.name.strip())
            if _WORD.fullmatch(plain) and plain not in RESERVED:
                remedy = f"Write {plain}: a name is letters, digits and underscores."
            findings.add(each.place, what, remedy)
    kinds: list[tuple[str, Mapping[str, Measure | Choice | Working]]] = [
        ("measure", recipe.measures),
        ("choice", recipe.choices),
        ("working", recipe.workings),
    ]
    for (first, taken), (second, names) in combinations(kinds, 2):
        for name in names.keys() & taken.keys():
            what = f"“{name}” is a {first} already, on line {taken[name].place.line}."
            findings.add(names[name].place, what, f"Give the {second} another name.")


class _Checker:
    """Looks names up in one recipe."""

    def __init__(self, recipe: Recipe, whole: frozenset[str], findings: Findings) -> None:
        self.recipe = recipe
        self.whole = whole
        self.findings = findings
        properties = {f"{cloth}.{word}" for cloth in recipe.cloths for word in PROPERTIES}
        self.values = {*recipe.measures, *recipe.workings, *properties}

    def known(self, name: str, place: Place, names: Collection[str], key: str, kind: str) -> bool:
        """Whether ``name`` stands under ``key``, reported if it does not."""
        if name not in names and name and key in self.whole:
            remedy = suggestion(name, names) if names else _first(key, name)
            if names and key in _OPEN and not remedy.startswith("Did"):
                remedy = f"Name it under “{key}” in the front matter too. {remedy}"
            self.findings.add(place, f"No {kind} is called “{name}”.", remedy)
        return name in names

    def reference(self, node: Name | Geometry) -> None:
        recipe = self.recipe
        if isinstance(node, Geometry):
            self.known(node.piece, node.place, recipe.pieces, "pieces", "piece")
            return
        name = node.name
        if not name or name in self.values or not self.whole.issuperset(_VALUES):
            return
        cloth, dot, _ = name.partition(".")
        if name in recipe.choices:
            what, remedy = as_value(name, recipe.choices)
        elif name in recipe.pieces:
            what = f"“{name}” is a piece, and a value is wanted here."
            remedy = f"Write length({name}.edge), area({name}) or volume({name})."
        elif dot and cloth in recipe.pieces and cloth not in recipe.cloths:
            what = f"“{name}” is an edge, and a value is wanted here."
            remedy = f"Write length({name})."
        elif name in recipe.cloths:
            what = f"“{name}” is a cloth, and a value is wanted here."
            remedy = f"Write {name}.thickness or {name}.shrinkage."
        else:
            what = f"No measure or working is called “{name}”."
            if dot:
                what = f"No cloth has a property “{name}”."
            remedy = suggestion(name, self.values)
        self.findings.add(node.place, what, remedy)

    def choice(self, name: Text) -> bool:
        return self.known(name.value, name.place, self.recipe.choices, "choices", "choice")

    def condition(self, condition: Condition) -> None:
        if self.choice(condition.choice):
            options = self.recipe.choices[condition.choice.value].options
            for option in condition.options:
                if option.value and options and option.value not in options:
                    what = f"Choice “{condition.choice}” has no option “{option}”."
                    self.findings.add(option.place, what, suggestion(option.value, options))

    def edge(self, edge: EdgeName) -> None:
        recipe = self.recipe
        if not self.known(edge.piece, edge.place, recipe.pieces, "pieces", "piece"):
            return
        cuts = [cut.cloth for cut in recipe.pieces[edge.piece].cut]
        if edge.cloth is None and len(cuts) > 1:
            what = f"“{edge.piece}” is cut from {_list(cuts)}, and “{edge}” does not say which."
            self.findings.add(edge.place, what, f"Write the cloth in front: {cuts[0]} {edge}.")
        elif edge.cloth is not None:
            self.cut_from(edge.cloth, recipe.pieces[edge.piece], edge.place)

    def cut_from(self, cloth: str, piece: PieceRule, place: Place) -> None:
        cuts = [cut.cloth for cut in piece.cut]
        if cloth not in cuts and cuts:
            what = f"“{piece.name}” is not cut from “{cloth}”."
            self.findings.add(place, what, suggestion(cloth, cuts))

    def step(self, step: Step) -> None:
        recipe, facts = self.recipe, step.facts
        for text in facts.cut:
            self.piece(text)
        for edge in facts.clip:
            if self.known(edge.piece, edge.place, recipe.pieces, "pieces", "piece") and edge.cloth:
                self.cut_from(edge.cloth, recipe.pieces[edge.piece], edge.place)
        tools = {tool.value for tool in recipe.tools}
        for text in facts.lines:
            self.line(text)
        seams = (*facts.sew, *facts.close, *(gap.seam for gap in facts.leave))
        for texts, names, key, kind in (
            (seams, recipe.seams, "seams", "seam"),
            (facts.use, {*recipe.notions, *tools}, "notions", "notion or tool"),
            (facts.care, {text.value for text in recipe.care}, "care", "caution of this recipe"),
        ):
            for text in texts:
                self.known(text.value, text.place, names, key, kind)

    def line(self, text: Text) -> None:
        """``side.fold``: a line drawn inside a piece."""
        name, dot, line = text.value.partition(".")
        pieces = self.recipe.pieces
        if not self.known(name, text.place, pieces, "pieces", "piece"):
            return
        lines = pieces[name].lines
        if line not in lines:
            what = f"Piece “{name}” has no line called “{line}”."
            remedy = suggestion(line, lines) if lines else f"Draw one under “lines” of “{name}”."
            if not dot:
                what = f"“{name}” is a piece, and one of its lines is wanted here."
                remedy = f"Write {name}.{next(iter(lines), 'line')}."
            self.findings.add(text.place, what, remedy)

    def piece(self, text: Text) -> None:
        """``brim`` or ``shell brim``."""
        cloth, _, name = text.value.rpartition(" ")
        recipe = self.recipe
        if self.known(name, text.place, recipe.pieces, "pieces", "piece") and cloth:
            self.cut_from(cloth.strip(), recipe.pieces[name], text.place)


_OPEN = ("care", "notions")
"""What is more often left out above than misspelt below."""


def _first(key: str, name: str) -> str:
    """What to do where nothing of a kind is named yet: the least there is to write."""
    line = {
        "cloths": CLOTHS,
        "pieces": PIECES,
        "seams": f"seams: {{{name}: {{join: [body.left, body.right]}}}}",
        "notions": f"notions: {{{name}: {{title: {name}, amount: 1}}}}",
        "care": f"care: [{name}]",
        "choices": f"choices: {{{name}: {{title: …, ask: …, options: {{…}}, usual: …}}}}",
    }
    return f"The front matter has none yet. Add a line such as “{line[key]}”."


_VALUES = frozenset({"measures", "choices", "workings", "cloths"})


def _list(names: Collection[str]) -> str:
    *most, last = names
    return f"{', '.join(most)} and {last}"


def _whens(recipe: Recipe) -> Iterator[When]:
    """Every condition of a recipe whose choices are not settled."""
    for part in (recipe.measures, recipe.pieces, recipe.seams, recipe.notions):
        yield from (each.when for each in part.values())
    yield from (limit.when for limit in recipe.limits)
    yield from (line.when for piece in recipe.pieces.values() for line in piece.lines.values())
    yield from (step.when for step in all_steps(recipe))
    yield from (block.when for block in all_blocks(recipe))


def all_formulas(recipe: Recipe) -> Iterator[Formula]:
    """Every formula whose names reading knows."""
    for measure in recipe.measures.values():
        yield from (measure.usual, measure.low, measure.high)
    for size in recipe.sizes:
        yield from size.measures.values()
    yield from (limit.require for limit in recipe.limits)
    for cloth in recipe.cloths.values():
        narrows = (cloth.narrows,) if cloth.narrows else ()
        yield from (cloth.thickness, cloth.shrinkage, *narrows, *cloth.widths)
    for working in recipe.workings.values():
        yield from working.by.formulas.values() if working.by else (working.formula,)
    yield recipe.allowance
    for piece in recipe.pieces.values():
        yield from piece.allowance.values()
        for cut in piece.cut:
            yield from cut.allowance.values()
        for line in piece.lines.values():
            yield from formulas_of(line)
    for seam in recipe.seams.values():
        yield from seam.ease.values()
        yield from seam.gather.values()
        yield from (pleats.depth for pleats in seam.pleats.values())
    for formula in (
        *(notion.amount for notion in recipe.notions.values()),
        *(stage.time for stage in recipe.stages),
        recipe.time,
    ):
        if formula is not None:
            yield formula
    for gap in all_gaps(recipe):
        yield from (gap.length, gap.at) if gap.at else (gap.length,)
    yield from (inline.formula for inline in all_inlines(recipe))
