"""One piece as it is printed: lines, marks, and words that find room."""

from __future__ import annotations

import cmath
import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Point as Spot

from notchbook.composing.drawing import Group, Stroke
from notchbook.composing.lettering.placing import text_items
from notchbook.composing.pieces.drawn import draw_piece
from notchbook.composing.pieces.words import centres
from notchbook.composing.symbols import PENS, SMALLEST, WHITE
from notchbook.drafting.draft import Draft, Notch
from notchbook.drafting.marks import seam_letters
from notchbook.drafting.panels.runs import Run
from notchbook.drafting.shapes import cone, disc, panel, ring, strip, tube
from tests.composing.geometry import (
    area,
    collisions,
    line,
    opened,
    strokes,
    struck,
    texts,
    type_box,
)
from tests.composing.sample import draft_of, hat, piece, setting

HAT = hat()


def drawn(draft: Draft, name: str, turn: complex = 1) -> Group:
    return draw_piece(draft.pieces[name], draft, setting(), turn=turn)


def said(group: Group) -> str:
    return " | ".join(text.text for text in texts((group,)))


@pytest.mark.parametrize("name", HAT.pieces)
def test_every_line_of_a_piece_is_drawn_and_named(name: str) -> None:
    made, group = HAT.pieces[name], drawn(HAT, name)
    assert group.id == f"piece-{name}"
    assert group.data == {"piece": name}
    cut = [item for item in group.items if isinstance(item, Stroke) and "cloth" in item.data]
    assert [item.data["cloth"].split() for item in cut] == [
        list(made_line.cloths) for made_line in made.cut_lines
    ]
    assert [item.paths for item in cut] == [made_line.loops for made_line in made.cut_lines]
    stitched = {item.data["edge"]: item.paths for item in strokes((group,), "stitch")}
    assert stitched == {edge.name: (edge.path,) for edge in made.flat.edges.values()}
    assert len(strokes((group,), "notch")) == len(made.notches)
    assert len(strokes((group,), "grain")) == 1


@pytest.mark.parametrize("name", HAT.pieces)
@pytest.mark.parametrize("turn", [1, 1j, -1, cmath.rect(1, 0.7)])
def test_words_touch_neither_each_other_nor_any_line(name: str, turn: complex) -> None:
    group = drawn(HAT, name, turn)
    assert collisions((group,), setting()) == []
    assert struck((group,), setting()) == []
    cloth = area(strokes((group,), "cut")[0].paths)
    for text in texts((group,)):
        assert cloth.contains(type_box(text, setting())), text.text


def test_words_stay_upright_when_the_piece_is_turned() -> None:
    for text in texts((drawn(HAT, "crown", -1),)):
        assert -90 <= text.angle <= 90, text.text


def test_a_piece_says_what_it_is_and_how_often_to_cut_it() -> None:
    words = said(drawn(HAT, "brim"))
    assert "Brim" in words
    assert "Cut 1 shell, 1 lining, 1 interfacing" in words
    assert "Size 57 cm" in words
    assert "Lamplighter’s hat, edition 1" in words


def test_a_pieces_name_can_be_read_at_arms_length() -> None:
    (name,) = [text for text in texts((drawn(HAT, "crown"),)) if text.role == "name"]
    assert name.size >= 10
    assert min(text.size for text in texts((drawn(HAT, "brim"),))) >= SMALLEST


def test_each_cutting_line_is_shown_beside_its_cloths_and_named_along_the_line() -> None:
    group = drawn(HAT, "brim")
    second = strokes((group,), "cut-2")
    assert second[0].data["cloth"] == "interfacing"
    samples = [s for s in (*strokes((group,), "cut"), *second) if not s.data]
    assert len(samples) == 2
    words = [text.text for text in texts((group,))]
    assert "shell (firm twill), lining (cotton lawn)" in words
    assert "interfacing (heavy craft interfacing)" in words
    assert words.count("cut interfacing here") == 1, "at the outline"
    assert words.count("cut interfacing on this stitching line") == 1, "at the opening"


def test_where_a_cloth_is_cut_on_the_stitching_line_the_dashes_alone_are_seen() -> None:
    drawn_ = list(opened((drawn(HAT, "brim"),)))
    (bare,) = strokes(drawn_, "bare")
    inner = HAT.pieces["brim"].flat.edges["inner"].path
    assert line(bare.paths[0]).hausdorff_distance(line(inner)) < 1e-9
    under, over = (
        drawn_.index(next(item for item in drawn_ if getattr(item, "data", {}).get(key) == value))
        for key, value in (("cloth", "interfacing"), ("edge", "inner"))
    )
    assert under < drawn_.index(bare) < over
    assert PENS["bare"].colour == WHITE
    assert PENS["bare"].width > PENS["cut-2"].width
    assert strokes((drawn(HAT, "crown"),), "bare") == []


