"""What follows an edge: rows of stitches, and what is laid along it."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import pytest

from notchbook.composing.drawing import Drawing
from notchbook.composing.figure_reference import draft_figures
from notchbook.composing.figures import draw_figure
from notchbook.composing.figures.along_plan import read_along
from notchbook.composing.figures.close_up import close_up, slit_of
from notchbook.composing.figures.edge_line import edge_line
from notchbook.drafting.draft import Draft
from notchbook.problems import ContentError
from notchbook.reading.recipe import FigureRule
from notchbook.reading.walk import all_figures
from tests.collection import made
from tests.composing.figures.drawn import draw, faultless, plain, said
from tests.composing.geometry import strokes
from tests.composing.sample import setting

HAT = "lamplighters-hat"
CAPELET = "tollers-capelet"


def own(slug: str, *words: str) -> FigureRule:
    """The along figure of a recipe whose keys hold all these words."""
    rules = [rule for rule in all_figures(made(slug).recipe) if rule.view.value == "along"]
    (found,) = [r for r in rules if all(word in str(r.keys.entries) for word in words)]
    return found


def changed(rule: FigureRule, **keys: str) -> FigureRule:
    """A recipe's figure with the values of some keys taken from others of its keys."""
    entries = {**rule.keys.entries, **{key: rule.keys.entries[old] for key, old in keys.items()}}
    places = {**rule.keys.keys, **{key: rule.keys.keys[old] for key, old in keys.items()}}
    return replace(rule, keys=replace(rule.keys, entries=entries, keys=places))


def without(rule: FigureRule, *keys: str) -> FigureRule:
    entries = {key: entry for key, entry in rule.keys.entries.items() if key not in keys}
    return replace(rule, keys=replace(rule.keys, entries=entries))


def run_on(drawing: Drawing) -> str:
    """Its words without a sign where a row ends."""
    return said(drawing).replace(" | ", " ")


def refused(draft: Draft, rule: FigureRule) -> list[str]:
    with pytest.raises(ContentError) as caught:
        draw_figure(draft, rule, setting())
    return [plain(problem.what) for problem in caught.value.problems]


def shown(slug: str, *words: str) -> Drawing:
    return draw(own(slug, *words), made(slug))


@pytest.mark.parametrize(
    ("slug", "words"),
    [
        (HAT, ("elastic",)),
        (HAT, ("petersham",)),
        (CAPELET, ("middle",)),
        ("chandlers-pouch", ("tails",)),
        ("drummers-cap", ("zigzag",)),
        ("lock-keepers-gaiters", ("webbing",)),
        ("lock-keepers-gaiters", ("pieces",)),
    ],
)
def test_its_words_touch_nothing_and_can_be_read(slug: str, words: tuple[str, ...]) -> None:
    faultless(shown(slug, *words))


