"""What a trial copy says on its pages: that it is one, what is wrong, and where."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from markupsafe import Markup

from notchbook.composing.markup.css import token_css
from notchbook.composing.setting import Setting
from notchbook.problems import Problem

MOST = 40
"""Problems shown; more at once are the trace of one that stands above them."""

_OUTLINE = """\
<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>Not whole yet</title>
<style>{style}body{{margin:0;padding:2rem;background:var(--paper,#f1ebde);color:var(--ink,#1d1a17);\
font:1.1rem/1.5 serif}}</style>
</head>
<body>
<h1>Not whole yet</h1>
<p>Mend what is wrong, and the page comes by itself.</p>
</body>
</html>
"""


@dataclass(frozen=True, slots=True)
class Note:
    """A problem, and the id of the block of this page that it belongs beside; empty for none."""

    problem: Problem
    beside: str = ""


def panel(notes: Sequence[Note], *, old: bool, untrued: int, own: bool) -> Markup:
    """The panel of a page. ``old``: the page is one that was made before what is wrong;
    ``untrued``: how many recipes are still to be trued; ``own``: the page is a recipe's own, and
    tells of that alone."""
    rows = [_row(note) for note in notes[:MOST]]
    if len(notes) > MOST:
        rows.append(Markup("<li>{} more.</li>").format(len(notes) - MOST))
    told = "1 problem" if len(notes) == 1 else f"{len(notes)} problems"
    if not notes:
        told = "" if untrued else "true in every size" if own else "every recipe is true"
    if untrued:
        left = "1 recipe" if untrued == 1 else f"{untrued} recipes"
        told += ", " if notes else ""
        told += "truing …" if own else f"truing: {left} to go …"
    about = Markup("<p>You see the page as it was last whole.</p>") if old else Markup()
    held = Markup("{}<ul>{}</ul>").format(about, Markup().join(rows)) if notes else Markup()
    return Markup(
        '<aside id="notchbook-proof" aria-label="Trial copy"{}>'
        "<details{}><summary><b>Trial copy</b> <span role=status>{}</span></summary>"
        "<div>{}</div></details></aside>"
    ).format(
        Markup(" class=wrong") if notes else "",
        Markup(" open") if notes else "",
        told,
        held or Markup("<p>PDFs are printed when you follow their links: that takes a while.</p>"),
    )


def _row(note: Note) -> Markup:
    problem = note.problem
    beside = Markup(' data-beside="{}"').format(note.beside) if note.beside else ""
    return Markup(
        "<li{}><p>{}</p><p class=remedy>{}</p><p><code>{}</code></p></li>"
    ).format(beside, problem.what, problem.remedy, problem.place)  # fmt: skip


def bound(page: str, panel: Markup, version: str) -> str:
    """A page with its panel, and with the style and the script that bring it to life."""
    head = Markup(
        '<link rel="stylesheet" href="/.proof/proof.css">'
        '<script src="/.proof/proof.js" data-version="{}" defer></script>\n'
    ).format(version)
    at = page.find("</head>")
    page = f"{page[:at]}{head}{page[at:]}" if at >= 0 else f"{page}{head}"
    at = page.rfind("</body>")
    return f"{page[:at]}{panel}\n{page[at:]}" if at >= 0 else f"{page}{panel}\n"


def outline(setting: Setting | None) -> str:
    """A page for an address whose own was never whole, in colours of the theme if there is one."""
    style = token_css(setting.theme.tokens, dark=True) if setting else ""
    return _OUTLINE.format(style=style.replace("</", ""))
