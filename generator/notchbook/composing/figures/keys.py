"""What a figure block says, read against the draft it shows."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from notchbook.drafting.draft import Draft, Piece, Seam
from notchbook.drafting.engine import evaluate_in
from notchbook.problems import Place, Problem, suggestion
from notchbook.reading.formula import Formula, Geometry, references
from notchbook.reading.quantity import LENGTH, Dimension, Quantity, describe
from notchbook.reading.recipe import FigureRule, Scalar, Series, Table, Text


def check_keys(table: Table, known: Sequence[str], what: str, problems: list[Problem]) -> None:
    """A problem for every key that ``what`` (``A flat figure``) does not have."""
    for key in table.entries:
        if key not in known:
            place = table.keys.get(key, table.place)
            problems.append(Problem(place, f"{what} has no “{key}”.", suggestion(key, known)))


def texts(table: Table, key: str, problems: list[Problem]) -> tuple[Text, ...]:
    """The words under a key: one, or a list of them. None where the key is not there."""
    entry = table.entries.get(key)
    if entry is None:
        return ()
    entries = entry.entries if isinstance(entry, Series) else (entry,)
    if isinstance(entries, tuple) and all(isinstance(one, Scalar) for one in entries):
        return tuple(Text(one.text, one.place) for one in entries if isinstance(one, Scalar))
    remedy = "Write one, or a list of them: [one, another]."
    problems.append(Problem(entry.place, f"“{key}” takes words.", remedy))
    return ()


def value(
    table: Table, key: str, dimension: Dimension, draft: Draft, problems: list[Problem]
) -> float | None:
    """A number under a key, in base units; none where the key is not there."""
    entry = table.entries.get(key)
    if entry is None:
        return None
    if isinstance(entry, Scalar) and entry.formula:
        quantity = worked_out(entry.formula, draft, problems)
        if quantity is None:
            return None
        if quantity.dimension == dimension:
            return quantity.value
    what = f"“{key}” has to be {describe(dimension)}."
    remedy = "Write a length such as 7 cm." if dimension == LENGTH else "Write a plain number."
    problems.append(Problem(entry.place, what, remedy))
    return None


def values(
    table: Table, key: str, dimension: Dimension, draft: Draft, problems: list[Problem]
) -> tuple[float, ...]:
    """The numbers under a key, in base units: one, or a list of them. None where the key is not
    there."""
    entry = table.entries.get(key)
    each = entry.entries if isinstance(entry, Series) else () if entry is None else (entry,)
    found = [
        value(Table({key: one}, {key: one.place}, one.place), key, dimension, draft, problems)
        for one in each
    ]
    return tuple(number for number in found if number is not None)


def worked_out(formula: Formula, draft: Draft, problems: list[Problem]) -> Quantity | None:
    """What a formula comes to, or a problem for every name in it that stands for nothing. Reading
    can't look those up: what a figure is given may as well be a word. Raises ContentError where it
    can't be worked out."""
    found = len(problems)
    for node in references(formula.tree):
        if isinstance(node, Geometry):
            find_piece(Text(node.piece, node.place), draft, problems)
        elif node.name not in draft.values:
            what = f"No measure or working is called “{node.name}”."
            problems.append(Problem(node.place, what, suggestion(node.name, draft.values)))
    return evaluate_in(draft, formula) if len(problems) == found else None


def missing(figure: FigureRule, key: str, view: str, example: str) -> Problem:
    """The problem of a view without what it can't do without."""
    what = f"A figure of the view “{view}” needs “{key}”."
    return Problem(figure.view.place, what, f"Add a line like “{key}: {example}”.")


def find_piece(word: Text, draft: Draft, problems: list[Problem]) -> Piece | None:
    """The piece a word names, or a problem."""
    if piece := draft.pieces.get(word.value):
        return piece
    problems.append(
        Problem(
            word.place,
            f"There is no piece “{word.value}” in this recipe.",
            suggestion(word.value, draft.pieces),
        )
    )
    return None


