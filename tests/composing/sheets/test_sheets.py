"""Sheets: what is on them and where they meet. ``tests/published/`` measures printed ones."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from itertools import combinations, pairwise

import pytest

from notchbook.composing.drawing import Drawing, Group, Item, Stroke
from notchbook.composing.lettering.placing import overlap, text_items, text_tile
from notchbook.composing.paper import HEADER, PAPERS
from notchbook.composing.sheets.arranging import NoRoom
from notchbook.composing.sheets.cover import cover
from notchbook.composing.sheets.document import sheets, sheets_html
from notchbook.composing.sheets.strip import BEYOND, TAB, girth, lengths, strip
from notchbook.composing.sheets.taping import Plan, plan
from notchbook.drafting.draft import Draft
from notchbook.drafting.geometry.box import bounds
from notchbook.reading.quantity import LENGTH
from notchbook.reading.recipe import Measure
from notchbook.reading.recipe import Text as Words
from tests.composing.sample import NOWHERE, formula, hat, setting

NAMES = ("a4", "letter")


def measure(name: str, title: str) -> Measure:
    zero = formula(0, LENGTH)
    title_, ask, strip = Words(title, NOWHERE), Words("", NOWHERE), name == "head"
    return Measure(name, title_, ask, zero, zero, zero, False, NOWHERE, strip=strip)


@cache
def made(licence: str = "CC-BY-4.0") -> Draft:
    """The hat, drafted for a head of 57 cm."""
    draft = hat()
    measures = {"height": measure("height", "Height"), "head": measure("head", "Head girth")}
    recipe = replace(draft.recipe, measures=measures, licence=licence)
    return replace(draft, recipe=recipe, measures={"height": 450.0, "head": 570.0})


def straight() -> Draft:
    """The hat without the measure that goes round."""
    height = {"height": measure("height", "Height")}
    recipe = replace(made().recipe, measures=height)
    return replace(made(), recipe=recipe, measures={"height": 450.0})


@cache
def drawn(paper: str) -> tuple[Drawing, ...]:
    return sheets(made(), planned(paper), PAPERS[paper], setting())


@cache
def planned(paper: str) -> Plan:
    return plan(made(), PAPERS[paper])


@cache
def headers(paper: str, licence: str = "CC-BY-4.0") -> list[str]:
    """What stands above each sheet's frame, tags left out; the cover has nothing there."""
    html = sheets_html(made(licence), PAPERS[paper], setting())
    found = re.findall(r"<section>(?:<header>(.*?)</header>)?", html)
    return [re.sub("<[^>]*>", " ", header).replace("\u00a0", " ") for header in found]


def items_of(drawing: Drawing | Group) -> Iterator[Item]:
    for item in drawing.items:
        if isinstance(item, Group):
            yield from items_of(item)
        yield item


def words_of(drawing: Drawing) -> list[str]:
    return [text.text for text in text_items(drawing.items)]


def strokes(drawing: Drawing, role: str) -> list[Stroke]:
    return [s for s in items_of(drawing) if isinstance(s, Stroke) and s.role == role]


# From the display lists.


@pytest.mark.parametrize("paper", NAMES)
def test_every_bit_of_every_line_is_on_exactly_one_sheet(paper: str) -> None:
    for piece in made().pieces.values():
        lengths: dict[str, float] = {}
        for drawing in drawn(paper)[1:]:
            for group in items_of(drawing):
                if isinstance(group, Group) and group.data.get("piece") == piece.name:
                    for stroke in items_of(group):
                        if isinstance(stroke, Stroke) and stroke.data:
                            key = stroke.data.get("cloth") or stroke.data["edge"]
                            if stroke.role != "notch":
                                length = sum(path.length() for path in stroke.paths)
                                lengths[key] = lengths.get(key, 0.0) + length
        for line in piece.cut_lines:
            whole = sum(loop.length() for loop in line.loops)
            assert lengths[" ".join(line.cloths)] == pytest.approx(whole, abs=1e-4)
        for name, edge in piece.flat.edges.items():
            assert lengths[name] == pytest.approx(edge.path.length(), abs=1e-4)


