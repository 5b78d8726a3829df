"""The front matter: from its tree to a recipe. Its names are checked in ``names.py``."""

from __future__ import annotations

import re
from collections.abc import Mapping
from datetime import date

from notchbook.problems import ContentError, Findings, Place
from notchbook.reading import choices, pieces, seams, sizes
from notchbook.reading.body import Body
from notchbook.reading.fields import (
    Part,
    choice,
    constant,
    leaf,
    part,
    quantity,
    rows,
    unread,
    whole,
)
from notchbook.reading.formula import Formula, parse_condition
from notchbook.reading.quantity import LENGTH, TIME
from notchbook.reading.recipe import (
    TAKEN,
    Choice,
    Edition,
    Limit,
    Measure,
    Notion,
    Recipe,
    Working,
)
from notchbook.tree import Branch, Leaf, Node, Row, Spoilt

FORMAT = "1"
KEYS = (
    "format",
    "title",
    "summary",
    "editions",
    "skill",
    "time",
    "licence",
    "tags",
    "measures",
    "choices",
    "publish",
    "sizes",
    "limits",
    "cloths",
    "workings",
    "allowance",
    "pieces",
    "seams",
    "notions",
    "tools",
    "care",
)
EDITION_KEYS = ("number", "date", "note")
_RANGE = re.compile(r"(.*[^-–—.,]) *(?:-|–|—|to|\.\.+|,) *([^-–—.,].*)")
MEASURE_KEYS = ("title", "ask", "usual", "range", "numbers", "strip", "taken", "when")
LIMIT_KEYS = ("require", "say", "when")
WORKING_KEYS = ("formula", "why")
NOTION_KEYS = ("title", "amount", "used", "when")
CLOTHS = "cloths: {shell: {title: firm twill, thickness: 0.8 mm, widths: [150 cm]}}"
PIECES = "pieces: {body: {title: Body, shape: tube, girth: 50 cm, height: 20 cm, cut: {shell: 1}}}"
"""The least that can stand there, to be shown where it is missing."""


def read(
    tree: Branch,
    slug: str,
    top: Place,
    body: Body,
    pictures: Mapping[str, bytes],
    findings: Findings,
) -> Recipe:
    """The recipe that a front matter's tree and a body with its pictures make. Whatever can't be
    read is reported and stands in it as something harmless."""
    front = part(tree, "the front matter", top, KEYS, findings)
    check_format(front)
    measures = {name: _measure(each, name) for name, each in front.parts("measures", MEASURE_KEYS)}
    choice_of = choices.read(front)
    run = sizes.read(front.get("sizes"), front.at("sizes"), measures, findings)
    front.need("cloths", CLOTHS.partition(": ")[2])
    front.need("pieces", PIECES.partition(": ")[2])
    return Recipe(
        slug=slug,
        title=front.text("title", "Tall hat"),
        summary=front.text("summary", "A tall hat that keeps its shape."),
        editions=_editions(front),
        skill=front.text_or("skill", ""),
        time=front.quantity_or_none("time", TIME),
        licence=front.text("licence", "CC-BY-4.0").value,
        tags=tuple(tag.value for tag in front.texts("tags")),
        measures=measures,
        sizes=run,
        limits=tuple(_limit(node, findings) for node in front.rows("limits")),
        cloths={
            name: pieces.read_cloth(each, name)
            for name, each in front.parts("cloths", pieces.CLOTH_KEYS)
        },
        workings={
            name: _working(name, node, place, choice_of, findings)
            for name, node, place in front.branches("workings")
        },
        pieces={
            name: pieces.read_piece(each, name)
            for name, each in front.parts("pieces", pieces.PIECE_KEYS, more=True)
        },
        allowance=front.quantity("allowance", LENGTH, "12 mm"),
        seams={name: seams.read(each, name) for name, each in front.parts("seams", seams.KEYS)},
        notions={name: _notion(each, name) for name, each in front.parts("notions", NOTION_KEYS)},
        tools=front.texts("tools"),
        care=front.texts("care"),
        opening=body.opening,
        stages=body.stages,
        pictures=pictures,
        place=top,
        choices=choice_of,
        sets=choices.read_sets(front, choice_of, [size.id for size in run]),
    )


def check_format(front: Part) -> None:
    """Reports any format but the one that is read here."""
    found = front.text("format", FORMAT)
    if found.value and found.value != FORMAT:
        what = f"This is format {found.value}, and only format {FORMAT} can be read."
        front.findings.add(found.place, what, f"Write “format: {FORMAT}”, or use a newer version.")


