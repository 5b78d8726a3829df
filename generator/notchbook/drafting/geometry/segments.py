"""What paths are made of: lines, circular arcs and cubic Béziers."""

from __future__ import annotations

import cmath
import math
from dataclasses import dataclass

from notchbook.drafting.geometry.integral import FIVE, SEVEN
from notchbook.drafting.geometry.vector import TOUCH, Point, cross, dot, flip, unit

(_FIVE, _BY_FIVE), (_SEVEN, _BY_SEVEN) = FIVE, SEVEN


@dataclass(frozen=True, slots=True)
class Line:
    """A straight line from ``start`` to ``end``."""

    start: Point
    end: Point

    def length(self) -> float:
        """Length, mm. Closed form."""
        return abs(self.end - self.start)

    def point(self, t: float) -> Point:
        """The point at share ``t`` (0 to 1)."""
        return self.start + (self.end - self.start) * t

    def tangent(self, t: float) -> complex:
        """Unit direction of travel at share ``t``."""
        return unit(self.end - self.start)

    def area(self) -> float:
        """Signed area, mm², swept by the ray from the origin: ½ ∫ (x dy − y dx)."""
        return 0.5 * cross(self.start, self.end)

    def part(self, t0: float, t1: float) -> Line:
        """The stretch between two shares."""
        return Line(self.point(t0), self.point(t1))

    def reversed(self) -> Line:
        """The same line travelled the other way."""
        return Line(self.end, self.start)

    def moved(self, turn: complex, shift: complex) -> Line:
        """Every point p taken to ``p * turn + shift``; ``turn`` is a unit direction."""
        return Line(self.start * turn + shift, self.end * turn + shift)

    def mirrored(self) -> Line:
        """Flipped left to right (x becomes −x), direction of travel kept with the points."""
        return Line(flip(self.start), flip(self.end))

    def share_at(self, distance: float, length: float) -> float:
        """The share at ``distance`` mm from the start of the whole ``length``."""
        return distance / length

    def points(self, tolerance: float = 0.05) -> list[Point]:
        """Its end."""
        return [self.start + (self.end - self.start)]


@dataclass(frozen=True, slots=True)
class Arc:
    """A circular arc round ``centre``, from angle ``begin`` over the signed angle ``sweep``."""

    centre: Point
    radius: float
    begin: float
    sweep: float

    @property
    def start(self) -> Point:
        """First point."""
        return self.centre + cmath.rect(self.radius, self.begin)

    @property
    def end(self) -> Point:
        """Last point."""
        return self.centre + cmath.rect(self.radius, self.begin + self.sweep)

    def length(self) -> float:
        """Length, mm: radius × angle."""
        return self.radius * abs(self.sweep)

    def point(self, t: float) -> Point:
        """The point at share ``t`` (0 to 1)."""
        return self.centre + cmath.rect(self.radius, self.begin + self.sweep * t)

    def tangent(self, t: float) -> complex:
        """Unit direction of travel at share ``t``."""
        return cmath.rect(1, self.begin + self.sweep * t) * math.copysign(1, self.sweep) * 1j

    def area(self) -> float:
        """Signed area, mm², swept by the ray from the origin: ½ r² φ + ½ c × (end − start)."""
        return 0.5 * (
            self.radius * self.radius * self.sweep + cross(self.centre, self.end - self.start)
        )

    def part(self, t0: float, t1: float) -> Arc:
        """The stretch between two shares."""
        return Arc(self.centre, self.radius, self.begin + self.sweep * t0, self.sweep * (t1 - t0))

    def reversed(self) -> Arc:
        """The same arc travelled the other way."""
        return Arc(self.centre, self.radius, self.begin + self.sweep, -self.sweep)

    def moved(self, turn: complex, shift: complex) -> Arc:
        """Every point p taken to ``p * turn + shift``; ``turn`` is a unit direction."""
        return Arc(
            self.centre * turn + shift, self.radius, self.begin + cmath.phase(turn), self.sweep
        )

    def mirrored(self) -> Arc:
        """Flipped left to right (x becomes −x), direction of travel kept with the points."""
        return Arc(flip(self.centre), self.radius, math.pi - self.begin, -self.sweep)

    def share_at(self, distance: float, length: float) -> float:
        """The share at ``distance`` mm from the start of the whole ``length``."""
        return distance / length

    def points(self, tolerance: float = 0.05) -> list[Point]:
        """Points along it after its start whose chords stay within ``tolerance`` mm of it."""
        # Sagitta of a chord over angle φ: r (1 − cos φ/2).
        wide = self.radius > tolerance
        widest = 2 * math.acos(max(1 - tolerance / self.radius, 0.0)) if wide else 2.0
        count = max(math.ceil(abs(self.sweep) / widest), 1)
        centre, radius, begin, sweep = self.centre, self.radius, self.begin, self.sweep
        return [
            centre + cmath.rect(radius, begin + sweep * (k / count)) for k in range(1, count + 1)
        ]


