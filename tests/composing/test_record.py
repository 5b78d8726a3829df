"""The record of a draft."""

from __future__ import annotations

import json
import math

from notchbook.composing.record import fingerprint, record
from tests.composing.bench import made


def test_the_record_holds_what_the_geometry_measures() -> None:
    draft, lays = made()
    facts = json.loads(record(draft, lays))
    assert (facts["format"], facts["recipe"], facts["size"]) == (1, "wick-hat", "head-57cm")
    rim = 570 + math.tau * 0.8 + 8
    assert math.isclose(facts["workings"]["rim"]["value"], rim, abs_tol=1e-5)
    assert facts["workings"]["rim"]["unit"] == "mm"
    crown = facts["pieces"]["crown"]
    assert math.isclose(crown["edges"]["rim"], rim, abs_tol=1e-5)
    # A cone's flat is a sector: half its arc times its radius.
    slant = math.hypot(300, rim / math.tau)
    assert math.isclose(crown["area"], rim * slant / 2, rel_tol=1e-9)


def test_a_hole_takes_its_area_away() -> None:
    draft, lays = made()
    brim = json.loads(record(draft, lays))["pieces"]["brim"]
    inner, outer = brim["edges"]["inner"], brim["edges"]["outer"]
    # A ring between parallels: the mean of its edges times its width (Steiner).
    assert math.isclose(brim["area"], (inner + outer) / 2 * 80, rel_tol=1e-4)
    assert brim["cut"][0]["area"] > brim["area"]


def test_seams_notions_and_lays_are_all_there() -> None:
    draft, lays = made()
    facts = json.loads(record(draft, lays))
    sides = facts["seams"]["crown to brim"]["sides"]
    assert [side["edges"] for side in sides] == [["crown.rim"], ["shell brim.inner"]]
    assert abs(sides[0]["length"] - sides[1]["length"]) < 0.5
    wire = facts["notions"]["wire"]
    assert math.isclose(wire["value"], facts["pieces"]["brim"]["edges"]["outer"] + 125)
    assert {(lay["cloth"], lay["width"]) for lay in facts["lays"]} == {
        ("shell", 1500.0),
        ("lining", 1120.0),
    }


def test_the_text_is_stable_and_ends_its_last_line() -> None:
    draft, lays = made()
    text = record(draft, lays)
    assert text == record(draft, lays)
    assert text.endswith("}\n")
    assert list(json.loads(text)) == sorted(json.loads(text))


def test_another_body_has_another_fingerprint() -> None:
    marks = {fingerprint(*made(size=size)) for size in (0, 1, 2)}
    assert len(marks) == 3
    assert all(len(mark) == 10 for mark in marks)