def _editions(front: Part) -> tuple[Edition, ...]:
    findings = front.findings
    node = front.need("editions", "[{number: 1, date: 2026-11-24, note: First edition.}]")
    editions: list[Edition] = []
    for entry in front.rows("editions"):
        each = part(entry, "an edition", entry.place, EDITION_KEYS, findings)
        number = whole(each.need("number", "1"), "“number”", each.at("number"), 1, findings)
        if number in (edition.number for edition in editions):
            what = f"Edition {number} stands here a second time."
            findings.add(each.at("number"), what, "Count on from the newest edition.")
        day = each.text("date", "2026-11-24")
        if day.value and not _is_date(day.value):
            what = f"“{day.value}” is no date."
            findings.add(day.place, what, "Write year, month and day: 2026-11-24.")
        editions.append(Edition(number, day.value, each.text("note", "First edition.").value))
    if isinstance(node, Row) and not editions:
        findings.add(front.at("editions"), "The recipe has no edition.", "Write its first one.")
    return tuple(editions) or (Edition(1, "", ""),)


def _is_date(text: str) -> bool:
    if not re.fullmatch(r"[0-9]{4}-[0-9]{2}-[0-9]{2}", text):
        return False
    try:
        date.fromisoformat(text)
    except ValueError:
        return False
    return True


def _measure(each: Part, name: str) -> Measure:
    findings = each.findings
    usual = each.quantity("usual", LENGTH, "57 cm")
    node = each.need("range", "[52 cm, 66 cm]")
    if isinstance(node, Leaf) and (ends := _RANGE.fullmatch(node.text)):
        what = f"The two ends of the range of {each.name} are no list."
        findings.add(node.place, what, f"Write [{ends[1].strip()}, {ends[2].strip()}].")
        node = Spoilt(node.place)
    entries = (
        node.entries if isinstance(node, Row) else rows(node, "“range”", each.at("range"), findings)
    )
    label = "an end of “range”"
    found = [quantity(entry, label, entry.place, LENGTH, findings) for entry in entries]
    match found:
        case [low, high]:
            _check_range(usual, low, high, each)
        case _:
            low = high = unread(node.place)
            if isinstance(node, Row):
                what = f"The range of {each.name} has {len(found)} ends, and two are wanted."
                remedy = "Write the least and the greatest: [52 cm, 66 cm]."
                findings.add(node.place, what, remedy)
    title, ask = each.text("title", "Head girth"), each.text("ask", "Round the head.")
    numbers = each.get("numbers")
    if numbers is not None:
        choice(numbers, "“numbers”", each.at("numbers"), ("hat",), findings)
    hat = numbers is not None
    strip, when = each.yes("strip") or hat, choices.read_when(each)
    at = each.get("taken")
    taken = choice(at, "“taken”", each.at("taken"), TAKEN, findings) if at is not None else ""
    return Measure(name, title, ask, usual, low, high, hat, each.place, when, strip, taken)


def _check_range(usual: Formula, low: Formula, high: Formula, each: Part) -> None:
    least, value, most = (constant(formula) for formula in (low, usual, high))
    if least and most and least.value > most.value:
        what = f"The range of {each.name} begins above its end."
        each.findings.add(low.place, what, f"Write [{high.text}, {low.text}].")
    elif least and value and most and not least.value <= value.value <= most.value:
        what = f"The usual value {usual.text} is outside the range {low.text} to {high.text}."
        each.findings.add(usual.place, what, "Widen the range, or choose another usual value.")


def _limit(node: Node, findings: Findings) -> Limit:
    each = part(node, "a limit", node.place, LIMIT_KEYS, findings)
    require = each.need("require", "height > head / 3")
    found = leaf(require, "“require”", each.at("require"), findings)
    formula = unread(node.place)
    if found is not None:
        try:
            formula = parse_condition(found.source, found.source_place)
        except ContentError as error:
            findings.take(error)
    say = each.text("say", "A point this short rides up; make it taller.")
    return Limit(formula, say, choices.read_when(each))


def _working(
    name: str, node: Node, place: Place, choice_of: Mapping[str, Choice], findings: Findings
) -> Working:
    if not isinstance(node, Branch):
        return Working(name, quantity(node, f"“{name}”", place, None, findings), None, place)
    if "by" in node.entries:
        return choices.read_by(name, node, place, choice_of, findings)
    each = part(node, f"“{name}”", place, WORKING_KEYS, findings)
    why = each.text("why", "") if "why" in each.branch.entries else None
    return Working(name, each.quantity("formula", None, "head + ease"), why, place)


def _notion(each: Part, name: str) -> Notion:
    used = each.get("used")
    if used is not None:
        choice(used, "“used”", each.at("used"), ("often",), each.findings)
    amount = each.quantity_or_none("amount", None)
    title, when = each.text("title", "brim wire"), choices.read_when(each)
    return Notion(name, title, amount, used is not None, each.place, when)
