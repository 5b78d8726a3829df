"""Sizes: a run of one measure, or a table of named ones, and always the usual values."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from fractions import Fraction

from notchbook.problems import Findings, Place, suggestion
from notchbook.reading.choices import ADDRESS, USUAL
from notchbook.reading.fields import Part, branch, constant, part, quantity
from notchbook.reading.formula import Formula, Number
from notchbook.reading.quantity import LENGTH, UNITS, Quantity
from notchbook.reading.recipe import Measure, Size
from notchbook.tree import Leaf, Node

MOST = 200
"""Sizes in one run."""

RUN_KEYS = ("measure", "from", "to", "step")
_UNIT = re.compile(r"(mm|cm|m|in|ft|yd)\Z")


def read(
    node: Node | None, place: Place, measures: Mapping[str, Measure], findings: Findings
) -> tuple[Size, ...]:
    """The sizes that are published, in the author's order, the usual values first if no named
    size has them."""
    if node is None:
        sizes: tuple[Size, ...] = ()
    else:
        found = branch(node, "“sizes”", place, findings)
        entries = found.entries
        if any(isinstance(entries.get(key), Leaf) for key in RUN_KEYS):
            sizes = _run(part(node, "“sizes”", place, RUN_KEYS, findings), measures)
        else:
            sizes = tuple(
                _named(name, entry, found.keys[name], measures, findings)
                for name, entry in entries.items()
            )
    if any(is_usual(size, measures) for size in sizes):
        return sizes
    for size in sizes:
        if size.id == USUAL:
            what = "The size “usual” has values of its own."
            findings.add(size.place, what, "Give it another name, or every measure's usual value.")
    return Size(USUAL, USUAL, {}, place), *sizes


def _run(run: Part, measures: Mapping[str, Measure]) -> tuple[Size, ...]:
    findings = run.findings
    name = run.text("measure", next(iter(measures), "head"))
    measure = measures.get(name.value)
    if name.value and measure is None:
        what = f"No measure is called “{name.value}”."
        findings.add(name.place, what, suggestion(name.value, measures))
    ends = [run.quantity(key, LENGTH, "52 cm") for key in ("from", "to", "step")]
    first, last, step = (_plain(formula, findings) for formula in ends)
    if measure is None or first is None or last is None or step is None:
        return ()
    if step <= 0 or last < first:
        what = f"Steps of {ends[2].text} do not lead from {ends[0].text} to {ends[1].text}."
        findings.add(ends[2].place, what, "Write the smaller end first, and a step above zero.")
        return ()
    unit = _UNIT.search(ends[0].text)
    assert unit is not None
    steps = (last - first) / step
    if steps > MOST:
        what = f"This run has more than {MOST} sizes."
        findings.add(ends[2].place, what, "Use a larger step.")
        return ()
    if not math.isclose(steps, round(steps), abs_tol=1e-6):
        before = _figures(first + math.floor(steps) * step, unit[0])
        what = f"From {ends[0].text}, steps of {ends[2].text} miss {ends[1].text}."
        findings.add(ends[1].place, what, f"The last before it is {before} {unit[0]}.")
        return ()
    for end in ends[:2]:
        _in_range(end, measure, findings)
    return tuple(
        _step(measure, first + number * step, unit[0], run.place)
        for number in range(round(steps) + 1)
    )


def _plain(formula: Formula, findings: Findings) -> float | None:
    if isinstance(formula.tree, Number):
        return formula.tree.quantity.value
    if formula.text:
        what = f"“{formula.text}” is a formula, and the sizes of a run are named after a number."
        findings.add(formula.place, what, "Write one number and its unit.")
    return None


def _step(measure: Measure, mm: float, unit: str, place: Place) -> Size:
    # The id is an address on the web: lower-case ASCII, whatever the measure is called.
    front = measure.name.lower().replace("_", "-") if measure.name.isascii() else "size"
    figures = _figures(mm, unit)
    shown = f"{_mixed(mm / UNITS[unit].value) if unit in ('in', 'ft', 'yd') else figures} {unit}"
    formula = Formula(f"{figures} {unit}", Number(Quantity(mm, LENGTH), place), place)
    return Size(f"{front}-{figures.replace('.', '-')}{unit}", shown, {measure.name: formula}, place)


def _figures(mm: float, unit: str) -> str:
    text = f"{mm / UNITS[unit].value:.4f}"
    return text.rstrip("0").rstrip(".")


def _mixed(inches: float) -> str:
    """``22 1/2`` where the value is a fraction of a tape, decimals otherwise."""
    fraction = Fraction(inches).limit_denominator(32)
    if abs(float(fraction) - inches) > 1e-6 or fraction.denominator not in (2, 4, 8, 16, 32):
        return f"{inches:.4f}".rstrip("0").rstrip(".")
    number, rest = divmod(fraction.numerator, fraction.denominator)
    return f"{number or ''} {rest}/{fraction.denominator}".strip()


def _named(
    name: str, node: Node, place: Place, measures: Mapping[str, Measure], findings: Findings
) -> Size:
    if not ADDRESS.fullmatch(name):
        what = f"“{name}” can't be the name of a size, which is part of a web address."
        findings.add(place, what, "Use a to z, 0 to 9 and single hyphens; “title” can say more.")
    size = part(node, f"“{name}”", place, ("title", *measures), findings)
    values = {
        key: quantity(value, f"“{key}”", size.at(key), LENGTH, findings)
        for key, value in size.branch.entries.items()
        if key in measures
    }
    for key, formula in values.items():
        _in_range(formula, measures[key], findings)
    return Size(name, size.text_or("title", name), values, place)


def _in_range(formula: Formula, measure: Measure, findings: Findings) -> None:
    value, low, high = constant(formula), constant(measure.low), constant(measure.high)
    if value is None or low is None or high is None or low.value <= value.value <= high.value:
        return
    what = (
        f"{formula.text} is outside the range of “{measure.name}”, "
        f"{measure.low.text} to {measure.high.text}."
    )
    findings.add(formula.place, what, "Widen the range, or leave this size out.")


def is_usual(size: Size, measures: Mapping[str, Measure]) -> bool:
    """Whether a size has every measure's usual value, as far as reading can tell."""
    for name, formula in size.measures.items():
        value, usual = constant(formula), constant(measures[name].usual)
        if value is None or usual is None:
            return False
        if not math.isclose(value.value, usual.value, abs_tol=1e-6):
            return False
    return True