def test_a_row_runs_beside_its_edge_at_its_distance() -> None:
    piece = made(HAT).pieces["brim"]
    line = edge_line(piece, "shell", "inner")
    for inside in (-3.0, 20.0):
        run = line.run(0.0, line.length, inside)
        edge = [line.at(line.length * k / 3000)[0] for k in range(3000)]
        gaps = [min(abs(p - q) for q in edge) for p in run[:: len(run) // 12]]
        assert gaps == pytest.approx([abs(inside)] * len(gaps), abs=0.15)
        # All round an oval, a parallel is longer by 2π times its distance: Steiner's formula.
        long = math.fsum(abs(b - a) for a, b in pairwise(run))
        assert long == pytest.approx(line.length + math.tau * inside, abs=0.5)


def test_a_notch_is_found_where_the_seam_puts_it() -> None:
    piece = made(HAT).pieces["brim"]
    line = edge_line(piece, "shell", "inner")
    found = line.notch_near(line.length * 0.26)
    assert found
    assert found[0] == pytest.approx(line.length / 4, abs=0.2)
    assert found[1] == 2


def test_the_lap_is_drawn_as_long_as_it_is() -> None:
    draft, rule = made(HAT), own(HAT, "wire")
    view = close_up(read_along(draft, rule))
    assert view
    lap = draft.values["wire_lap"].value
    dimensions = [
        path
        for stroke in strokes(draw(rule, draft).items, "dimension")
        for path in stroke.paths
        if abs(path.start.imag - path.end.imag) < 1e-9
    ]
    (across,) = dimensions
    assert across.length() == pytest.approx(lap * view.scale, abs=0.01)
    assert "25 mm" in said(draw(rule, draft))


def test_the_elastic_ends_in_front_of_the_side_marks_and_goes_round_the_back() -> None:
    thing = read_along(made(HAT), own(HAT, "elastic")).thing
    line = read_along(made(HAT), own(HAT, "elastic")).line
    assert thing
    assert thing.start == pytest.approx(line.length * 0.75 - 15)
    assert thing.end == pytest.approx(line.length * 1.25 + 15)
    assert "nearest mark is 2, 15 mm (⅝ in) away" in plain(shown(HAT, "elastic").title)


def test_stitching_from_the_middle_has_two_starts_there() -> None:
    drawing = shown(CAPELET, "middle")
    whole, *others = strokes(drawing.items, "seam")
    assert len(others) == 3, "the other half, the close-up, the sign in the key"
    assert "from the middle to one end, then from the middle to the other" in drawing.title
    assert whole.paths[0].start.imag > whole.paths[0].end.imag, "begun at the back of the neck"


def test_a_row_goes_the_other_way_for_the_left_hand() -> None:
    rule = own("ferry-hands-rain-hat", "stay")
    draft = made("ferry-hands-rain-hat")
    right = strokes(draw_figure(draft, rule, setting()).items, "seam")[0].paths[0]
    left_hand = draw_figure(draft, rule, replace(setting(), left_handed=True))
    left = strokes(left_hand.items, "seam")[0].paths[0]
    assert abs(right.start - left.end) < 1e-6
    assert "hand with the left" in run_on(left_hand)
    assert "hand with the left" not in said(draw_figure(draft, rule, setting()))


def test_what_lies_square_to_an_edge_reaches_from_the_cut_edge_inwards() -> None:
    drawing = shown(CAPELET, "ribbon", "long")
    assert "15 mm (⅝ in)" in said(drawing)
    assert "raw end level with the cut edge" in drawing.title
    assert "at the edge opening" in drawing.title


def test_pieces_are_as_many_as_fit_and_as_far_apart_as_they_say() -> None:
    gaiters = made("lock-keepers-gaiters")
    plan = read_along(gaiters, own("lock-keepers-gaiters", "pieces"))
    assert plan.thing
    parts = plan.thing.parts
    assert all(high - low == pytest.approx(40) for low, high in parts)
    assert all(b[0] - a[1] == pytest.approx(15) for a, b in pairwise(parts))
    assert parts[-1][1] <= plan.line.length < parts[-1][1] + 55


def test_what_can_t_be_is_said_with_a_remedy() -> None:
    draft = made(HAT)
    wire, elastic, tack = own(HAT, "wire"), own(HAT, "elastic"), own(HAT, "tack", "turned")
    assert refused(draft, without(wire, "edge")) == ["A figure of the view “along” needs “edge”."]
    assert refused(draft, without(tack, "rows")) == [
        "An along figure needs something along its edge."
    ]
    assert refused(draft, without(wire, "lay")) == [
        "“inside” is said of something laid along the edge, and nothing is."
    ]
    assert refused(draft, changed(wire, lay="turned")) == [
        "There is no notion “yes” in this recipe."
    ]
    assert refused(draft, changed(elastic, lap="width")) == [
        "Only what goes all round can have “lap”, and this does not."
    ]


@pytest.mark.parametrize(
    ("block", "told"),
    [
        ("lay: band\nwidth: -5 mm", "“width” can't be less than 0."),
        ("lay: band\nwidth: 5 mm\nlap: -1 cm", "“lap” can't be less than 0."),
        ("lay: band\nlap: 9 m", "“lap” is more than the edge “bottom” is long."),
        ("lay: band\nlap: 1 cm\ntails: 9 cm", "Ends that hang out don't pass each other."),
        ("lay: band\nunder: 1 cm", "“under” means nothing without “lap”."),
        ("lay: band\napart: 1 cm", "“apart” means nothing without “pieces”."),
        ("lay: band\npieces: 5 cm\napart: -5 cm", "“apart” can't be less than 0."),
        ("lay: band\npieces: 0.001 mm", "“pieces” is less than 1 mm."),
        ("lay: band\npieces: 40 cm", "No two pieces as long as “pieces” find room along the edge "
         "“bottom”."),
        ("lay: band\nat: []\nwidth: 2 cm\nlong: 3 cm", "“at” names no place along the edge."),
        ("lay: band\nat: 0.5\nwidth: 2 cm\nlong: 3 m",
         "What is so long goes beyond the piece “lining”."),
        ("lay: band\nat: 0.5\nwidth: 2 cm\nlong: 3 cm\nlap: 1 cm",
         "What lies square to an edge has no “lap”."),
        ("lay: band\nzigzag: 1000000000000\nother: lining.top",
         "So many turns find no room along the edge “bottom”."),
        ("lay: band\nwidth: nothing", "No measure or working is called “nothing”."),
        ("lay: band\nfrom: length(linning.top)", "There is no piece “linning” in this recipe."),
        ("rows: {stay: -50 cm}",
         "A row 500 mm outside the line of “bottom” is not on the cloth."),
        ("rows: {stay: 50 cm}", "A row 500 mm inside the line of “bottom” is not on the cloth."),
    ],
)  # fmt: skip
def test_what_an_author_may_well_mistype_is_one_sentence(block: str, told: str) -> None:
    text = f"```figure\nview: along\nedge: lining.bottom\n{block}\n```\n"
    draft = draft_figures({"along": text})
    (rule,) = (block for block in draft.recipe.opening if isinstance(block, FigureRule))
    assert refused(draft, rule) == [told]


def test_a_slit_begins_at_the_cut_edge() -> None:
    text = "```figure\nview: along\nedge: brim.outer\nslit: 0.3\n```\n"
    draft = draft_figures({"along": text})
    (rule,) = (block for block in draft.recipe.opening if isinstance(block, FigureRule))
    drawing = draw(rule, draft)
    faultless(drawing)
    (slit,) = (path for stroke in strokes(drawing.items, "drawing") for path in stroke.paths)
    cut = [loop for stroke in strokes(drawing.items, "layer") for loop in stroke.paths]
    assert min(abs(slit.start - p) for loop in cut for p in loop.points(0.001)) < 0.4


def test_a_line_that_has_no_room_beside_its_edge_is_refused() -> None:
    line = edge_line(made(HAT).pieces["brim"], "shell", "inner")
    assert line.has_room(-40)
    assert not line.has_room(-120), "past the middle of the opening"


def test_ends_come_out_between_two_rows_that_run_on_unbroken() -> None:
    drawing = shown("chandlers-pouch", "tails")
    assert "out of a slit in the seam, between the points" in run_on(drawing)
    plan = read_along(made("chandlers-pouch"), own("chandlers-pouch", "tails"))
    assert slit_of(plan) == pytest.approx(plan.rows[0].inside)
    paths = [path for stroke in strokes(drawing.items, "seam") for path in stroke.paths]
    rows = [path for path in paths if abs(path.end - path.start) > 30]
    assert len(rows) >= 4  # two on the whole piece, two on the stretch of it
    one_row = replace(plan, rows=(replace(plan.rows[0], inside=plan.rows[0].inside[:1]),))
    assert slit_of(one_row) is None


def test_what_is_folded_shows_both_its_layers_and_is_not_sewn() -> None:
    drawing = shown("chandlers-pouch", "folded")
    assert "folded in half, two layers, both its raw ends" in run_on(drawing)
    assert "fold |" in said(drawing)
    assert strokes(drawing.items, "seam") == []
    single = draw(without(own("chandlers-pouch", "folded"), "folded"), made("chandlers-pouch"))
    faultless(single)
    assert strokes(single.items, "seam")
    assert "| stitching |" in said(single)


def test_the_front_and_the_marks_near_both_ends_are_named() -> None:
    words = said(shown(HAT, "elastic"))
    assert "| front |" in f"| {words} |"
    assert words.count("| 2 |") + words.startswith("2 |") >= 2
