"""A whole panel from the half of it on one side of a line: unfolded, as the trade says."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace

from notchbook.drafting.geometry.stretch import across
from notchbook.drafting.geometry.vector import TOUCH, Point
from notchbook.drafting.limits import mm
from notchbook.drafting.panels.darts import DartRule
from notchbook.drafting.panels.runs import APART, Loop, Run, edge_path
from notchbook.drafting.shape import Refusal


def whole_of(
    loops: Mapping[str, Loop],
    at: Mapping[str, Point],
    rules: Sequence[DartRule],
    mirror: tuple[str, str],
) -> tuple[dict[str, Loop], dict[str, Point], tuple[DartRule, ...]]:
    """The loops (the outline under the empty name), points and darts of the whole.

    A loop that runs from the line back to it is unfolded; a closed one is doubled, but for a circle
    about a point on the line. The mirror image of a point A is called A′.
    """
    a, b = (at[name] for name in mirror)
    if abs(b - a) < APART:
        raise Refusal("Its mirror line has no length.", "Name two points that differ.", "mirror")
    images = {name: across(point, a, b) for name, point in at.items()}
    on = {name for name in at if abs(images[name] - at[name]) < TOUCH}
    # As many primes as make a name that no point has.
    primes = "′"
    while any(f"{name}{primes}" in at for name in at):
        primes += "′"
    names = {name: name if name in on else f"{name}{primes}" for name in at}
    points = {**at, **{names[name]: images[name] for name in at if name not in on}}

    def image(edge: tuple[Run, ...]) -> tuple[Run, ...]:
        return tuple(run.mirrored(names, a, b) for run in reversed(edge))

    whole: dict[str, Loop] = {}
    made: list[DartRule] = []
    for name, loop in loops.items():
        own = [
            (rule, edge_path(rule.edge, loop[rule.edge], at).length())
            for rule in rules
            if rule.edge in loop
        ]
        runs = [run for edge in loop.values() for run in edge]
        first, last = next(iter(loop)), next(reversed(loop))
        if runs[0].kind == "circle" and name:
            centre = runs[0].points[0]
            if own and centre not in on:
                raise Refusal(
                    f"Edge “{first}” is a circle that is mirrored, and has a dart.",
                    "Draw the hole from two arcs.",
                    "darts",
                )
            whole[name] = loop
            made.extend(rule for rule, _ in own)
            if centre not in on:
                whole[f"other_{name}"] = {f"other_{first}": image(loop[first])}
            continue
        ends = runs[0].points[0], runs[-1].points[-1]
        if name and ends[0] == ends[1]:
            whole[name] = loop
            whole[f"other_{name}"] = {
                f"other_{edge}": image(parts) for edge, parts in reversed(loop.items())
            }
            for rule, length in own:
                made += [rule, _image(rule, length, f"other_{rule.edge}", a, b)]
            continue
        _check_half(ends, at, images, mirror, runs[0].kind == "circle")
        whole[name] = dict(_unfolded(loop, first, last, image))
        for rule, length in own:
            other = _image(rule, length, rule.edge, a, b)
            if rule.edge == last:
                made += [rule, replace(other, at=length + other.at)]
            elif rule.edge == first:
                made += [other, replace(rule, at=length + rule.at)]
            else:
                made += [rule, replace(other, edge=f"other_{rule.edge}")]
    return whole, points, tuple(made)


def _check_half(
    ends: tuple[str, str],
    at: Mapping[str, Point],
    images: Mapping[str, Point],
    mirror: tuple[str, str],
    circle: bool,
) -> None:
    if circle or abs(at[ends[0]] - at[ends[1]]) < TOUCH:
        raise Refusal(
            "Its edges go all the way round, and mirrored they would lie on themselves.",
            "Draw the edges of one half, from the mirror line to the mirror line; or leave "
            "“mirror” out.",
            "mirror",
        )
    for end in ends:
        gap = abs(images[end] - at[end]) / 2
        if gap >= TOUCH:
            raise Refusal(
                f"The half {'starts' if end == ends[0] else 'ends'} at “{end}”, {mm(gap)} from the "
                f"mirror line {mirror[0]}–{mirror[1]}.",
                "Let the edges run from one point on that line to another.",
                "mirror",
            )


def _unfolded(
    loop: Loop, first: str, last: str, image: Callable[[tuple[Run, ...]], tuple[Run, ...]]
) -> Iterator[tuple[str, tuple[Run, ...]]]:
    """The edges of the whole: the first and the last are one with their images."""
    for name, edge in loop.items():
        if name == last:
            yield name, (*edge, *image(edge))
        elif name == first:
            yield name, (*image(edge), *edge)
        else:
            yield name, edge
    for name, edge in reversed(loop.items()):
        if name not in (first, last):
            yield f"other_{name}", image(edge)


def _image(rule: DartRule, length: float, edge: str, a: Point, b: Point) -> DartRule:
    """The mirror image of a dart, on an edge that is travelled the other way."""
    point = None if rule.point is None else across(rule.point, a, b)
    return replace(rule.turned_round(length), name=f"other {rule.name}", edge=edge, point=point)
