"""One recipe drafted for one body: its values, its pieces, its seams and its quantities."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace
from functools import partial

from notchbook.drafting.allowance import cut_lines
from notchbook.drafting.clips import check_clips
from notchbook.drafting.draft import Draft, Notch, Opening, Piece, Pleat, Seam
from notchbook.drafting.geometry.box import bounds
from notchbook.drafting.limits import mm
from notchbook.drafting.lines import grain_beside
from notchbook.drafting.openings import opening_of
from notchbook.drafting.outline import AllowanceError
from notchbook.drafting.reckoning import Reckoning, length_of, read_geometry
from notchbook.drafting.seams import measure_seam, notches_of, pleats_of
from notchbook.drafting.shape import Flat, Shape
from notchbook.drafting.sides import links_of
from notchbook.problems import ContentError, Place, Problem, fault, suggestion
from notchbook.reading.arithmetic import evaluate
from notchbook.reading.choosing import choose
from notchbook.reading.formula import Formula, Geometry, Name
from notchbook.reading.origins import traced
from notchbook.reading.quantity import LENGTH, RATIO, TIME, Quantity
from notchbook.reading.recipe import PieceRule, Recipe, SeamRule, Size
from notchbook.reading.walk import all_steps

_GATHERED = (RATIO, 1.0, 6.0, "between 1 and 6 times as long")
APART = 4.0
"""The least that notches may stand apart on average, mm."""
NARROW = 100.0
"""An allowance this wide, mm, is fine on any piece; wider, it may be as wide as the piece is."""
_DEEP = (LENGTH, 1.0, 500.0, "between 1 mm and 50 cm")


def draft(recipe: Recipe, size: Size) -> Draft:
    """Draft a recipe for one set of measures, its choices as usual where they are not settled.

    Raises ContentError with every problem of this size: measures out of range, limits not kept,
    formulas that can't be worked out, pieces that can't be made.
    """
    recipe = choose(recipe, {})
    reckoning = Reckoning(recipe, size)
    attempt = reckoning.attempt
    measures = {name: attempt(partial(reckoning.value, name)) for name in recipe.measures}
    _check_values(reckoning)
    pieces = {
        name: piece
        for name, rule in recipe.pieces.items()
        if (piece := attempt(partial(_piece, reckoning, rule))) is not None
    }
    notions = {
        name: attempt(partial(reckoning.work_out, notion.amount)) if notion.amount else None
        for name, notion in recipe.notions.items()
    }
    seams: dict[str, Seam] = {}
    if len(pieces) == len(recipe.pieces):
        pieces, seams = _joined(reckoning, pieces)
        clipped = [edge for step in all_steps(recipe) for edge in step.facts.clip]
        reckoning.problems.extend(check_clips(pieces, clipped))
    openings = _openings(reckoning, seams)
    if reckoning.problems:
        raise ContentError(reckoning.problems)
    kept = {name: value.value for name, value in measures.items() if value is not None}
    values = dict(reckoning.values)
    return Draft(recipe, size, kept, values, pieces, seams, notions, openings)


def evaluate_in(made: Draft, formula: Formula) -> Quantity:
    """The value of a formula in the text, for a draft already made."""

    def shape_of(name: str) -> Shape:
        piece = made.pieces[name]
        return Shape(piece.flat, piece.form, piece.moves)

    def look_up(node: Name | Geometry) -> Quantity:
        if isinstance(node, Geometry):
            lines = made.pieces[node.piece].lines
            line = next((each for each in lines if each.name == node.edge), None)
            if line and node.function == "length":
                return length_of(line, node)
            return read_geometry(node, shape_of, look_up)
        return made.values[node.name]

    try:
        return evaluate(formula.tree, look_up)
    except ContentError as error:
        raise traced(error, formula, made.recipe) from None


def limits_kept(recipe: Recipe, size: Size) -> bool:
    """Whether a set of measures keeps the recipe's limits. One that can't be worked out counts as
    kept: drafting then says why."""
    reckoning = Reckoning(recipe, size)
    return all(reckoning.keeps(limit) is not False for limit in recipe.limits)


def _check_values(reckoning: Reckoning) -> None:
    """Work out every value of the recipe but its pieces and notions."""
    recipe, attempt = reckoning.recipe, reckoning.attempt
    for name in recipe.workings:
        attempt(partial(reckoning.value, name))
    for cloth in recipe.cloths.values():
        for key in ("thickness", "shrinkage"):
            attempt(partial(reckoning.value, f"{cloth.name}.{key}"))
        if cloth.narrows:
            share = (cloth.narrows, RATIO, 0.0, 0.5, "between 0 % and 50 %")
            attempt(partial(reckoning.within, *share))
        for width in cloth.widths:
            within = (width, LENGTH, 100.0, 1e4, "between 10 cm and 10 m")
            attempt(partial(reckoning.within, *within))
    for time in (recipe.time, *(stage.time for stage in recipe.stages)):
        if time:
            attempt(partial(reckoning.work_out, time, TIME))
    for limit in recipe.limits:
        if reckoning.keeps(limit) is False:
            what = f"These measures don't go together ({limit.require.text}): {limit.say}"
            remedy = "Change the measures, or the limit."
            reckoning.problems.append(Problem(limit.require.place, what, remedy))


def _piece(reckoning: Reckoning, rule: PieceRule) -> Piece:
    """A whole piece but for its notches, which need the seams."""
    shape = reckoning.shape(rule.name)
    per_cloth = {cut.cloth: reckoning.allowances(rule, cut, shape.flat) for cut in rule.cut}
    _check_widths(reckoning.recipe, rule, shape.flat, per_cloth)
    try:
        lines = cut_lines(shape.flat, per_cloth, rule.corners)
    except AllowanceError as error:
        what = f"Piece “{rule.name}” can't be given its allowance: {error.what}"
        remedy = f"Use a smaller allowance at “{error.edge}”, or a larger piece."
        place = _allowance_place(reckoning.recipe, rule, error.edge)
        raise fault(place, what, remedy) from None
    attempt = reckoning.attempt
    tried = [attempt(partial(reckoning.line, rule, each)) for each in rule.lines.values()]
    inner = tuple(line for line in tried if line)
    return Piece(
        name=rule.name,
        title=rule.title.value,
        shape=rule.shape.value,
        flat=grain_beside(shape.flat, inner),
        form=shape.form,
        moves=shape.moves,
        counts={cut.cloth: cut.count for cut in rule.cut},
        pairs={cut.cloth: cut.pairs for cut in rule.cut if cut.pairs},
        cut_lines=lines,
        notches=(),
        lines=inner,
    )


def _check_widths(
    recipe: Recipe, rule: PieceRule, flat: Flat, per_cloth: Mapping[str, Mapping[str, float]]
) -> None:
    """No allowance is wider than its piece: more cloth would be turned in than is seen."""
    widest = max((value, edge) for given in per_cloth.values() for edge, value in given.items())
    if widest[0] <= NARROW:
        return
    box = bounds(flat.outline()[:1])
    across = max(math.floor(min(box.width, box.height)), NARROW)
    if widest[0] > across:
        what = (
            f"The allowance of piece “{rule.name}” at “{widest[1]}” comes to {mm(widest[0])}, "
            "which is wider than the piece itself."
        )
        remedy = f"Make it {mm(across)} or less, or the piece larger."
        raise fault(_allowance_place(recipe, rule, widest[1]), what, remedy)


def _joined(
    reckoning: Reckoning, pieces: Mapping[str, Piece]
) -> tuple[dict[str, Piece], dict[str, Seam]]:
    """Drafted pieces with their notches, and their seams."""
    flats = {name: piece.flat for name, piece in pieces.items()}
    reach = {
        (piece.name, edge): piece.reach(edge)
        for piece in pieces.values()
        for edge in piece.flat.edges
    }
    seams: dict[str, Seam] = {}
    notches: dict[str, list[Notch]] = {name: [] for name in pieces}
    pleats: dict[str, list[Pleat]] = {name: [] for name in pieces}
    links = links_of(reckoning.recipe.seams.values())
    for rule in reckoning.recipe.seams.values():
        unknown = [
            Problem(
                name.place,
                f"Piece “{name.piece}” has no edge called “{name.edge}”.",
                suggestion(name.edge, flats[name.piece].edges),
            )
            for side in rule.sides
            for name in side
            if name.edge not in flats[name.piece].edges
        ]
        if unknown:
            reckoning.problems.extend(unknown)
            continue
        ease = {
            number: found.value
            for number, formula in rule.ease.items()
            if (found := reckoning.attempt(partial(reckoning.work_out, formula, LENGTH)))
        }
        gather = {
            number: found.value
            for number, formula in rule.gather.items()
            if (found := reckoning.attempt(partial(reckoning.within, formula, *_GATHERED)))
        }
        depth = {
            number: found.value
            for number, pleat in rule.pleats.items()
            if (found := reckoning.attempt(partial(reckoning.within, pleat.depth, *_DEEP)))
        }
        seam = measure_seam(rule, flats, ease, gather, depth, links)
        seams[rule.name] = seam
        reckoning.attempt(partial(_check_notches, rule, min(seam.lengths)))
        for number, deep in depth.items():
            placed = reckoning.attempt(partial(_pleated, rule, seam, number, deep))
            for piece, pleat in placed or ():
                pleats[piece].append(pleat)
        for piece, notch in notches_of(seam, rule.notches, reach):
            notches[piece].append(notch)
    joined = {
        name: replace(piece, notches=tuple(notches[name]), pleats=tuple(pleats[name]))
        for name, piece in pieces.items()
    }
    return joined, seams


def _openings(reckoning: Reckoning, seams: Mapping[str, Seam]) -> dict[str, Opening]:
    """What steps leave open of the seams that could be measured."""
    recipe, found = reckoning.recipe, dict[str, Opening]()
    for step in all_steps(recipe):
        for gap in step.facts.leave:
            if seam := seams.get(gap.seam.value):
                told = (gap, step, seam, recipe, reckoning.work_out)
                if opening := reckoning.attempt(partial(opening_of, *told)):
                    found[seam.name] = opening
    return found


def _check_notches(rule: SeamRule, length: float) -> None:
    """Notches far enough apart to be told from each other; ``length`` is the shortest side's."""
    most = int(length / APART)
    if rule.notches > most:
        what = (
            f"{rule.notches} notches along seam “{rule.name}” would stand "
            f"{mm(length / rule.notches)} apart."
        )
        raise fault(rule.place, what, f"Ask for {most} or fewer.")


def _pleated(rule: SeamRule, seam: Seam, number: int, depth: float) -> list[tuple[str, Pleat]]:
    """One side's pleats. ContentError where they have no room, or can't be shared out evenly
    between its notches."""
    count, place = rule.pleats[number].count, rule.pleats[number].place
    stretches = rule.notches if seam.round else rule.notches + 1
    if stretches > 1 and count % stretches:
        what = (
            f"{count} pleats can't be shared out evenly over the {stretches} stretches between "
            f"the notches of seam “{rule.name}”."
        )
        remedy = f"Make the count a multiple of {stretches}, or change the notches."
        raise fault(place, what, remedy)
    try:
        return pleats_of(seam, number, count, depth)
    except ValueError as error:
        raise fault(place, str(error), "Change count or depth.") from None


def _allowance_place(recipe: Recipe, rule: PieceRule, edge: str) -> Place:
    for cut in rule.cut:
        if edge in cut.allowance:
            return cut.allowance[edge].place
    found = rule.allowance.get(edge) or rule.allowance.get("") or recipe.allowance
    return found.place