def test_an_edge_with_no_allowance_at_all_keeps_its_solid_line() -> None:
    raw = draft_of(piece("flap", strip.draft(length=180, width=60), {"shell": {"": 0}}))
    assert strokes((drawn(raw, "flap"),), "bare") == []


def test_a_piece_with_one_cutting_line_shows_no_samples() -> None:
    assert [s.data for s in strokes((drawn(HAT, "crown"),), "cut")] == [{"cloth": "shell"}]


def test_notches_stand_out_beyond_the_cutting_line() -> None:
    group = drawn(HAT, "crown")
    cloth = area(strokes((group,), "cut")[0].paths)
    for mark in strokes((group,), "notch"):
        tips = [Spot(p.real, p.imag) for path in mark.paths for p in path.points()]
        beyond = max(cloth.exterior.distance(tip) for tip in tips if not cloth.contains(tip))
        assert beyond == pytest.approx(4, abs=0.2)


def test_a_notch_starts_on_the_stitching_line_and_a_double_one_has_two_strokes() -> None:
    made, group = HAT.pieces["lining_tip"], drawn(HAT, "lining_tip")
    edge = line(made.flat.edges["edge"].path)
    for notch, mark in zip(made.notches, strokes((group,), "notch"), strict=True):
        feet = [path.start for path in mark.paths if len(path.segments) == 1]
        assert len(feet) == notch.strokes
        # The two strokes of a double notch stand on the tangent, a hair off a curved edge.
        assert all(edge.distance(Spot(foot.real, foot.imag)) < 0.1 for foot in feet)
    assert sorted(notch.strokes for notch in made.notches) == [1, 1, 1, 2]


def test_seams_that_share_an_edge_number_their_notches_apart_and_alike_on_both_pieces() -> None:
    letters = seam_letters(HAT)
    assert letters == {"crown to brim": "a", "lining to brim": "b"}
    assert "a4 b2" in said(drawn(HAT, "brim"))
    assert "a4" in said(drawn(HAT, "crown"))
    assert "b2" in said(drawn(HAT, "crown_lining"))
    assert "Notches a: crown to brim" in said(drawn(HAT, "brim"))


def test_centre_front_and_back_are_where_round_edges_put_them() -> None:
    made, group = HAT.pieces["brim"], drawn(HAT, "brim")
    inner = made.flat.edges["inner"].path
    for words, share in (("centre back", 0.0), ("centre front", 0.5)):
        (text,) = [text for text in texts((group,)) if text.text == words]
        assert abs(text.at - inner.point_at(share * inner.length())) < 20


@pytest.mark.parametrize(
    ("seam", "start", "middle"),
    [(0.0, "centre back", "centre front"), (math.pi, "centre front", "centre back")],
)
def test_centre_back_is_said_where_the_seam_is_only_if_it_runs_there(
    seam: float, start: str, middle: str
) -> None:
    crown = piece("crown", cone.draft(rim=600, height=300, seam=seam), {"shell": {"": 12.0}})
    said = [next(choices).text for choices in centres(crown, setting())]
    assert said == [middle, start, start]


def test_a_seam_at_the_side_is_called_no_centre() -> None:
    crown = piece("crown", cone.draft(rim=600, height=300, seam=1.0), {"shell": {"": 12.0}})
    assert [next(choices).text for choices in centres(crown, setting())] == ["seam", "seam"]


@pytest.mark.parametrize("count", [4, 9, 16])
@pytest.mark.parametrize("girth", [60.0, 110.0, 400.0])
def test_every_notch_has_its_number_however_little_room_there_is(girth: float, count: int) -> None:
    tip = piece("tip", disc.draft(girth=girth), {"lining": {"": 8}})
    edge = tip.flat.edges["edge"].path
    places = [edge.at(k / count * girth) for k in range(count)]
    notches = tuple(
        Notch("edge", "tip seam", k + 1, at, way * -1j, 1, 8.0)
        for k, (at, way) in enumerate(places)
    )
    group = drawn(replace(draft_of(tip), pieces={"tip": replace(tip, notches=notches)}), "tip")
    numbers = [text.text for text in texts((group,)) if text.role == "number"]
    assert sorted(numbers, key=int) == [str(k + 1) for k in range(count)]
    assert collisions((group,), setting()) == []


def test_centre_back_and_front_are_said_in_short_on_the_smallest_pieces() -> None:
    small = drawn(draft_of(piece("tip", disc.draft(girth=70), {"lining": {"": 8}})), "tip")
    words = [text.text for text in texts((small,))]
    assert "CB" in words or "centre back" in words
    assert "CF" in words or "centre front" in words


