"""Pieces written as DXF and read back by ezdxf: held against the ``pattern.svg`` of the same draft.

Layers: ASTM D6673, *Standard Practice for Sewn Products Pattern Data Interchange—Data Format*: 1
boundary, 4 notches, 6 mirror line, 7 grain line, 8 internal lines, 11 cut-outs, 14 sew lines.
"""

from __future__ import annotations

from collections.abc import Iterator
from io import StringIO
from typing import Any

import pytest
from ezdxf.math import Vec2
from shapely.geometry import LinearRing, LineString, Point, Polygon

from notchbook.composing.interchange import interchange
from notchbook.drafting.draft import Draft
from notchbook.drafting.engine import draft
from notchbook.pressing.dxf import dxf, library
from tests.published.checks import Figure, wrong
from tests.published.written import Written, polygon, read, setting, write
from tests.recipes import HAT, HEAD, text_of

# The point is printed in half; the lining of the brim has a line of its own to cut.
FRONT = HEAD + HAT.replace(
    "lining: 1}", "lining: {count: 1, allowance: {outer: -2 mm}}}"
).replace("cut: {shell: 1}}", "cut: {shell: 1}, paper: half}")  # fmt: skip

SHARE = 0.001
"""How far a polygon within 0.05 mm of its curve may be shorter or smaller than that."""


@pytest.fixture(scope="module")
def made() -> Draft:
    recipe = read(text_of(FRONT))
    return draft(recipe, recipe.sizes[0])


@pytest.fixture(scope="module")
def file(made: Draft) -> Any:
    return opened(dxf(interchange(made, setting())))


@pytest.fixture(scope="module")
def pattern(tmp_path_factory: pytest.TempPathFactory) -> Written:
    return write(FRONT, tmp_path_factory.mktemp("pattern"))


def opened(data: bytes) -> Any:
    return library().read(StringIO(data.decode("cp1252")))


def lines(file: Any, block: str, layer: int) -> list[LineString]:
    """The lines and polylines of a block on a layer, mm, y up."""
    found = []
    for entity in file.blocks[block]:
        if entity.dxf.layer != str(layer):
            continue
        if entity.dxftype() == "LINE":
            found.append(LineString([entity.dxf.start.vec2, entity.dxf.end.vec2]))
        elif entity.dxftype() == "POLYLINE":
            points = [vertex.dxf.location.vec2 for vertex in entity.vertices]
            found.append((LinearRing if entity.is_closed else LineString)(points))
    return found


@pytest.fixture(scope="module")
def measured(file: Any, pattern: Written) -> list[tuple[str, float, float, int]]:
    """What is measured, in the DXF and in the pattern, and the power of a length it is."""
    return list(_measured(file, pattern))


def _measured(file: Any, pattern: Written) -> Iterator[tuple[str, float, float, int]]:
    for cloth in ("shell", "lining"):
        outline, hole = pattern.cut("brim", cloth)
        (boundary,), (cutout,) = (lines(file, f"brim-{cloth}", layer) for layer in (1, 11))
        for what, ours, seen in (("brim", boundary, outline), ("its hole", cutout, hole)):
            yield f"length of {what}, {cloth}", ours.length, seen.length(), 1
            yield f"area of {what}, {cloth}", Polygon(ours).area, polygon(seen, 50).area, 2
        sewn = lines(file, f"brim-{cloth}", 14)
        for edge, line in zip(("outer", "inner"), sewn, strict=True):
            yield f"sewn {edge}", line.length, pattern.stitch("brim", edge).length(), 1
        inside = Polygon(sewn[0]).area - Polygon(sewn[1]).area
        yield "area within the sew lines", inside, pattern.record["pieces"]["brim"]["area"], 2
    (half,), (fold,) = lines(file, "crown", 1), lines(file, "crown", 6)
    (whole,) = pattern.cut("crown", "shell")
    yield "length of half the point", half.length - fold.length, whole.length() / 2, 1
    yield "area of half the point", Polygon(half).area, polygon(whole, 50).area / 2, 2
    sewn_half = sum(line.length for line in lines(file, "crown", 14))
    edges = sum(pattern.stitch("crown", edge).length() for edge in ("left", "right", "rim"))
    yield "sew lines of half the point", sewn_half, edges / 2, 1


def figures(measured: list[tuple[str, float, float, int]], larger: float = 1.0) -> list[Figure]:
    """What is measured, in a DXF ``larger`` times as large as it is."""
    return [
        Figure(what, ours * larger**power, theirs, theirs * SHARE)
        for what, ours, theirs, power in measured
    ]


def test_lengths_and_areas_are_those_of_the_pattern(
    measured: list[tuple[str, float, float, int]],
) -> None:
    assert len(measured) == 17
    assert wrong(figures(measured)) == []