@pytest.mark.parametrize("paper", NAMES)
def test_a_line_that_leaves_one_sheet_comes_in_on_the_next(paper: str) -> None:
    plan_, pages = planned(paper), drawn(paper)
    ends = []
    for cell, number in plan_.numbers.items():
        back = plan_.box(cell).low - complex(PAPERS[paper].margin, PAPERS[paper].margin + HEADER)
        for role in ("cut", "stitch"):
            for stroke in strokes(pages[number - 1], role):
                if stroke.data:
                    ends += [
                        (role, end + back)
                        for path in stroke.paths
                        if not path.closed
                        for end in (path.start, path.end)
                    ]
    for role, end in ends:
        across, down = end.real / plan_.width, end.imag / plan_.height
        if min(abs(across - round(across)), abs(down - round(down))) < 1e-9:
            assert sum(r == role and abs(other - end) < 1e-6 for r, other in ends) >= 2


@pytest.mark.parametrize("paper", NAMES)
def test_a_join_has_the_same_letter_on_both_sheets_and_no_other_join_has_it(paper: str) -> None:
    plan_ = planned(paper)
    letters = [join.letter for join in plan_.joins]
    assert len(set(letters)) == len(letters)
    for cell, number in plan_.numbers.items():
        own = [join.letter for join in plan_.joins if cell in (join.first, join.second)]
        found = [
            text.text
            for text in text_items(drawn(paper)[number - 1].items)
            if text.role == "name" and text.size == 4.5
        ]
        assert sorted(found) == sorted(2 * own)


@pytest.mark.parametrize("paper", NAMES)
def test_half_marks_complete_each_other(paper: str) -> None:
    plan_ = planned(paper)
    shift = complex(PAPERS[paper].margin, PAPERS[paper].margin + HEADER)
    for join in plan_.joins:
        for at in join.marks:
            halves = []
            for cell in (join.first, join.second):
                back = plan_.box(cell).low - shift
                halves += [
                    path.moved(1, back)
                    for stroke in strokes(drawn(paper)[plan_.numbers[cell] - 1], "join")
                    for path in stroke.paths
                    if abs(path.moved(1, back).start - at) == pytest.approx(7, abs=1e-6)
                    and abs(path.moved(1, back).end - at) == pytest.approx(7, abs=1e-6)
                ]
            assert len(halves) == 2
            box = bounds(halves)
            assert box.width == pytest.approx(14)
            assert box.height == pytest.approx(14)
            assert abs(box.centre - at) < 1e-6


def test_the_upper_and_left_sheet_is_the_one_to_trim_and_both_name_their_neighbour() -> None:
    plan_ = planned("a4")
    for join in plan_.joins:
        first, second = plan_.numbers[join.first], plan_.numbers[join.second]
        assert any(
            w.startswith("trim") and w.endswith(f"sheet {second}")
            for w in words_of(drawn("a4")[first - 1])
        )
        assert f"sheet {first} lies over this margin" in words_of(drawn("a4")[second - 1])


@pytest.mark.parametrize("paper", NAMES)
def test_sheets_that_share_a_piece_are_joined_and_blank_ones_are_left_out(paper: str) -> None:
    plan_ = planned(paper)
    assert all(plan_.carries.values())
    assert list(plan_.numbers.values()) == list(range(2, plan_.total + 1))
    assert len(drawn(paper)) == plan_.total
    for name in made().pieces:
        together = [cell for cell, names in plan_.carries.items() if name in names]
        reached = {together[0]}
        for _ in together:
            for join in plan_.joins:
                pair = {join.first, join.second}
                if pair & reached:
                    reached |= pair
        assert set(together) <= reached


@pytest.mark.parametrize("paper", NAMES)
def test_the_crosses_are_as_far_apart_as_printed_and_off_every_line(paper: str) -> None:
    plan_ = planned(paper)
    assert len(plan_.diagonals) >= 2
    for diagonal in plan_.diagonals:
        for end, (cell, at) in enumerate(diagonal.ends):
            box = plan_.box(cell)
            assert box.low.real < at.real < box.high.real
            assert box.low.imag < at.imag < box.high.imag
            other = plan_.numbers[diagonal.ends[1 - end][0]]
            words = " ".join(words_of(drawn(paper)[plan_.numbers[cell] - 1]))
            found = re.search(
                rf"Cross {diagonal.number} to cross {diagonal.number} on sheet {other}: ([\d.]+)",
                words,
            )
            assert found
            assert float(found[1]) == pytest.approx(diagonal.length, abs=0.26)


