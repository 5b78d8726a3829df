"""Bad input: every problem is a sentence with its exact place and a remedy.

Each case changes one text of a good recipe into another, in which ``‸`` marks the expected place.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from notchbook.gathering.source import Source
from notchbook.problems import ContentError, Findings, Place, Problem
from notchbook.reading import front_matter
from notchbook.reading.read import read_recipe
from notchbook.tree import load

HAT = Path(__file__).with_name("hat.md").read_text(encoding="utf-8")
JPEG = b"\xff\xd8\xff\xe0 and so on"

CASES = {
    # the form of the front matter
    "broken YAML": (
        "title: Lamplighter's hat",
        "title: Hat‸: the tall one",
        "A colon followed by a space stands inside a value.",
        "Put the whole value in double quotes, or indent a new name as its neighbours are.",
    ),
    "a list that is not closed": (
        "tags: [hat, wired brim]",
        "tags: ‸[hat, wired brim",
        "This list is not closed where it should be.",
        "Close it with “]”, and separate its entries with commas.",
    ),
    "a quote that is not closed": (
        "licence: CC-BY-4.0",
        'licence: ‸"CC-BY-4.0',
        "This quote is never closed.",
        "Close it.",
    ),
    "a tab": (
        "    title: Height of the point",
        "‸\ttitle: Height of the point",
        "A tab stands where only spaces may.",
        "Indent with spaces.",
    ),
    "an alias": (
        "skill: confident beginner",
        "skill: ‸*beginner",
        "“*beginner” is an alias, and none is used here.",
        "Write the value out once more, or in double quotes if it begins with “*”.",
    ),
    "an anchor": (
        "skill: confident beginner",
        "skill: ‸&a beginner",
        "“&a” is an anchor, and none is used here.",
        "Delete it, or put a value that begins with “&” in double quotes.",
    ),
    "a tag": (
        "skill: confident beginner",
        "skill: ‸!!str beginner",
        "This value has a tag (a word after “!”), and none is used here.",
        "Delete it, or put a value that begins with “!” in double quotes.",
    ),
    "too deep": (
        "    oval: 1.29",
        "    oval: [[[[[[[[[‸[1.29]]]]]]]]]]",
        "Lists and mappings stand more than 12 deep inside each other here.",
        "Close some of them; no text here needs that many.",
    ),
    "a duplicate key": (
        "skill: confident beginner",
        "skill: confident beginner\n‸title: Another hat",
        "“title” stands here a second time; the first is on line 3.",
        "Keep one of the two.",
    ),
    "an unknown key": (
        "    ask: Round the head",
        "    ‸aks: Round the head",
        "“head” has no “aks”.",
        "Did you mean “ask”?",
    ),
    "an unknown key on top": (
        "licence: CC-BY-4.0",
        "licence: CC-BY-4.0\n‸colour: black",
        "The front matter has no “colour”.",
        "Use one of: allowance, care, choices, cloths, editions, format, licence, limits, "
        "measures, notions, pieces, publish, seams, sizes, skill, summary, tags, time, title, "
        "tools, workings.",
    ),
    "a comma for a decimal point": (
        "lining_top: 14 cm",
        "lining_top: 14‸,5 cm",
        "A comma separates the values of a function, and nothing else.",
        "Write decimals with a point: 14.5.",
    ),
    "a comma for a decimal point, in braces": (
        "cotton lawn, thickness: 0.3 mm,",
        "cotton lawn, thickness: ‸0,3 mm,",
        "The comma in “0,3 mm” ends the value.",
        "Write decimals with a point: 0.3 mm.",
    ),
    "a range without brackets": (
        "range: [25 cm, 75 cm]",
        "range: ‸25 cm - 75 cm",
        "The two ends of the range of “height” are no list.",
        "Write [25 cm, 75 cm].",
    ),
    "a list of cloths to cut": (
        "height: height, cut: {shell: 1}}",
        "height: height, cut: ‸[shell]}",
        "“cut” takes a table of names, and a list stands here.",
        "Write each name with its value: {shell: …}.",
    ),
    "a step with a parenthesis": (
        "3. Close the gap by hand.",
        "‸3) Close the gap by hand.",
        "“3)” begins no step.",
        "Write 3. with a full stop.",
    ),
    "a comma that ends a text": (
        "ask: From the head outwards.,",
        "ask: From the head, ‸going outwards.,",
        "“brim” has no “going outwards.”.",
        "A comma ends a value in braces: put the whole value in double quotes.",
    ),
    "a missing key": (
        "  head:\n    title: Head girth\n",
        "  ‸head:\n",
        "“head” has no “title”.",
        "Add a line such as “title: Head girth”.",
    ),
    "a missing value": (
        "    usual: 57 cm",
        "    ‸usual:",
        "“usual” has no value.",
        "Write one after the colon, or delete the line.",
    ),
    "a list where a text belongs": (
        "skill: confident beginner",
        "skill: ‸[confident, beginner]",
        "“skill” takes one value, and a list stands here.",
        "Write one value after the colon.",
    ),
    "a text where a list belongs": (
        "tags: [hat, wired brim]",
        "tags: ‸hat",
        "“tags” takes a list, and one value stands here.",
        "Put it in brackets: [hat].",
    ),
    "a newer format": (
        "format: 1",
        "format: ‸2",
        "This is format 2, and only format 1 can be read.",
        "Write “format: 1”, or use a newer version.",
    ),
    "a date that is none": (
        "date: 2026-11-24",
        "date: ‸2026-11-31",
        "“2026-11-31” is no date.",
        "Write year, month and day: 2026-11-24.",
    ),
    "an edition twice": (
        "note: First edition.}",
        "note: First edition.}\n  - {‸number: 1, date: 2026-12-01, note: Again.}",
        "Edition 1 stands here a second time.",
        "Count on from the newest edition.",
    ),
    # quantities and formulas
    "a formula that stops": (
        "rim: {formula: head + ease,",
        "rim: {formula: head +‸ ,",
        "“head + ” stops where a value should follow.",
        "Write a value there: a number with its unit, a name, or a function.",
    ),
    "a formula that stops on its second line": (
        "  lining_top: 14 cm",
        "  lining_top: 14 cm\n    +‸",
        "“14 cm + ” stops where a value should follow.",
        "Write a value there: a number with its unit, a name, or a function.",
    ),
    "an unknown unit": (
        "allowance: 12 mm",
        "allowance: 12 ‸inch",
        "“inch” is no unit.",
        "Write 12 in.",
    ),
    "hours in full": (
        "time: 7 h",
        "time: 7 ‸hours",
        "“hours” is no unit.",
        "Write 7 h.",
    ),
    "a unit in capitals": (
        "allowance: 12 mm",
        "allowance: 12 ‸MM",
        "“MM” is no unit.",
        "Did you mean “mm”?",
    ),
    "an x for times": (
        "lining_top: 14 cm",
        "lining_top: 2 ‸x 7 cm",
        "“x” is no sign for times.",
        "Write * in its place.",
    ),
    "no sign for times": (
        "ease: tau *",
        "ease: 2 ‸shell.thickness + tau *",
        "“2” and “shell.thickness” stand side by side with nothing between them.",
        "Write what joins them: +, -, *, / or ^.",
    ),
    "inches with a sign": (
        "allowance: 12 mm",
        "allowance: 1/2‸″",
        "“″” is no unit.",
        "Write “in” instead.",
    ),
    "a function cut short": (
        "amount: length(brim.outer) + 125 mm",
        "amount: ‸len(brim.outer) + 125 mm",
        "“len” is no function.",
        "Did you mean “length”?",
    ),
    "a function by another name": (
        "amount: length(brim.outer) + 125 mm",
        "amount: ‸perimeter(brim.outer) + 125 mm",
        "“perimeter” is no function.",
        "Write length(piece.edge) for its length.",
    ),
    "a name cut short": (
        "require: height > head / 3",
        "require: ‸hgt > head / 3",
        "No measure or working is called “hgt”.",
        "Did you mean “height”?",
    ),
    "a percentage without its sign": (
        "widths: [112 cm, 150 cm], shrinkage: 3 %}\n  interfacing",
        "widths: [112 cm, 150 cm], shrinkage: ‸4}\n  interfacing",
        "Shrinkage is never 4.",
        "Write 4 %.",
    ),
    "a bare number for a time": (
        "time: 7 h",
        "time: ‸7.50",
        "“time” takes a time, and “7.50” is a plain number.",
        "Write its unit: 7.50 min or 7.50 h.",
    ),
    "a bare number as it was typed": (
        "allowance: 12 mm",
        "allowance: ‸1.50",
        "“allowance” takes a length, and “1.50” is a plain number.",
        "Write its unit: 1.50 mm, 1.50 cm or 1.50 in.",
    ),
    "a bare number for a length": (
        "allowance: 12 mm",
        "allowance: ‸12",
        "“allowance” takes a length, and “12” is a plain number.",
        "Write its unit: 12 mm, 12 cm or 12 in.",
    ),
    "a length plus a bare number": (
        "lining_top: 14 cm",
        "lining_top: 14 cm ‸+ 2",
        "This adds a length (“14 cm”) to a plain number (“2”).",
        "Write its unit: 2 mm, 2 cm or 2 in.",
    ),
    "a length plus an area, in quotes": (
        "lining_top: 14 cm",
        'lining_top: "14 cm ‸+ 3 cm * 2 cm"',
        "This adds a length (“14 cm”) to an area (“3 cm * 2 cm”).",
        "Check the units, and that no name was mistaken for another.",
    ),
    "an absurd power": (
        "lining_top: 14 cm",
        "lining_top: 14 cm ‸^ 99",
        "The power 99 is absurd; the highest is 12.",
        "Write the formula in some other way.",
    ),
    "a huge number": (
        "lining_top: 14 cm",
        f"lining_top: ‸{'9' * 400} cm",
        "This number is too large to be worked with.",
        "Write a number that can be measured.",
    ),
    "a result beyond all numbers": (
        "lining_top: 14 cm",
        f"lining_top: 1{'0' * 200} cm ‸* 1{'0' * 200}",
        "“1000000000000000000000000000 … 0000000000000000000000000000” is too large to be worked "
        "with.",
        "Check the numbers and their units.",
    ),
    "a division by zero": (
        "lining_top: 14 cm",
        "lining_top: 14 cm ‸/ (2 - 2)",
        "This divides by zero: “2 - 2” comes to 0.",
        "Keep it from becoming zero, if need be with max(…) or a limit.",
    ),
    "nesting without end": (
        "lining_top: 14 cm",
        f"lining_top: {'-' * 50}‸-14 cm",
        "More than 50 operations stand inside each other here.",
        "Name some of its parts under “workings”.",
    ),
    "a condition where a value belongs": (
        "lining_top: 14 cm",
        "lining_top: 14 cm ‸> 2 cm",
        "“>” makes this a condition, and a value is wanted here.",
        "Conditions belong after “require” under “limits”.",
    ),
    "a value where a condition belongs": (
        "require: height > head / 3",
        "require: ‸head / 3",
        "This compares nothing, and a condition is wanted here.",
        "Write what must hold, as in height > head / 3.",
    ),
    # measures and sizes
    "a usual value outside its range": (
        "usual: 57 cm",
        "usual: ‸75 cm",
        "The usual value 75 cm is outside the range 52 cm to 66 cm.",
        "Widen the range, or choose another usual value.",
    ),
    "a range upside down": (
        "range: [25 cm, 75 cm]",
        "range: [‸75 cm, 25 cm]",
        "The range of “height” begins above its end.",
        "Write [25 cm, 75 cm].",
    ),
    "a size outside its range": (
        "from: 52 cm, to: 64 cm",
        "from: ‸51 cm, to: 64 cm",
        "51 cm is outside the range of “head”, 52 cm to 66 cm.",
        "Widen the range, or leave this size out.",
    ),
    "a run that misses its end": (
        "to: 64 cm, step: 1 cm",
        "to: ‸64 cm, step: 5 cm",
        "From 52 cm, steps of 5 cm miss 64 cm.",
        "The last before it is 62 cm.",
    ),
    "a run without end": (
        "step: 1 cm}",
        "step: ‸0.01 mm}",
        "This run has more than 200 sizes.",
        "Use a larger step.",
    ),
    "a run of an unknown measure": (
        "sizes: {measure: head",
        "sizes: {measure: ‸haed",
        "No measure is called “haed”.",
        "Did you mean “head”?",
    ),
    # names
    "a misspelt name": (
        "formula: head + ease",
        "formula: head + ‸eaes",
        "No measure or working is called “eaes”.",
        "Did you mean “ease”?",
    ),
    "a misspelt property": (
        "tau * (shell.thickness",
        "tau * (‸shell.thicknes",
        "No cloth has a property “shell.thicknes”.",
        "Did you mean “shell.thickness”?",
    ),
    "a piece where a value belongs": (
        "lining_top: 14 cm",
        "lining_top: ‸lining_tip",
        "“lining_tip” is a piece, and a value is wanted here.",
        "Write length(lining_tip.edge), area(lining_tip) or volume(lining_tip).",
    ),
    "an unknown piece in a formula": (
        "amount: length(brim.outer)",
        "amount: ‸length(brin.outer)",
        "No piece is called “brin”.",
        "Did you mean “brim”?",
    ),
    "a length of no edge": (
        "amount: length(brim.outer)",
        "amount: ‸length(brim)",
        "“length(brim)” does not say which edge.",
        "Write a piece and its edge: length(brim.edge).",
    ),
    "an unknown cloth": (
        "height: height, cut: {shell: 1}",
        "height: height, cut: {‸shel: 1}",
        "No cloth is called “shel”.",
        "Did you mean “shell”?",
    ),
    "a reserved word": (
        "lining_top: 14 cm",
        "lining_top: 14 cm\n  ‸max: 3 cm",
        "“max” is a word of the formula language.",
        "Choose another name.",
    ),
    "a name that is none": (
        "lining_top: 14 cm",
        "lining_top: 14 cm\n  ‸lining-top: 3 cm",
        "“lining-top” can't be a name.",
        "Write lining_top: a name is letters, digits and underscores.",
    ),
    "a name taken": (
        "lining_top: 14 cm",
        "lining_top: 14 cm\n  ‸brim: 3 cm",
        "“brim” is a measure already, on line 23.",
        "Give the working another name.",
    ),
    # seams
    "a seam of an unknown piece": (
        "join: [crown.left,",
        "join: [‸crwon.left,",
        "No piece is called “crwon”.",
        "Did you mean “crown”?",
    ),
    "a seam with a cloth the piece is not cut from": (
        "join: [crown.left,",
        "join: [‸lining crown.left,",
        "“crown” is not cut from “lining”.",
        "The only one there is: shell.",
    ),
    "a seam that does not say which cloth": (
        "join: [crown.rim, shell brim.inner]",
        "join: [crown.rim, ‸brim.inner]",
        "“brim” is cut from shell, lining and interfacing, and “brim.inner” does not say which.",
        "Write the cloth in front: shell brim.inner.",
    ),
    "a side that names no edge": (
        "join: [crown.left,",
        "join: [‸crown,",
        "“crown” names no edge.",
        "Write piece.edge, with the cloth in front if need be: shell brim.outer.",
    ),
    "ease of no side": (
        "ease: {lining brim: 1 mm}",
        "ease: {‸crown: 1 mm}",
        "“crown” names no side of “lining to brim”.",
        "Name one by its piece or its edge: lining brim.inner.",
    ),
    "notches that are no number": (
        "notches: 8",
        "notches: ‸some",
        "“notches” takes a whole number, and “some” is none it can use.",
        "Write a number from 0 to 9999 in figures.",
    ),
    # the body
    "a text that is no formula": (
        "{{ rim }}",
        "{{ rim ‸wide }}",
        "“rim” and “wide” stand side by side with nothing between them.",
        "Write what joins them: +, -, *, / or ^.",
    ),
    "an unknown name on the second line of a formula": (
        "+ 125 mm }}",
        "+ ‸lapp }}",
        "No measure or working is called “lapp”.",
        "Use one of: brim, ease, head, height, interfacing.shrinkage, interfacing.thickness, "
        "lining.shrinkage, lining.thickness, lining_top, rim, shell.shrinkage, shell.thickness.",
    ),
    "a formula that is not closed": (
        "{{ 7 cm }}",
        "‸{{ 7 cm }",
        "“{{” is never closed.",
        "Write “}}” after the formula.",
    ),
    "raw HTML": (
        "*go gently*",
        "‸<b>go gently</b>",
        "Raw HTML is not passed on: “<b”.",
        "Use Markdown; write &lt; for a “<” that is meant as such.",
    ),
    "a link to a script": (
        "*go gently*",
        "[go gently‸](java&#115;cript:alert)",
        "A link to “java&#115;cript:alert” is not followed from a recipe.",
        "Link to https://…, to a page beside this one, or to #a-part.",
    ),
    "a second title": (
        "## The brim",
        "‸# The brim",
        "The title is in the front matter; a second one stands here.",
        "Write ## for a stage, ### for a heading inside one.",
    ),
    "an unknown block": (
        "```figure",
        "‸```figur",
        "No block is called “figur”.",
        "Did you mean “figure”?",
    ),
    "a block that is not closed": (
        "    ```\n    1. {{ this stays }} <as it is>\n    ```",
        "    ‸```figure\n    view: flat",
        "This fenced block is never closed.",
        "End it with a line of ```.",
    ),
    "facts outside of a step": (
        "Twill frays; *go gently*.",
        "‸```step\nsew: [brim edge]\n```",
        "The facts of a step stand outside of any step.",
        "Indent the block by four spaces, below its step.",
    ),
    "an unknown fact": (
        "    sew: [brim edge]",
        "    ‸sow: [brim edge]",
        "The step has no “sow”.",
        "Did you mean “sew”?",
    ),
    "an unknown seam": (
        "    sew: [brim edge]",
        "    sew: [‸brim edgy]",
        "No seam is called “brim edgy”.",
        "Did you mean “brim edge”?",
    ),
    "an unknown notion": (
        "    use: [wire]",
        "    use: [‸wier]",
        "No notion or tool is called “wier”.",
        "Did you mean “wire”?",
    ),
    "a caution the recipe has not": (
        "    care: [needle]",
        "    care: [‸needles]",
        "No caution of this recipe is called “needles”.",
        "Did you mean “needle”?",
    ),
    "a figure without a view": (
        "    ```figure\n    view: layers\n",
        "    ‸```figure\n",
        "The figure has no “view”.",
        "Add a line such as “view: flat”.",
    ),
    # pictures
    "a picture outside the folder": (
        "![A finished brim on a table](brim.jpg)",
        "‸![A finished brim on a table](../brim.jpg)",
        "The picture “../brim.jpg” is outside the recipe's folder.",
        "Put the file beside the recipe and write its name: ![…](brim.jpg).",
    ),
    "a picture from elsewhere": (
        "![A finished brim on a table](brim.jpg)",
        "‸![A finished brim on a table](https://example.org/brim.jpg)",
        "The picture “https://example.org/brim.jpg” is from elsewhere.",
        "Put the file beside the recipe and write its name: ![…](brim.jpg).",
    ),
    "a picture that is not there": (
        "![A finished brim on a table](brim.jpg)",
        "‸![A finished brim on a table](brmi.jpg)",
        "There is no picture “brmi.jpg” beside the recipe.",
        "Did you mean “brim.jpg”?",
    ),
    "a picture that is none": (
        "![A finished brim on a table](brim.jpg)",
        "‸![A finished brim on a table](words.jpg)",
        "“words.jpg” is not a PNG, JPEG or WebP picture.",
        "Save it as one of these.",
    ),
    "an enormous picture": (
        "![A finished brim on a table](brim.jpg)",
        "‸![A finished brim on a table](huge.png)",
        "The picture “huge.png” is enormous: 21 MB.",
        "Save it smaller, below 20 MB.",
    ),
    "a picture without words": (
        "![A finished brim on a table]",
        "‸![ ]",
        "The picture “brim.jpg” has no words for those who can't see it.",
        "Write what it shows between the brackets: ![…].",
    ),
}
FILES = {
    "brim.jpg": JPEG,
    "words.jpg": b"These are words.",
    "huge.png": b"\x89PNG\r\n\x1a\n" + bytes(21_000_000),
}


def problems(text: str | bytes) -> tuple[Problem, ...]:
    data = text.encode() if isinstance(text, str) else text
    with pytest.raises(ContentError) as caught:
        read_recipe(Source("hat", "recipes/hat", {"recipe.md": data, **FILES}))
    return caught.value.problems


def on_top(text: str) -> str:
    return text.replace("---\n", "---\n# one\n# two\n# three\n", 1)


def spoil(case: str) -> tuple[str, int, int]:
    """The bad recipe of a case, and the line and column where its problem is."""
    old, new, _, _ = CASES[case]
    assert HAT.count(old) == 1, case
    before, after = HAT.split(old)
    marked = before + new + after
    at = marked.index("‸")
    lines = marked[:at].split("\n")
    return marked.replace("‸", ""), len(lines), len(lines[-1]) + 1


@pytest.mark.parametrize("case", CASES)
def test_a_problem_has_its_sentence_place_and_remedy(case: str) -> None:
    text, line, column = spoil(case)
    found = problems(text)
    assert [(problem.what, problem.remedy) for problem in found] == [CASES[case][2:]]
    assert str(found[0].place) == f"recipes/hat/recipe.md:{line}:{column}"


@pytest.mark.parametrize("case", CASES)
def test_the_place_moves_with_three_lines_on_top(case: str) -> None:
    text, line, column = spoil(case)
    (problem,) = problems(on_top(text))
    assert (problem.place.line, problem.place.column) == (line + 3, column)


def test_all_problems_of_a_file_come_together_in_order() -> None:
    text = HAT
    for case in ("an unknown key", "an unknown unit", "an unknown seam", "raw HTML"):
        text = text.replace(CASES[case][0], CASES[case][1].replace("‸", ""))
    found = problems(text)
    assert [problem.what for problem in found] == [
        "“head” has no “aks”.",
        "“inch” is no unit.",
        "Raw HTML is not passed on: “<b”.",
        "No seam is called “brim edgy”.",
    ]


def test_a_key_that_is_missing_is_shown_with_the_least_that_can_stand_there() -> None:
    text = re.sub(r"^seams:\n(  .*\n)+", "", HAT, flags=re.MULTILINE)
    (found,) = problems(text)
    assert found.what == "No seam is called “brim edge”."
    assert found.remedy == (
        "The front matter has none yet. Add a line such as "
        "“seams: {brim edge: {join: [body.left, body.right]}}”."
    )


@pytest.mark.parametrize(
    ("key", "shown"), [("cloths", front_matter.CLOTHS), ("pieces", front_matter.PIECES)]
)
def test_what_every_recipe_needs_is_shown_as_a_line_that_can_be_read(key: str, shown: str) -> None:
    text = re.sub(rf"^{key}:\n(  .*\n)+", "", HAT, flags=re.MULTILINE)
    (found,) = [each for each in problems(text) if f"has no “{key}”" in each.what]
    assert found.remedy == f"Add a line such as “{shown}”."
    findings = Findings()
    assert load(shown, Place("line", 1, 1), findings) and not findings.problems


@pytest.mark.parametrize(
    ("body", "below", "what", "remedy"),
    [
        (
            "Words alone.\n",
            0,
            "The text has no stages, so it does not say how the thing is made.",
            "Write “## Make it” on a line, and below it steps such as “1. Cut the pieces.”",
        ),
        (
            "## Make it\n\nWords.\n",
            1,
            "The stages have no steps.",
            "Begin each step at the start of a line with its number: “1. Cut the pieces.”",
        ),
    ],
)
@pytest.mark.parametrize("above", [0, 3])
def test_a_text_that_makes_nothing_is_told_what_to_write(
    body: str, below: int, what: str, remedy: str, above: int
) -> None:
    """The first is told where the text begins: on the blank line below the front matter."""
    front = "---\n" + "# above\n" * above + HAT[4 : HAT.index("A hat for the long walk")]
    (found,) = problems(front + body)
    assert (found.what, found.remedy) == (what, remedy)
    assert (found.place.line, found.place.column) == (front.count("\n") + below, 1)


def test_names_under_a_part_that_could_not_be_read_are_not_reported_too() -> None:
    found = problems(HAT.replace("workings:\n", "working:\n"))
    assert [problem.what for problem in found] == ["The front matter has no “working”."]


def test_a_body_is_read_even_where_the_front_matter_is_broken() -> None:
    text = HAT.replace("title: Lamp", "title: a: Lamp").replace("*go gently*", "<b>go</b>")
    assert [problem.place.line for problem in problems(text)] == [3, 79]


@pytest.mark.parametrize(
    ("data", "line", "column", "what", "remedy"),
    [
        (b"", 1, 1, "This file is empty.", "Write front matter between --- lines, then steps."),
        (
            b"\n \n",
            1,
            1,
            "This file is empty.",
            "Write front matter between --- lines, then steps.",
        ),
        (b"---\ntitle: a\x00b\n---\n", 2, 9, "A NUL character stands here.", "Delete it."),
        (
            b"---\r\ntitle: caf\xe9\r\n---\r\n",
            2,
            11,
            "This file is not UTF-8 text: byte E9 makes no sense here.",
            "Save it as UTF-8 in your editor.",
        ),
        (
            "title: Hat\n".encode("utf-16"),
            1,
            1,
            "This file is not UTF-8 text: byte FF makes no sense here.",
            "Save it as UTF-8 in your editor.",
        ),
        (
            b"# A hat\n",
            1,
            1,
            "The recipe does not begin with its front matter.",
            "Write --- on the first line, then title and all, then --- again.",
        ),
        (
            b"---\ntitle: A hat\n",
            1,
            1,
            "The front matter that begins here never ends.",
            "Write --- on a line below it.",
        ),
        (
            b"---\n---\n## Sew\n\n1. Sew.\n",
            2,
            1,
            "Nothing is written here.",
            "Write lines such as “title: Tall hat”.",
        ),
        (
            b"x" * 1_000_001,
            1,
            1,
            "This text is enormous: 1,000,001 bytes.",
            "Keep it under 1,000,000 bytes.",
        ),
    ],
)
def test_a_file_that_is_no_recipe(
    data: bytes, line: int, column: int, what: str, remedy: str
) -> None:
    (problem,) = problems(data)
    assert (problem.what, problem.remedy) == (what, remedy)
    assert (problem.place.line, problem.place.column) == (line, column)


@pytest.mark.parametrize("opening", ["[", "{a: ", "[{a: "])
def test_brackets_without_end_are_refused_at_once(opening: str) -> None:
    (problem,) = problems(HAT.replace("skill: conf", f"skill: {opening * 9999}"))
    assert problem.what.startswith("Lists and mappings stand more than 12 deep")
    assert problem.place.line == 7