@pytest.mark.parametrize("factor", [0.99, 1.01])
def test_a_scale_one_percent_off_is_seen_in_every_one_of_them(
    measured: list[tuple[str, float, float, int]], factor: float
) -> None:
    put_off = figures(measured, factor)
    assert wrong(put_off) == put_off


def test_there_is_a_block_for_every_piece_and_cloth_inserted_once_with_room_between(
    file: Any,
) -> None:
    assert not file.audit().errors
    inserted = file.modelspace().query("INSERT")
    names = [insert.dxf.name for insert in inserted]
    assert names == ["brim-shell", "brim-lining", "crown"]
    assert {block.name for block in file.blocks if not block.name.startswith("*")} == set(names)
    places = []
    for insert in inserted:
        (boundary,) = lines(file, insert.dxf.name, 1)
        at = insert.dxf.insert
        places.append(Polygon([(x + at.x, y + at.y) for x, y in boundary.coords]))
    assert min(a.distance(b) for a in places for b in places if a is not b) > 10


def test_y_runs_up_so_that_no_piece_is_turned_over(file: Any, pattern: Written) -> None:
    """The point of the hat is its highest place: at the top of the page there, here too."""
    (boundary,) = lines(file, "crown", 1)
    (whole,) = pattern.cut("crown", "shell")
    tip = min((segment.start for segment in whole), key=lambda p: p.imag)
    highest = max(boundary.coords, key=lambda p: p[1])
    assert highest == pytest.approx((0, highest[1]), abs=0.05)
    assert boundary.bounds[3] - boundary.bounds[1] == pytest.approx(
        max(segment.point(t / 20).imag for segment in whole for t in range(21)) - tip.imag, abs=0.1
    )


def test_every_notch_is_a_point_on_the_boundary_turned_into_the_cloth(
    file: Any, made: Draft
) -> None:
    for block, piece in (("brim-shell", "brim"), ("brim-lining", "brim")):
        (outline,), (hole,) = (lines(file, block, layer) for layer in (1, 11))
        cloth = Polygon(outline, [hole])
        points = [e for e in file.blocks[block].query("POINT") if e.dxf.layer == "4"]
        assert len(points) == sum(notch.strokes for notch in made.pieces[piece].notches)
        for point in points:
            at = point.dxf.location.vec2
            assert cloth.boundary.distance(Point(at)) < 0.1
            way = Vec2.from_deg_angle(point.dxf.angle, 3)
            assert cloth.contains(Point(at + way))


def test_the_grain_is_on_its_layer_and_runs_as_on_the_pattern(file: Any, made: Draft) -> None:
    (grain,) = lines(file, "brim-shell", 7)
    start, end = made.pieces["brim"].flat.grain
    for seen, there in zip(grain.coords, (start, end), strict=True):
        assert seen == pytest.approx((there.real, -there.imag), abs=1e-6)


def test_a_piece_on_the_fold_has_a_mirror_line_that_is_an_edge_of_it(file: Any) -> None:
    (mirror,), (boundary,) = lines(file, "crown", 6), lines(file, "crown", 1)
    assert mirror.length > 100
    assert all(
        boundary.distance(mirror.interpolate(t, normalized=True)) < 1e-6 for t in (0, 0.3, 1)
    )
    assert not lines(file, "brim-shell", 6)
    assert all(boundary.distance(Point(e.dxf.location.vec2)) < 0.1 for e in notches(file, "crown"))


def notches(file: Any, block: str) -> list[Any]:
    return [each for each in file.blocks[block].query("POINT") if each.dxf.layer == "4"]


def test_texts_say_what_each_piece_is(file: Any) -> None:
    def said(where: Any, layer: str) -> list[str]:
        return [e.dxf.text for e in where.query("TEXT") if e.dxf.layer == layer]

    assert said(file.blocks["brim-lining"], "1") == [
        "Piece Name: Brim, lining",
        "Size: 56 cm",
        "Quantity: 1",
        "Material: lining",
    ]
    assert said(file.blocks["crown"], "15") == ["Cut 1 shell", "Wick hat, edition 1"]
    assert "Units: METRIC" in said(file.modelspace(), "1")


def test_the_same_draft_gives_the_same_bytes(made: Draft) -> None:
    pieces = interchange(made, setting())
    assert dxf(pieces) == dxf(pieces)
    assert library().options.write_fixed_meta_data_for_testing is False


def test_curves_are_polygons_within_0_05_mm(file: Any, pattern: Written) -> None:
    outline, _ = pattern.cut("brim", "shell")
    (boundary,) = lines(file, "brim-shell", 1)
    # A pattern lies its pieces side by side; here each is where it was drafted.
    shift = complex(boundary.coords[0][0], -boundary.coords[0][1]) - outline[0].start
    for segment in outline:
        for k in range(20):
            at = segment.point(k / 20) + shift
            assert boundary.distance(Point(at.real, -at.imag)) < 0.05