@pytest.mark.parametrize("paper", NAMES)
def test_every_sheet_says_what_it_is_and_what_one_may_do_with_it(paper: str) -> None:
    plan_ = planned(paper)
    assert len(headers(paper)) == plan_.total
    for cell, number in plan_.numbers.items():
        words = headers(paper)[number - 1]
        assert f"Lamplighter’s hat · size {made().size.title} · edition 1" in words
        row, column = cell[1] + 1, cell[0] + 1
        assert f"sheet {number} of {plan_.total} · row {row}, column {column}" in words
        assert " You may photocopy" in words


def test_a_licence_without_words_of_its_own_is_named() -> None:
    assert "Licence: House rules 3. © the costume bench." in headers("a4", "House rules 3")[1]


@pytest.mark.parametrize("paper", NAMES)
def test_every_sheet_names_every_piece_it_has_room_to_name(paper: str) -> None:
    plan_ = planned(paper)
    named = total = 0
    for cell, pieces in plan_.carries.items():
        words = words_of(drawn(paper)[plan_.numbers[cell] - 1])
        for name in pieces:
            title = made().pieces[name].title
            total += 1
            named += any(
                word == title or word == f"{title}, size {made().size.title}" for word in words
            )
    assert named >= 0.8 * total


@pytest.mark.parametrize("paper", NAMES)
def test_words_stay_on_their_sheet_and_do_not_overlap(paper: str) -> None:
    page = PAPERS[paper]
    for drawing in drawn(paper):
        texts = list(text_items(drawing.items))
        tiles = [text_tile(text, setting()) for text in texts]
        for text, tile in zip(texts, tiles, strict=True):
            assert text.size >= 2.5
            for corner in tile.corners:
                assert 4 < corner.real < page.width - 4, text
                assert 4 < corner.imag < page.height - 4, text
        for one, other in combinations(range(len(texts)), 2):
            assert not overlap(tiles[one], tiles[other]), (texts[one].text, texts[other].text)


# The cover.


def test_the_cover_says_what_a_miss_costs_at_the_measure_that_goes_round() -> None:
    words = " ".join(words_of(drawn("a4")[0])).replace("\u00a0", " ")
    # 570 mm / 150: the girth is measured, not the height, though that is named first.
    assert "Head girth comes out 4 mm (⅛ in) too small for every 1 mm that the 150 mm" in words


def test_where_no_measure_goes_round_nothing_speaks_of_a_strip() -> None:
    draft = made()
    found = girth(draft)
    assert found is not None
    assert found.name == "head"
    assert girth(straight()) is None
    for each, told in ((draft, True), (straight(), False)):
        sheet = cover(each, planned("a4"), PAPERS["a4"], setting())[0]
        assert any("strip" in words for words in words_of(sheet)) == told
        assert ("strip" in sheet.title) == told


@pytest.mark.parametrize("mm", [380.0, 570.0, 1100.0])
@pytest.mark.parametrize("paper", NAMES)
def test_the_lengths_of_the_strip_follow_each_other_and_fit_the_page(paper: str, mm: float) -> None:
    width = PAPERS[paper].width - 2 * PAPERS[paper].margin
    parts = lengths(mm, width)
    assert parts[0][0] == 0
    assert parts[-1][1] == mm + BEYOND
    assert all(end == begin for (_, end), (begin, _) in pairwise(parts))
    assert all(end - begin + TAB <= width + 1e-9 for begin, end in parts[:-1])


@pytest.mark.parametrize(
    "mm", [178.0, 300.0, 357.0, 360.0, 520.0, 575.0, 640.0, 673.0, 900.0, 1390.0]
)
def test_the_words_of_the_strip_do_not_overlap(mm: float) -> None:
    measure = girth(made())
    assert measure is not None
    drawn = strip(measure, mm, 0, 190.0, setting())
    tiles = [text_tile(text, setting()) for text in text_items([drawn])]
    for one, other in combinations(tiles, 2):
        assert not overlap(one, other)
    assert all(-0.1 < corner.real < 190.1 for tile in tiles for corner in tile.corners)


