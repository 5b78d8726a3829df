"""workshop.yaml: settings, their defaults, and their mistakes."""

from __future__ import annotations

import pytest

from notchbook.problems import ContentError, Place
from notchbook.reading.read import read_workshop

BARE = """\
format: 1
title: The costume bench
summary: Patterns for the lantern walk.
maker: The costume bench of the walk
"""


def test_a_bare_workshop_has_defaults() -> None:
    found = read_workshop(BARE.encode(), "workshop.yaml")
    assert found.title.value == "The costume bench"
    assert (found.address, found.language, found.units, found.theme) == (
        "",
        "en",
        "metric",
        "broadside",
    )
    assert found.papers == ("a4", "letter")
    assert found.paper_weight == 80
    assert found.fonts == {
        "text": ("spectral",),
        "label": ("ibm-plex-sans-condensed",),
        "others": ("noto-sans",),
    }


def test_everything_can_be_set() -> None:
    text = BARE + (
        "address: https://example.org/patterns/\nlanguage: pt-BR\nunits: inch\npapers: [letter]\n"
        "theme: chapbook\nfonts: {text: spectral, others: [noto-sans, noto-sans-mono]}\n"
    )
    found = read_workshop(text.encode(), "workshop.yaml")
    assert (found.address, found.language, found.units, found.theme) == (
        "https://example.org/patterns",
        "pt-BR",
        "inch",
        "chapbook",
    )
    assert found.papers == ("letter",)
    assert found.fonts["label"] == ("ibm-plex-sans-condensed",)
    assert found.fonts["others"] == ("noto-sans", "noto-sans-mono")


@pytest.mark.parametrize(
    ("line", "column", "what", "remedy"),
    [
        ("units: imperial", 8, "“units” can't be “imperial”.", "Use one of: inch, metric."),
        ("papers: [a44]", 10, "A paper can't be “a44”.", "Did you mean “a4”?"),
        ("papers: []", 1, "No paper is named.", "Write [a4, letter]."),
        (
            "paper_weight: 800 g",
            1,
            "Paper of 800 g a square metre does not fold into a booklet.",
            "Write what the packet says, from 40 g to 300 g; usual is 80 g.",
        ),
        (
            "paper_weight: heavy",
            1,
            "“heavy” is no weight of paper.",
            "Write what the packet says, from 40 g to 300 g; usual is 80 g.",
        ),
        (
            "address: example.org",
            10,
            "“example.org” is no address that a site can stand at.",
            "Write it in full: https://example.org/patterns.",
        ),
        ("language: English", 11, "“English” is no language tag.", "Write one such as en, de"),
        ("adress: x", 1, "The workshop has no “adress”.", "Did you mean “address”?"),
        ("fonts: {body: x}", 9, "“fonts” has no “body”.", "Use one of: label, others, text."),
        ("theme: [a]", 8, "“theme” takes one value, and a list stands here.", "Write one value"),
    ],
)
@pytest.mark.parametrize("above", [0, 3])
def test_a_problem_has_its_place_and_remedy(
    line: str, column: int, what: str, remedy: str, above: int
) -> None:
    text = "# above\n" * above + BARE + line + "\n"
    with pytest.raises(ContentError) as caught:
        read_workshop(text.encode(), "content/workshop.yaml")
    (problem,) = caught.value.problems
    assert problem.place == Place("content/workshop.yaml", 5 + above, column)
    assert problem.what == what
    assert problem.remedy.startswith(remedy)


def test_what_is_missing_is_reported_together() -> None:
    with pytest.raises(ContentError) as caught:
        read_workshop(b"theme: broadside\n", "workshop.yaml")
    assert sorted(problem.what for problem in caught.value.problems) == [
        "The workshop has no “format”.",
        "The workshop has no “maker”.",
        "The workshop has no “summary”.",
        "The workshop has no “title”.",
    ]
