"""``workshop.yaml``: the settings that every recipe of a site shares."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from notchbook.problems import Findings, Place
from notchbook.reading.fields import Part, choice, constant, part, quantity, text
from notchbook.reading.front_matter import check_format
from notchbook.reading.quantity import MASS
from notchbook.reading.recipe import Text
from notchbook.tree import Branch, Row

KEYS = (
    "format",
    "title",
    "summary",
    "maker",
    "address",
    "language",
    "units",
    "papers",
    "paper_weight",
    "theme",
    "fonts",
)
PAPERS = ("a4", "letter")
"""The papers sheets are made for where the workshop names none."""
KNOWN_PAPERS = (*PAPERS, "a3", "tabloid", "a2", "a1", "a0", "roll", "projection")
FONTS: Mapping[str, tuple[str, ...]] = {
    "text": ("spectral",),
    "label": ("ibm-plex-sans-condensed",),
    "others": ("noto-sans",),
}


Units = Literal["metric", "inch"]

OFFICE_PAPER = 80.0
"""Paper for printers, g a square metre."""


@dataclass(frozen=True, slots=True)
class Workshop:
    """The settings every recipe of a site shares, from ``workshop.yaml``.

    ``address`` is where the site will stand, or empty. ``units`` come first where both are shown.
    ``paper_weight`` is that of a square metre of the paper booklets are printed on, g.
    ``keys`` has the places of the settings that are written.
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
    keys: Mapping[str, Place] = field(default_factory=dict)
    paper_weight: float = OFFICE_PAPER

    def at(self, key: str) -> Place:
        """Where a setting stands; the top of the file where it is left out."""
        return self.keys.get(key, self.place)


def read(tree: Branch, top: Place, findings: Findings) -> Workshop:
    """The workshop that the file's tree makes, as ``front_matter.read`` does it."""
    found = part(tree, "the workshop", top, KEYS, findings)
    check_format(found)
    units = "metric"
    node = found.get("units")
    if node is not None:
        units = choice(node, "“units”", found.at("units"), ("metric", "inch"), findings)
    return Workshop(
        title=found.text("title", "The costume bench"),
        summary=found.text("summary", "Patterns for a procession.").value,
        maker=found.text("maker", "The makers of the procession").value,
        address=_address(found),
        language=_language(found),
        units="inch" if units == "inch" else "metric",
        papers=_papers(found),
        theme=found.text_or("theme", "broadside"),
        fonts=_fonts(found),
        place=top,
        keys=found.branch.keys,
        paper_weight=_paper_weight(found),
    )


def _address(found: Part) -> str:
    if found.get("address") is None:
        return ""
    address = found.text("address", "")
    if address.value and not re.fullmatch(r"https?://[^\s/?#\"<>]+(/[^\s?#\"<>]*)?", address.value):
        what = f"“{address.value}” is no address that a site can stand at."
        findings = found.findings
        findings.add(address.place, what, "Write it in full: https://example.org/patterns.")
    return address.value.rstrip("/")


def _language(found: Part) -> str:
    if found.get("language") is None:
        return "en"
    language = found.text("language", "en")
    if language.value and not re.fullmatch(r"[a-z]{2,3}(-[A-Za-z0-9]{2,8})*", language.value):
        what = f"“{language.value}” is no language tag."
        found.findings.add(language.place, what, "Write one such as en, de or pt-BR.")
    return language.value


def _papers(found: Part) -> tuple[str, ...]:
    if found.get("papers") is None:
        return PAPERS
    papers = [
        choice(node, "a paper", node.place, KNOWN_PAPERS, found.findings)
        for node in found.rows("papers")
    ]
    if isinstance(found.get("papers"), Row) and not papers:
        found.findings.add(found.at("papers"), "No paper is named.", "Write [a4, letter].")
    return tuple(dict.fromkeys(papers))


def _paper_weight(found: Part) -> float:
    node, at = found.get("paper_weight"), found.at("paper_weight")
    if node is None:
        return OFFICE_PAPER
    formula = quantity(node, "“paper_weight”", at, MASS, found.findings)
    read = constant(formula)
    remedy = "Write what the packet says, from 40 g to 300 g; usual is 80 g."
    if read is None:
        if formula.text:
            found.findings.add(at, f"“{formula.text}” is no weight of paper.", remedy)
        return OFFICE_PAPER
    if not 40 <= read.value <= 300:
        what = f"Paper of {read.value:g} g a square metre does not fold into a booklet."
        found.findings.add(at, what, remedy)
    return read.value


def _fonts(found: Part) -> Mapping[str, tuple[str, ...]]:
    node = found.get("fonts")
    if node is None:
        return FONTS
    fonts = part(node, "“fonts”", found.at("fonts"), FONTS, found.findings)
    chosen = dict(FONTS)
    for role in ("text", "label"):
        if fonts.get(role) is not None:
            chosen[role] = (fonts.text(role, "").value,)
    if fonts.get("others") is not None:
        chosen["others"] = tuple(
            text(entry, "a font", entry.place, found.findings).value
            for entry in fonts.rows("others")
        )
    return chosen
