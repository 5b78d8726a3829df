"""Choices: what a reader decides that is no measure, what depends on it, and which sets of
choices are published."""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping

from notchbook.problems import Findings, Place, suggestion
from notchbook.reading.fields import Part, part, quantity, text, unread
from notchbook.reading.recipe import By, Choice, ChoiceSet, Condition, Text, When, Working
from notchbook.tree import Branch, Node, Row

KEYS = ("title", "ask", "options", "usual")
BY_KEYS = ("by", "why")
SIZES = "sizes"
"""Stands among the choices of a set, so that no choice can be called so."""

USUAL = "usual"
ADDRESS = re.compile("[a-z0-9]+(-[a-z0-9]+)*")
"""What can be part of a web address."""

_OPTION = re.compile(r"\w[\w-]*")


def read(front: Part) -> Mapping[str, Choice]:
    """The choices of a recipe."""
    return {name: _choice(each, name) for name, each in front.parts("choices", KEYS)}


def _choice(each: Part, name: str) -> Choice:
    findings = each.findings
    if name == SIZES:
        what = f"“{name}” can't be a choice: below “publish” it stands for the sizes of a set."
        findings.add(each.place, what, "Choose another name.")
    need = each.need("options", "{oval: oval, round: round}")
    options: dict[str, Text] = {}
    for option, node, place in each.branches("options"):
        options[option] = text(node, f"“{option}”", place, findings)
        if option in BY_KEYS or not _OPTION.fullmatch(option):
            what = f"“{option}” can't be the name of an option."
            remedy = "Use letters, digits and hyphens, and not “by” or “why”."
            findings.add(place, what, remedy)
    if isinstance(need, Branch) and len(options) < 2:
        what = f"{each.name} has {len(options) or 'no'} option, so there is nothing to choose."
        remedy = "Write two or more: {oval: oval, round: round}."
        findings.add(need.place, what, remedy)
    usual = each.text("usual", next(iter(options), "oval"))
    if usual.value and options and usual.value not in options:
        what = f"The usual option “{usual}” is not among those of {each.name}."
        findings.add(usual.place, what, suggestion(usual.value, options))
    title, ask = each.text("title", "Head opening"), each.text("ask", "Oval sits still.")
    return Choice(name, title, ask, options, usual.value, each.place)


def read_when(owner: Part) -> When:
    """When something is there at all: ``{opening: oval}``, or ``{opening: [oval, long]}``."""
    return tuple(
        Condition(Text(name, place), _options(node, name, place, owner.findings))
        for name, node, place in owner.branches("when")
    )


def _options(node: Node, name: str, place: Place, findings: Findings) -> tuple[Text, ...]:
    entries = node.entries if isinstance(node, Row) else (node,)
    if not entries:
        findings.add(node.place, f"“{name}” names no option.", "Write one or more.")
    return tuple(
        text(entry, f"“{name}”", place if entry is node else entry.place, findings)
        for entry in entries
    )


def read_by(
    name: str, node: Branch, place: Place, choices: Mapping[str, Choice], findings: Findings
) -> Working:
    """A working that goes by a choice: ``{by: opening, oval: 1.29, round: 1}``."""
    each = part(node, f"“{name}”", place, BY_KEYS, findings, more=True)
    by = each.text("by", "opening")
    choice = choices.get(by.value)
    formulas = {
        option: quantity(value, f"“{option}”", each.at(option), None, findings)
        for option, value in each.branch.entries.items()
        if option not in BY_KEYS
    }
    if choice and choice.options:
        for option in formulas:
            if option not in choice.options:
                what = f"Choice “{by}” has no option “{option}”."
                findings.add(each.at(option), what, suggestion(option, choice.options))
        missing = [option for option in choice.options if option not in formulas]
        if missing:
            what = f"{each.name} goes by “{by}” and has no formula for {listed(missing)}."
            remedy = f"Write one for each option: {{by: {by}, {missing[0]}: …}}."
            findings.add(place, what, remedy)
    usual = formulas.get(choice.usual) if choice else None
    why = each.text("why", "") if "why" in each.branch.entries else None
    return Working(name, usual or unread(place), why, place, By(by, formulas))


def read_sets(
    front: Part, choices: Mapping[str, Choice], sizes: Collection[str]
) -> tuple[ChoiceSet, ...]:
    """The sets of choices to publish, in the author's order: the usual one, where none is
    listed. ``sizes`` are the ids of all sizes."""
    findings, node = front.findings, front.get("publish")
    usual = {name: choice.usual for name, choice in choices.items()}
    if node is None:
        return (ChoiceSet(USUAL, usual, None, front.at("choices")),) if choices else ()
    if front.get("choices") is None:
        what = "“publish” names sets of choices, and this recipe has no choices."
        findings.add(front.at("publish"), what, "Name them under “choices”, or delete this.")
        return ()
    found: dict[str, ChoiceSet] = {}
    for id, entry, place in front.branches("publish"):
        if not ADDRESS.fullmatch(id):
            what = f"“{id}” can't be the name of a set, which is part of a web address."
            findings.add(place, what, "Use a to z, 0 to 9 and single hyphens.")
        each = part(entry, f"“{id}”", place, (*choices, SIZES), findings)
        chosen = {name: _settled(each, choice) for name, choice in choices.items()}
        twin = next((other.id for other in found.values() if other.chosen == chosen), None)
        if twin is not None and isinstance(entry, Branch):
            what = f"Sets “{twin}” and “{id}” are the same choices."
            findings.add(place, what, "Change one of them, or delete it.")
        found[id] = ChoiceSet(id, chosen, _sizes(each, sizes), place)
    if isinstance(node, Branch) and not found:
        what = "“publish” names no set, so nothing of this recipe would be published."
        remedy = "Name one, or delete “publish”: then the usual set is."
        findings.add(front.at("publish"), what, remedy)
    return tuple(found.values())


def _settled(each: Part, choice: Choice) -> str:
    """What a set chooses, which is the usual option where it says nothing."""
    if choice.name not in each.branch.entries:
        return choice.usual
    option = each.text(choice.name, choice.usual)
    if option.value and choice.options and option.value not in choice.options:
        what = f"Choice “{choice.name}” has no option “{option}”."
        each.findings.add(option.place, what, suggestion(option.value, choice.options))
    return option.value


def _sizes(each: Part, known: Collection[str]) -> tuple[str, ...] | None:
    if SIZES not in each.branch.entries:
        return None
    named = each.texts(SIZES)
    for size in named:
        if size.value and size.value not in known:
            what = f"No size is called “{size}”."
            each.findings.add(size.place, what, suggestion(size.value, known))
    return tuple(size.value for size in named)


def as_value(name: str, choices: Mapping[str, Choice]) -> tuple[str, str]:
    """What is wrong with a choice in a formula, and what to do."""
    options = ", ".join(f"{option}: …" for option in choices[name].options)
    return (
        f"“{name}” is a choice, and a value is wanted here.",
        f"Name a working that goes by it: {{by: {name}, {options}}}.",
    )


def listed(names: Collection[str]) -> str:
    """Names in a sentence: ``“a”, “b” and “c”``."""
    *most, last = (f"“{name}”" for name in names)
    return f"{', '.join(most)} and {last}" if most else last