def find_edge(word: Text, draft: Draft, problems: list[Problem]) -> tuple[Piece, str] | None:
    """``brim.outer``, or ``shell brim.outer``, as the piece and its edge's name."""
    front, _, edge = word.value.rpartition(".")
    if not front:
        what, remedy = f"“{word.value}” is no edge.", "Write the piece in front: PIECE.EDGE."
        problems.append(Problem(word.place, what, remedy))
        return None
    name = _split(Text(front, word.place))[1]
    piece = find_piece(name, draft, problems)
    if piece is None:
        return None
    if edge not in piece.flat.edges:
        at = replace(word.place, column=word.place.column + len(front) + 1)
        what = f"The piece “{name}” has no edge “{edge}”."
        problems.append(Problem(at, what, suggestion(edge, piece.flat.edges)))
        return None
    return piece, edge


def find_cut_edge(
    word: Text, draft: Draft, problems: list[Problem]
) -> tuple[Piece, str, str] | None:
    """``shell brim.outer`` as the piece, its cloth and the edge's name. Without a cloth in front it
    is the first that the piece is cut from."""
    found = find_edge(word, draft, problems)
    if found is None:
        return None
    piece, edge = found
    cloth = _split(Text(word.value.rpartition(".")[0], word.place))[0]
    if cloth and cloth.value not in piece.counts:
        problems.append(_not_cut_from(cloth, piece))
        return None
    return piece, piece.cloth_or_first(cloth.value if cloth else None), edge


def find_layer(word: Text, draft: Draft, problems: list[Problem]) -> tuple[Piece, str] | None:
    """``shell brim`` as the piece and its cloth. The cloth may be left out where a piece is cut
    from one only."""
    cloth, name = _split(word)
    piece = find_piece(name, draft, problems)
    if piece is None:
        return None
    cloths = list(piece.counts)
    if cloth is None:
        if len(cloths) == 1:
            return piece, cloths[0]
        what = f"The piece “{piece.name}” is cut from several cloths."
        choices = " or ".join(f"“{one} {piece.name}”" for one in cloths)
        problems.append(Problem(word.place, what, f"Say which: {choices}."))
        return None
    if cloth.value in cloths:
        return piece, cloth.value
    problems.append(_not_cut_from(cloth, piece))
    return None


def find_seam(word: Text, draft: Draft, problems: list[Problem]) -> Seam | None:
    """The seam a word names, or a problem."""
    if seam := draft.seams.get(word.value):
        return seam
    what = f"There is no seam “{word.value}” in this recipe."
    problems.append(Problem(word.place, what, suggestion(word.value, draft.seams)))
    return None


def find_word(word: Text, known: Iterable[str], key: str, problems: list[Problem]) -> str | None:
    """One of a few words a key may have, or a problem."""
    names = list(known)
    if word.value in names:
        return word.value
    what = f"“{key}” can't be “{word.value}”."
    problems.append(Problem(word.place, what, suggestion(word.value, names)))
    return None


def one_of(table: Table, key: str, known: Sequence[str], problems: list[Problem]) -> str | None:
    """The word of a key that is one of a few; none where the key is left out, or a problem."""
    for word in texts(table, key, problems):
        return find_word(word, known, key, problems)
    return None


def _not_cut_from(cloth: Text, piece: Piece) -> Problem:
    what = f"The piece “{piece.name}” is not cut from “{cloth.value}”."
    return Problem(cloth.place, what, suggestion(cloth.value, piece.counts))


def _split(word: Text) -> tuple[Text | None, Text]:
    cloth, gap, name = word.value.rpartition(" ")
    if not gap:
        return None, word
    shift = len(cloth) + len(gap)
    place = Place(word.place.file, word.place.line, word.place.column + shift)
    return Text(cloth.strip(), word.place), Text(name, place)
