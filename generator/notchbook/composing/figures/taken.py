"""Where a tape goes: a neutral head and bust, a lower leg and a hand, and on each the places
where measures are taken, by the words a recipe has for them.

Head and bust are those of ``solids/body.py``, in girths of the head. The leg is a rule of thumb
in heights of the calf above the ankle bone (0 is there, −1 the calf), a shank's thickest
part lying about two thirds up from the ankle to the knee; the hand in breadths across its knuckles.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass

from notchbook.composing.solids.body import HEAD, OVAL, body
from notchbook.drafting.fit import CROWN
from notchbook.drafting.geometry.oval import axes, oval
from notchbook.drafting.geometry.path import Path, polyline
from notchbook.drafting.geometry.scale import scaled
from notchbook.drafting.geometry.segments import Cubic
from notchbook.drafting.geometry.vector import Point

GIRTHS = ("head", "forehead", "neck", "shoulders", "calf", "ankle", "hand")
"""What the tape goes round; along all others it lies straight."""

HEAD_AND_BUST = ("head", "forehead", "crown", "neck", "shoulders", "back")
LOWER_LEG = ("calf", "ankle", "leg")


@dataclass(frozen=True, slots=True)
class Seen:
    """Something seen from one side, mm: its outlines, what lies on it, and where the tape runs for
    each place that is seen from there."""

    outlines: tuple[Path, ...]
    tapes: Mapping[str, Path]
    aids: tuple[Path, ...] = ()


def seen_for(places: Collection[str], girth: float = HEAD) -> list[tuple[Seen, ...]]:
    """Everything that shows some places, each of its kind from one side or two; ``girth`` is the
    head's."""
    found: list[tuple[Seen, ...]] = []
    if any(place in HEAD_AND_BUST for place in places):
        sides = (True,) if set(places) <= {"back", "crown"} else (False, True)
        found.append(tuple(_bust(girth, side, places) for side in sides))
    if any(place in LOWER_LEG for place in places):
        found.append((_leg("leg" in places),))
    if "hand" in places:
        found.append((_hand(),))
    return found


def _bust(g: float, side: bool, places: Collection[str]) -> Seen:
    figure = body(g, side)
    a, b = axes(g, OVAL)
    ear = 0.03 * g
    if not side:
        ears = (oval(x + 0.065j * g, 0.04 * g, 0.012 * g) for x in (-b - 0.008 * g, b + 0.008 * g))
        brows = (_bow(x * b + 0.035j * g, (x + 0.42) * b + 0.035j * g, -0.008 * g)
                 for x in (-0.62, 0.2))  # fmt: skip
        tapes = {
            "head": _round(b, 0.0, g),
            "forehead": _round(b * 0.985, -0.035 * g, g),
            "neck": _bow(complex(-0.125, 0.295) * g, complex(0.125, 0.295) * g, 0.025 * g),
            "shoulders": _bow(complex(-0.41, 0.44) * g, complex(0.41, 0.44) * g, 0.02 * g),
        }
        return Seen((figure.head, *ears, *figure.rest), tapes, tuple(brows))
    top = -CROWN * g
    outlines = [figure.head, *figure.rest]
    aids = [oval(complex(0.1 * a, 0.065 * g), 0.04 * g, ear)]
    tapes = {
        "head": _round(a, 0.0, g),
        "forehead": _round(a * 0.985, -0.035 * g, g),
        "neck": _bow(complex(-0.27 * a, 0.315 * g), complex(0.76 * a, 0.3 * g), 0.015 * g),
        "shoulders": _bow(complex(-0.9 * a, 0.44 * g), complex(1.14 * a, 0.44 * g), 0.02 * g),
    }
    if "crown" in places:
        # A book lies level on the head; the tape stands beside it.
        far = 1.35 * a
        aids.append(polyline(*(complex(x, y) for x, y in (
            (-0.5 * a, top), (far + 0.06 * g, top), (far + 0.06 * g, top - 0.03 * g),
            (-0.5 * a, top - 0.03 * g), (-0.5 * a, top),
        ))))  # fmt: skip
        tapes["crown"] = polyline(far, complex(far, top))
        aids.append(polyline(complex(a, 0), complex(far + 0.06 * g, 0)))
    if "back" in places:
        foot = 1.0 * g
        outlines += [
            polyline(complex(x * a, 0.46 * g), complex(y * a, foot))
            for x, y in ((1.12, 1.06), (-0.88, -0.85))
        ]
        start, end = complex(0.8 * a, 0.315 * g), complex(1.2 * a, 0.9 * g)
        leave, arrive = complex(1.2 * a, 0.37 * g), complex(1.27 * a, 0.5 * g)
        tapes["back"] = Path((Cubic(start, leave, arrive, end),))
    return Seen(tuple(outlines), tapes, tuple(aids))


