"""Flat YAML files: one mapping of texts, as word catalogues, tokens and page heads are."""

from __future__ import annotations

from notchbook.problems import Findings, Place
from notchbook.tree import Leaf, Spoilt, load


def flat(text: str, file: str, first_line: int = 1) -> dict[str, str]:
    """The keys and texts of a YAML mapping without nesting.

    ``first_line`` is the line of ``file`` on which ``text`` begins. Raises ContentError.
    """
    findings = Findings()
    tree = load(text, Place(file, first_line, 1), findings)
    words: dict[str, str] = {}
    for key, node in tree.entries.items() if tree else ():
        if isinstance(node, Leaf):
            words[key] = node.text
        elif tree and not isinstance(node, Spoilt):
            what = f"“{key}” takes one text, and more stands here."
            findings.add(tree.keys[key], what, "Write one “key: text” a line, with nothing below.")
    findings.settle()
    return words
