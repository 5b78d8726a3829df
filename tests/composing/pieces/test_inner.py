"""Lines inside a piece as they are printed: drawn, named, explained, and told apart."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest

from notchbook.composing.drawing import Stroke
from notchbook.composing.markup.svg import svg
from notchbook.composing.pattern import pattern
from notchbook.composing.pieces.drawn import draw_piece
from notchbook.composing.pieces.inner import inner_key
from notchbook.composing.pieces.scaled import scaled_piece
from notchbook.composing.record import record
from notchbook.composing.symbols import PENS
from notchbook.reading.inner_lines import KINDS
from tests.collection import made
from tests.composing.figures.drawn import draw, said
from tests.composing.geometry import strokes, texts
from tests.composing.sample import figure, setting
from tests.lined import drafted

CROSS = "marks: [{edge: top, at: 0.5, inside: 5 cm}]"


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_of_line_is_drawn_named_and_explained(kind: str) -> None:
    drawn = "between: [{edge: top, at: 0.2, inside: 3 cm}, {edge: bottom, at: 0.8, inside: 3 cm}]"
    made = drafted(drawn, "kind: stitched", f"kind: {kind}")
    group = draw_piece(made.pieces["side"], made, setting())
    stroke, *sample = strokes((group,), f"line-{kind}")
    assert stroke.data == {"line": "row"}
    assert len(sample) == 1, "a sample of it, before the words that explain it"
    said = [text.text for text in texts((group,))]
    assert "row of stitches" in said
    assert setting().say(f"mark.line-{kind}", lines="row of stitches") in said
    assert len(inner_key(made, setting())) == 1


def test_a_cross_has_four_arms_and_its_title_beside_it() -> None:
    made = drafted(CROSS)
    group = draw_piece(made.pieces["side"], made, setting(), shift=7j)
    (stroke,) = strokes((group,), "line-cross")
    assert [path.point_at(path.length() / 2) for path in stroke.paths] == [
        pytest.approx(200 + 57j)
    ] * 2
    (title,) = (text for text in texts((group,)) if text.text == "row of stitches")
    assert abs(title.at - (200 + 57j)) < 10


def test_the_lines_are_told_apart_by_dash_or_width_and_from_all_others_on_a_piece() -> None:
    roles = (
        "cut",
        "cut-2",
        "cut-3",
        "stitch",
        *(f"line-{kind}" for kind in KINDS if kind != "arrow"),
    )
    looks = [(PENS[role].width, PENS[role].dash) for role in roles]
    assert len(set(looks)) == len(roles)


def test_the_pattern_and_its_key_have_the_line_and_the_record_its_length() -> None:
    made = drafted()
    markup = svg(pattern(made, setting()))
    assert 'class="line line-stitched"' in markup
    assert 'data-line="row"' in markup
    assert "Stitch along short dashes in pairs." in markup
    facts = json.loads(record(made, ()))
    told = {"title": "row of stitches", "kind": "stitched", "length": 400.0}
    assert facts["pieces"]["side"]["lines"] == {"row": told}
    assert facts["seams"]["base"]["open"]["length"] == 80
    assert facts["seams"]["back"]["open"] is None


def test_a_piece_without_lines_needs_no_key() -> None:
    made = drafted(CROSS)
    assert "cross" in inner_key(made, setting())[0]
    assert inner_key(replace(made, pieces={}), setting()) == []


def test_lines_shrink_with_their_piece() -> None:
    (line,) = scaled_piece(drafted().pieces["side"], 0.5).lines
    assert line.path
    assert line.path.length() == 200


def test_a_line_without_room_for_its_name_is_named_below() -> None:
    words = said(draw(figure("flat", piece="band"), made("wick-trimmers-cap")))
    assert (
        "Long dashes: lower edge when folded. Dots: middle of the reflective ribbon."
        in words.replace("| ", "")
    )


def test_no_lines_name_is_nearer_to_another_line() -> None:
    drawn = made("chandlers-pouch")
    drawing = draw(figure("flat", piece="side"), drawn)
    rows = {
        s.data["line"]: s.paths[0]
        for s in drawing.items
        if isinstance(s, Stroke) and "line" in s.data
    }
    titles = {line.title: line.name for line in drawn.pieces["side"].lines if line.path}
    named = [text for text in texts(drawing.items) if text.text in titles]
    assert named
    for text in named:
        own = abs(rows[titles[text.text]].start.imag - text.at.imag)
        others = [
            abs(path.start.imag - text.at.imag)
            for name, path in rows.items()
            if name not in (titles[text.text], "belt_loop")
        ]
        assert own < min(others), text.text