def _leg(whole: bool) -> Seen:
    """Seen with the toes to the left, 280 mm from ankle bone to calf; with what shows that, if the
    ``whole`` of it is measured."""
    h = 280.0
    back = _run(
        0.22 - 1.5j, (0.26 - 1.3j, 0.33 - 1.15j, 0.33 - 1j),
        (0.33 - 0.75j, 0.17 - 0.55j, 0.15 - 0.22j), (0.14 - 0.05j, 0.2 + 0.05j, 0.22 + 0.18j),
        (0.23 + 0.27j, 0.18 + 0.3j, 0.1 + 0.3j), (-0.1 + 0.3j, -0.4 + 0.3j, -0.62 + 0.3j),
        (-0.72 + 0.3j, -0.74 + 0.22j, -0.66 + 0.19j), (-0.5 + 0.12j, -0.25 + 0.05j, -0.15 - 0.1j),
        (-0.11 - 0.25j, -0.1 - 0.6j, -0.11 - 0.9j), (-0.12 - 1.15j, -0.17 - 1.35j, -0.2 - 1.5j),
    )  # fmt: skip
    bone = oval(0.02 + 0j, 0.05, 0.045)
    tapes = {
        "calf": _bow(-0.125 - 1j, 0.345 - 1j, 0.02),
        "ankle": _bow(-0.14 - 0.2j, 0.165 - 0.2j, 0.015),
    }
    if whole:
        tapes["leg"] = polyline(0.5 - 1j, 0.5 + 0j)
    levels = (polyline(0.36 - 1j, 0.56 - 1j), polyline(0.08 + 0j, 0.56 + 0j))
    aids = (bone, *(levels if whole else ()))
    return Seen(
        (scaled(back, h),),
        {name: scaled(tape, h) for name, tape in tapes.items()},
        tuple(scaled(aid, h) for aid in aids),
    )


def _hand() -> Seen:
    """The back of a left hand, fingers up, 85 mm across the knuckles."""
    w = 85.0
    outline = _run(
        -0.33 + 1.1j, (-0.34 + 0.8j, -0.5 + 0.5j, -0.5 + 0j),
        (-0.5 - 0.3j, -0.52 - 0.5j, -0.5 - 0.62j), (-0.48 - 0.75j, -0.3 - 0.75j, -0.28 - 0.62j),
        (-0.26 - 0.4j, -0.26 - 0.2j, -0.25 - 0.1j), (-0.25 - 0.4j, -0.25 - 0.7j, -0.24 - 0.9j),
        (-0.22 - 1.02j, -0.04 - 1.02j, -0.02 - 0.9j), (0 - 0.6j, 0 - 0.3j, 0 - 0.1j),
        (0.01 - 0.4j, 0.01 - 0.75j, 0.02 - 0.98j), (0.04 - 1.1j, 0.22 - 1.1j, 0.24 - 0.98j),
        (0.25 - 0.7j, 0.25 - 0.4j, 0.25 - 0.1j), (0.26 - 0.4j, 0.27 - 0.65j, 0.28 - 0.85j),
        (0.3 - 0.97j, 0.47 - 0.97j, 0.49 - 0.85j), (0.5 - 0.5j, 0.5 - 0.2j, 0.5 + 0.1j),
        (0.62 + 0j, 0.75 - 0.15j, 0.85 - 0.25j), (0.95 - 0.33j, 1.05 - 0.22j, 0.98 - 0.12j),
        (0.85 + 0.15j, 0.65 + 0.5j, 0.45 + 0.65j), (0.36 + 0.75j, 0.33 + 0.9j, 0.33 + 1.1j),
    )  # fmt: skip
    tape = _bow(-0.52 + 0.1j, 0.52 + 0.1j, 0.02)
    return Seen((scaled(outline, w),), {"hand": scaled(tape, w)})


def _run(start: Point, *cubics: tuple[Point, Point, Point]) -> Path:
    found = []
    for leave, arrive, end in cubics:
        found.append(Cubic(start, leave, arrive, end))
        start = end
    return Path(tuple(found))


def _round(half: float, y: float, g: float) -> Path:
    """A level tape round a head, seen from its own height."""
    over = half + 0.008 * g
    return polyline(complex(-over, y), complex(over, y))


def _bow(a: Point, b: Point, sag: float) -> Path:
    """A tape that goes round, seen from a little above."""
    third = (b - a) / 3
    down = 1j * sag * 4 / 3
    return Path((Cubic(a, a + third + down, b - third + down, b),))