def test_a_strip_of_more_lengths_than_letters_goes_on_with_double_ones() -> None:
    measure = girth(made())
    assert measure is not None
    words = [text.text for text in text_items([strip(measure, 6000.0, 0, 190.0, setting())])]
    assert words.count("z") == words.count("aa") == 2


@pytest.mark.parametrize("count", [6, 40, 100])
@pytest.mark.parametrize("paper", NAMES)
def test_the_map_and_its_list_are_whole_and_in_their_room_however_many_pieces(
    paper: str, count: int
) -> None:
    piece = made().pieces["brim"]
    pieces = {f"p{k}": replace(piece, name=f"p{k}", title=f"Brim panel {k}") for k in range(count)}
    draft = replace(made(), pieces=pieces)
    plan_ = planned(paper)
    carries = dict.fromkeys(plan_.carries, tuple(pieces))
    placed = tuple(replace(plan_.placed[0], piece=name) for name in pieces)
    plan_ = replace(plan_, regions=dict.fromkeys(pieces, plan_.regions["brim"]))
    page = PAPERS[paper]
    for crowded in (
        replace(plan_, carries=carries, placed=placed),
        replace(plan_, carries=carries, placed=placed, rows=40),
    ):
        drawings = cover(draft, crowded, page, setting())
        words = [word for drawing in drawings for word in words_of(drawing)]
        assert sum(word.startswith("Brim panel") for word in words) == count
        assert sum(" to " in word and "sheets" in word for word in words) == len(plan_.diagonals)
        assert ("Sheet 1, continued" in words) == (count > 6 or crowded.rows == 40)
        assert "Where the sheets go" in words
        for drawing in drawings:
            texts = list(text_items(drawing.items))
            tiles = [text_tile(text, setting()) for text in texts]
            assert min(text.size for text in texts) >= 2.5
            assert max(corner.imag for tile in tiles for corner in tile.corners) < page.height - 9
            for one, other in combinations(range(len(texts)), 2):
                assert not overlap(tiles[one], tiles[other]), (texts[one].text, texts[other].text)


def test_the_cover_lists_the_sheets_of_each_piece() -> None:
    plan_ = planned("a4")
    words = words_of(drawn("a4")[0])
    sheets_ = ", ".join(str(number) for number in plan_.sheets_of("brim"))
    assert f"Brim: sheets {sheets_}" in words
    assert sum(word.isdigit() for word in words) >= plan_.total - 1


def test_a_thing_that_goes_round_nothing_has_no_strip() -> None:
    page = sheets(straight(), planned("a4"), PAPERS["a4"], setting())[0]
    words = " ".join(words_of(page))
    assert "strip" not in words
    assert "2. Print the rest" in words


# Paper that a pattern does not go onto.


def test_a_label_wider_than_a_sheet_is_a_problem_with_its_width() -> None:
    brim = made().pieces["brim"]
    wordy = replace(made(), pieces={"brim": replace(brim, title="Brim" * 40)})
    with pytest.raises(NoRoom) as caught:
        sheets(wordy, plan(wordy, PAPERS["a4"]), PAPERS["a4"], setting())
    assert "a sheet of A4 has room for 190 mm" in caught.value.what


def test_a_roll_longer_than_a_page_can_be_is_a_problem_with_its_length() -> None:
    with pytest.raises(NoRoom) as caught:
        plan(made(), replace(PAPERS["roll"], height=900.0))
    assert "of “roll”, and one page is 900 mm long at most" in caught.value.what
    assert PAPERS["roll"].height == 5000
    assert caught.value.remedy.startswith("Leave “roll” out of papers")


def test_a_page_for_projection_has_every_grain_line_down_the_page() -> None:
    planned_ = plan(made(), PAPERS["projection"])
    assert planned_.total == 1
    for placed in planned_.placed:
        start, end = made().pieces[placed.piece].flat.grain
        assert abs(((end - start) * placed.turn).real) < 1e-6