def test_the_grain_line_lies_where_the_shape_puts_it() -> None:
    (shaft,) = strokes((drawn(HAT, "crown"),), "grain")
    start, end = HAT.pieces["crown"].flat.grain
    assert line(shaft.paths[0]).within(line(shaft.paths[0]).buffer(0.01))
    assert abs(shaft.paths[0].start - start) < 5
    assert abs(shaft.paths[0].end - end) < 5


def test_a_piece_too_small_for_words_has_them_beside_it_with_a_leader() -> None:
    tiny = draft_of(piece("loop", strip.draft(length=18, width=6), {"shell": {"": 3}}))
    group = drawn(tiny, "loop")
    cloth = area(strokes((group,), "cut")[0].paths)
    assert "Loop" in said(group)
    assert not any(type_box(t, setting()).intersects(cloth) for t in texts((group,)))
    (leader,) = strokes((group,), "leader")
    assert cloth.exterior.distance(line(leader.paths[0])) < 0.01
    assert collisions((group,), setting()) == []
    assert struck((group,), setting()) == []


def test_a_narrow_ring_still_carries_its_words_on_the_cloth() -> None:
    narrow = draft_of(piece("edge", ring.draft(inner=585, width=22), {"shell": {"": 6}}))
    group = drawn(narrow, "edge")
    assert strokes((group,), "leader") == []
    assert "Edge" in said(group)
    assert collisions((group,), setting()) == []


SHAPES = st.one_of(
    st.builds(
        ring.draft, inner=st.floats(200, 800), width=st.floats(8, 250), oval=st.floats(1, 1.5)
    ),
    st.builds(cone.draft, rim=st.floats(100, 700), slant=st.floats(130, 600)),
    st.builds(disc.draft, girth=st.floats(60, 900), oval=st.floats(0.8, 1.5)),
    st.builds(strip.draft, length=st.floats(15, 1200), width=st.floats(6, 200)),
    st.builds(tube.draft, girth=st.floats(80, 700), height=st.floats(15, 300)),
)


@given(SHAPES, st.floats(3, 15), st.floats(-2, 2))
@settings(deadline=None, max_examples=25)
def test_whatever_the_piece_its_name_is_said_and_nothing_overlaps(
    shape: object, allowance: float, inside: float
) -> None:
    made = draft_of(
        piece("part", shape, {"shell": {"": allowance}, "lining": {"": inside}})  # type: ignore[arg-type]
    )
    group = drawn(made, "part")
    assert "Part" in said(group)
    assert collisions((group,), setting()) == []
    # Only a piece's own name may have to cross its lines, and never a cutting line.
    cuts = [line(path) for s in strokes((group,), "cut") for path in s.paths]
    for text in text_items((group,)):
        assert not any(type_box(text, setting()).intersects(cut) for cut in cuts), text.text


def test_an_l_shaped_panel_keeps_its_words_on_the_cloth() -> None:
    corners = {"a": (0, 0), "b": (200, 0), "c": (200, 60), "d": (60, 60), "e": (60, 260)}
    shape = panel.draft(
        points={**corners, "f": (0, 260)},
        edges={
            "top": (Run("line", ("a", "b")),),
            "side": (Run("line", ("b", "c", "d", "e")),),
            "foot": (Run("line", ("e", "f")),),
            "back": (Run("line", ("f", "a")),),
        },
    )
    group = drawn(draft_of(piece("yoke", shape, {"shell": {"": 10}})), "yoke")
    cloth = area(strokes((group,), "cut")[0].paths)
    assert all(cloth.contains(type_box(text, setting())) for text in texts((group,)))


def test_a_seam_between_two_cloths_of_one_piece_has_each_number_once() -> None:
    made = hat()
    both = [n for n in made.pieces["brim"].notches if n.seam == "crown to brim"]
    brim = replace(made.pieces["brim"], notches=(*both, *both))
    pieces = {**made.pieces, "brim": brim}
    words = [text.text for text in texts((drawn(replace(made, pieces=pieces), "brim"),))]
    numbers = [word for word in words if word[-1].isdigit() and len(word) < 6]
    assert numbers and all(" " not in number for number in numbers)


def test_words_in_one_row_along_a_band_are_kept_apart_by_dots() -> None:
    band = draft_of(piece("band", strip.draft(length=580, width=22), {"shell": {"": 0}}))
    group = drawn(band, "band")
    (name,) = [text for text in texts((group,)) if text.role == "name"]
    row = [t for t in texts((group,)) if abs(t.at.imag - name.at.imag) < 0.1 and t.angle == 0]
    said = [text.text for text in sorted(row, key=lambda text: text.at.real)]
    assert said[0] == "Band" and said[1::2] == ["·"] * (len(said) // 2) and len(said) >= 5
    assert collisions((group,), setting()) == []