@dataclass(frozen=True, slots=True)
class Cubic:
    """A cubic Bézier from ``start`` to ``end`` with handles ``leave`` and ``arrive``."""

    start: Point
    leave: Point
    arrive: Point
    end: Point

    def length(self) -> float:
        """Length, mm, integrated to 1e-6."""
        return self._stretch(0.0, 1.0)

    def _stretch(self, t0: float, t1: float) -> float:
        """Length between two shares, negative if they run backwards. Seven Gauss nodes miss by far
        less than they differ from five."""
        half, middle = (t1 - t0) / 2, (t0 + t1) / 2
        a = 3 * (self.leave - self.start)
        b = 6 * (self.arrive - 2 * self.leave + self.start)
        c = 3 * (self.end - 3 * self.arrive + 3 * self.leave - self.start)
        # By half stretches from the middle: r + s·x + t·x². Nodes come in pairs, one on each side.
        r, s, t = a + middle * (b + middle * c), half * (b + 2 * middle * c), half * half * c
        speed = abs(r)
        rough, fine = _FIVE * speed, _SEVEN * speed
        for x, weight in _BY_FIVE:
            even, odd = r + x * x * t, x * s
            rough += weight * (abs(even + odd) + abs(even - odd))
        for x, weight in _BY_SEVEN:
            even, odd = r + x * x * t, x * s
            fine += weight * (abs(even + odd) + abs(even - odd))
        if abs((fine - rough) * half) < 1e-7 or abs(half) < 1e-6:
            return fine * half
        return self._stretch(t0, middle) + self._stretch(middle, t1)

    def point(self, t: float) -> Point:
        """The point at share ``t`` of the parameter (0 to 1)."""
        s = 1 - t
        return (
            s * s * s * self.start
            + 3 * s * s * t * self.leave
            + 3 * s * t * t * self.arrive
            + t * t * t * self.end
        )

    def derivative(self, t: float) -> complex:
        """d point / d t."""
        s = 1 - t
        return 3 * (
            s * s * (self.leave - self.start)
            + 2 * s * t * (self.arrive - self.leave)
            + t * t * (self.end - self.arrive)
        )

    def second(self, t: float) -> complex:
        """d² point / d t²."""
        return 6 * (
            (1 - t) * (self.arrive - 2 * self.leave + self.start)
            + t * (self.end - 2 * self.arrive + self.leave)
        )

    def tangent(self, t: float) -> complex:
        """Unit direction of travel at share ``t``. At a handle of no length it is that in which
        the curve sets off or comes in (l'Hôpital: the next derivative that does not vanish)."""
        direction = self.derivative(t)
        if abs(direction) < TOUCH:
            direction = self.second(t) if t < 0.5 else -self.second(t)
        if abs(direction) < TOUCH:
            direction = self.end - self.start
        return unit(direction)

    def area(self) -> float:
        """Signed area, mm², swept by the ray from the origin. Closed form (Green's theorem)."""
        p, q, r, s = self.start, self.leave, self.arrive, self.end
        return (
            6 * cross(p, q) + 3 * cross(p, r) + cross(p, s)
            + 3 * cross(q, r) + 3 * cross(q, s) + 6 * cross(r, s)
        ) / 20  # fmt: skip

    def part(self, t0: float, t1: float) -> Cubic:
        """The stretch between two shares of the parameter."""
        start, end = self.point(t0), self.point(t1)
        third = (t1 - t0) / 3
        return Cubic(
            start, start + self.derivative(t0) * third, end - self.derivative(t1) * third, end
        )

    def reversed(self) -> Cubic:
        """The same curve travelled the other way."""
        return Cubic(self.end, self.arrive, self.leave, self.start)

    def moved(self, turn: complex, shift: complex) -> Cubic:
        """Every point p taken to ``p * turn + shift``; ``turn`` is a unit direction."""
        return Cubic(
            self.start * turn + shift,
            self.leave * turn + shift,
            self.arrive * turn + shift,
            self.end * turn + shift,
        )

    def mirrored(self) -> Cubic:
        """Flipped left to right (x becomes −x), direction of travel kept with the points."""
        return Cubic(flip(self.start), flip(self.leave), flip(self.arrive), flip(self.end))

    def share_at(self, distance: float, length: float) -> float:
        """The share of the parameter at ``distance`` mm from the start of the whole ``length``
        (Newton with the next term, kept inside).

        With s the length along the curve, s′ = |c′| and s″ = c′·c″ ÷ |c′|. What a step δ leaves out
        is at most s‴ δ³ ÷ 6, and |s‴| ≤ |c‴| + |c″|² ÷ |c′|: where that is nothing, the step is not
        measured again.
        """
        low, high = 0.0, 1.0
        t = self._guess(min(max(distance / length, 0.0), 1.0), length)
        gone = self._stretch(0.0, t)
        jerk = 6 * abs(self.end - self.start + 3 * (self.leave - self.arrive))
        for _ in range(40):
            miss = gone - distance
            if abs(miss) < 1e-7:
                break
            low, high = (low, t) if miss > 0 else (t, high)
            along, bend = self.derivative(t), self.second(t)
            speed = abs(along)
            following = -1.0
            if speed > TOUCH:
                step = -miss / speed
                change = dot(along, bend) / (speed * speed)
                following = t + step * (1 - change * step / 2)
            if not low < following < high:
                following = (low + high) / 2
            elif (jerk + abs(bend) ** 2 / speed) * abs(step) ** 3 < 1e-8:
                return following
            gone += self._stretch(t, following)
            t = following
        return t

    def points(self, tolerance: float = 0.05) -> list[Point]:
        """Points along it after its start whose chords stay within ``tolerance`` mm of it."""
        # A chord over parameter h misses by at most h²/8 · max |second derivative|.
        bend = max(abs(self.second(0)), abs(self.second(1)))
        count = max(math.ceil(math.sqrt(bend / (8 * tolerance))), 1)
        p, q, r, e = self.start, self.leave, self.arrive, self.end
        found = []
        for k in range(1, count + 1):
            t = k / count
            s = 1 - t
            found.append(s * s * s * p + 3 * s * s * t * q + 3 * s * t * t * r + t * t * t * e)
        return found

    def _guess(self, gone: float, length: float) -> float:
        """About where a share of the length is gone: the cubic in it that has the true slopes at
        both ends."""
        first, last = abs(self.leave - self.start), abs(self.end - self.arrive)
        if min(first, last) < length / 30:
            return gone
        leave, arrive = length / (3 * first), length / (3 * last)
        t = gone * (leave + gone * (3 - 2 * leave - arrive + gone * (leave + arrive - 2)))
        return min(max(t, 0.0), 1.0)


Segment = Line | Arc | Cubic
