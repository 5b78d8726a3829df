"""Developing: surfaces made of straight lines, laid flat without stretching.

A cloth bends but does not stretch. What it can become without a pucker is ruled: through every
point runs a straight line, and along that line the surface does not twist. Laid flat, every curve
on it keeps its length, its angles with the rulings, and its geodesic curvature (how sharply it
turns within the surface). Two kinds are developed here.

**Any cone.** A curve B(t) in a level plane is joined to an apex by straight lines of length R(t).
Laid flat about the apex, B keeps R, and a short stretch of it spans with the apex a triangle of
area ½ |B′ × u| dt, u = B − apex, which is also ½ R² dφ. So the angle grows as

    φ′ = |B′ × u| ÷ R²,

and the flat curve is F = R e^{iφ}, whose speed |F′|² = R′² + R² φ′² is |B′|²: it has kept its
length. With h the apex's height and everything seen from above, |B′ × u|² = (B′ × u)² + h² |B′|²
and R² = |u|² + h². φ′ never vanishes: seen from the apex, the flat curve never turns back.

**A brim.** Round a level opening of curvature k stands a surface that falls away from it at the
angle θ to the level. In the opening's own directions T (along), n (outwards) and z (up), the
surface's tangent plane is spanned by T and d = n cos θ − z sin θ. The curvature vector of the
opening is −k n, and the part of it that lies in that plane is −k n·d = −k cos θ: the opening's
geodesic curvature is k cos θ. Measured by ψ, the direction of n, k ds = dψ, so that laid flat the
opening turns by

    dα = cos θ dψ,   in all by ∮ cos θ dψ, against 2π when it lay level.

Where θ stays the same, the rulings are square to the opening, and every line at the same distance
from the opening is level, and a parallel of it, in space as in the flat. Where θ changes on the way
round, the tangent planes still envelop a developable surface, if nowhere level. Their normal is
m = n sin θ + z cos θ, with m′ = T sin θ + d θ′ (primes are by ψ). The ruling is square to both, so
it runs along

    d + q T,   q = −θ′ ÷ sin θ,

in space as in the flat, where d becomes the direction square to the opening. Rulings next to each
other meet at the distance l from the opening (square to it) where

    ρ + l (cos θ (1 + q²) + q′) = 0,   ρ = 1 ÷ k:

a brim must end before that.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Callable
from dataclasses import dataclass

from notchbook.drafting.geometry.fit import End
from notchbook.drafting.geometry.integral import running
from notchbook.drafting.geometry.vector import Point, cross, dot

Point3 = tuple[float, float, float]

TOLERANCE = 0.005
"""How far the fit of a developed curve may stray, mm."""

_WITHIN = 1e-3
"""What the last terms of a table may add to a curve, mm (see ``running``): it then misses by less
than 1e-4 mm."""


@dataclass(frozen=True, slots=True)
class Cone:
    """A cone over a level closed curve ``base`` (its point and derivative by a parameter of period
    2π; x right, y front), its apex ``height`` mm above the point ``foot``, slit open along the
    ruling at ``start``."""

    base: Callable[[float], End]
    foot: Point
    height: float
    start: float
    turned: Callable[[float], float]
    """The angle at the apex from the slit to a parameter, laid flat."""

    @property
    def angle(self) -> float:
        """The whole angle at the apex, laid flat."""
        return self.turned(self.start + math.tau)

    def slant(self, t: float) -> float:
        """From the apex to the base along the ruling at ``t``, mm."""
        return math.hypot(abs(self.base(t)[0] - self.foot), self.height)

    def crossing(self, t: float) -> float:
        """The angle at which ruling and base cross at ``t``: a right one on a right circular
        cone."""
        here, along = self.base(t)
        out = here - self.foot
        return math.atan2(_wedge(along, out, self.height), abs(dot(along, out)))

    def laid(self, t: float) -> End:
        """The base laid flat about the origin, the slit at angle 0: point and derivative."""
        here, along = self.base(t)
        out = here - self.foot
        far = math.hypot(abs(out), self.height)
        way = cmath.rect(1.0, self.turned(t))
        return far * way, complex(dot(along, out), _wedge(along, out, self.height)) / far * way


def cone(base: Callable[[float], End], foot: Point, height: float, start: float) -> Cone:
    """A cone developed from the ruling at the parameter ``start``."""

    def speed(t: float) -> float:
        here, along = base(t)
        out = here - foot
        return _wedge(along, out, height) / (dot(out, out) + height * height)

    far = math.hypot(abs(base(start)[0] - foot), height)
    turned = running(speed, start, start + math.tau, 0.0, _WITHIN / far)
    return Cone(base, foot, height, start, turned)


def _wedge(along: complex, out: complex, height: float) -> float:
    """|B′ × u|."""
    return math.hypot(cross(along, out), height * abs(along))


@dataclass(frozen=True, slots=True)
class Swell:
    """A value that changes evenly from front to back: by ψ, v = front + (back − front)·(1 + cos
    ψ)/2."""

    front: float
    back: float

    def at(self, psi: float) -> float:
        """The value at ψ."""
        return self.front + (self.back - self.front) * (1 + math.cos(psi)) / 2

    def change(self, psi: float) -> float:
        """Its derivative by ψ."""
        return (self.front - self.back) * math.sin(psi) / 2

    def bend(self, psi: float) -> float:
        """Its second derivative by ψ."""
        return (self.front - self.back) * math.cos(psi) / 2


@dataclass(frozen=True, slots=True)
class Brim:
    """A brim round a level oval opening of half length ``a`` and half breadth ``b``, sloping
    downwards by ``slope`` (negative: upwards), ``width`` wide along the cloth, square to the
    opening.

    The parameter ψ is the direction in which the opening faces, clockwise as seen from above: 0 at
    centre back, π/2 at the wearer's left, π at centre front. In space x runs right, y to the front.
    Laid flat, centre front is up the page, on x = 0, the opening there ``a`` from the origin, and
    centre back is slit. Both sides are alike, so the flat curves are given for π…2π only.
    """

    a: float
    b: float
    slope: Swell
    width: Swell
    waves: tuple[float, ...]
    """cos θ as a cosine series in ψ: its mean and the shares of cos kψ."""
    opening: Callable[[float], Point]
    """The flat opening."""

    @property
    def angle(self) -> float:
        """How far the flat opening turns on its way round; 2π for a level brim."""
        return math.tau * self.waves[0]

    def level(self, psi: float) -> Point:
        """The opening in space, seen from above."""
        sine, cosine = math.sin(psi), math.cos(psi)
        h = math.hypot(self.a * cosine, self.b * sine)
        slide = (self.b**2 - self.a**2) * sine * cosine / h
        return (h * -1j - slide) * complex(cosine, -sine)

    def skew(self, psi: float) -> float:
        """q: how far the ruling runs along the opening for each mm outwards."""
        change = self.slope.change(psi)
        return -change / math.sin(self.slope.at(psi)) if change else 0.0

    def room(self, psi: float) -> float:
        """The share of the way to where rulings meet that is left beyond the outer edge, at most 1:
        at 0 they meet on it."""
        spread = self._spread(psi)
        return min(1 + self.width.at(psi) * spread / _radius(self.a, self.b, psi), 1.0)

    def inner(self, psi: float) -> End:
        """The flat opening: point and derivative."""
        way = cmath.rect(1.0, _turned(self.waves, psi))
        return self.opening(psi), _radius(self.a, self.b, psi) * way

    def outer(self, psi: float) -> End:
        """The flat outer edge: point and derivative."""
        way = cmath.rect(1.0, _turned(self.waves, psi))
        width = self.width.at(psi)
        along = _radius(self.a, self.b, psi) + width * math.cos(self.slope.at(psi))
        here = self.opening(psi) - 1j * width * way
        return here, complex(along, -self.width.change(psi)) * way

    def edge(self) -> list[Point3]:
        """The outer edge in space, the opening at the height 0: points from centre back round by
        the wearer's left, the first again at the end, whose chords miss it by 0.01 mm at most.

        Where the slope stays the same, ψ's ruling ends at ψ's point of the outer edge. Elsewhere
        the ruling through that point starts at another ψ, which Newton's method finds in the flat:
        seen from there, x along the opening and ``out`` square to it, the point has x = q·out.
        """
        widest = max(self.width.front, self.width.back)
        bulge = max(self.a, self.b) ** 2 / min(self.a, self.b) + widest
        steps = math.ceil(math.pi / math.sqrt(8 * 0.005 / bulge))
        twisted = self.slope.front != self.slope.back
        found: list[Point3] = []
        psi = ahead = x = 0.0
        theta = self.slope.front
        run, fall = math.cos(theta), math.sin(theta)
        for k in range(steps + 1):
            here = math.pi * (1 + k / steps)
            psi, out = here + ahead, self.width.at(here)
            if twisted:
                at = self.opening(here) - 1j * out * cmath.rect(1.0, _turned(self.waves, here))
                psi, x, out = self._ruling(at, psi)
                ahead = psi - here
                theta = self.slope.at(psi)
                run, fall = math.cos(theta), math.sin(theta)
            back = complex(math.cos(psi), -math.sin(psi))
            above = self.level(psi) + (out * run * -1j - x) * back
            aside = above.real if 0 < k < steps else 0.0
            found.append((aside, above.imag, -out * fall))
        return [(-x, y, z) for x, y, z in reversed(found)] + found[1:]

    def _ruling(self, at: Point, psi: float) -> tuple[float, float, float]:
        """The ruling through a point of the flat outer edge, and the point's x and ``out`` there;
        ``psi`` is where to look first."""
        while True:
            seen = (at - self.opening(psi)) / cmath.rect(1.0, _turned(self.waves, psi))
            x, out = seen.real, -seen.imag
            miss = x - self.skew(psi) * out
            if abs(miss) < 1e-5:
                return psi, x, out
            psi += miss / (_radius(self.a, self.b, psi) + out * self._spread(psi))

    def _spread(self, psi: float) -> float:
        """By how much rulings part for each mm outwards and radian: cos θ (1 + q²) + q′."""
        theta = self.slope.at(psi)
        if self.slope.front == self.slope.back:
            return math.cos(theta)
        q = self.skew(psi)
        return math.cos(theta) * (1 + 2 * q * q) - self.slope.bend(psi) / math.sin(theta)


def brim(a: float, b: float, slope: Swell, width: Swell) -> Brim:
    """A brim developed from centre front to centre back."""
    waves = _series(slope)

    square = (a * b) ** 2

    def speed(psi: float) -> complex:
        # The radius of curvature and the turning written out: most of the time goes here.
        support = math.hypot(a * math.cos(psi), b * math.sin(psi))
        return cmath.rect(square / support**3, _turned(waves, psi))

    return Brim(a, b, slope, width, waves, running(speed, math.pi, math.tau, -1j * a, _WITHIN))


def _series(slope: Swell) -> tuple[float, ...]:
    """cos θ as a cosine series: sums over 32 equal steps are exact to the last digits, as the
    shares fall off like Bessel's functions of half the difference in slope."""
    if slope.front == slope.back:
        return (math.cos(slope.front),)
    steps = [math.tau * j / 32 for j in range(32)]
    heights = [math.cos(slope.at(psi)) for psi in steps]

    def share(k: int) -> float:
        products = (height * math.cos(k * psi) for height, psi in zip(heights, steps, strict=True))
        return math.fsum(products) / (32 if k == 0 else 16)

    shares = [share(k) for k in range(13)]
    count = max(k for k in range(13) if k == 0 or abs(shares[k]) > 1e-12) + 1
    return tuple(shares[:count])


def _turned(waves: tuple[float, ...], psi: float) -> float:
    """How far the flat opening has turned since centre front."""
    total = waves[0] * (psi - math.pi)
    if len(waves) == 1:
        return total
    for k in range(1, len(waves)):
        total += waves[k] * math.sin(k * psi) / k
    return total


def _support(a: float, b: float, psi: float) -> float:
    """How far the oval's tangent in the direction ψ lies from its middle, mm."""
    return math.hypot(a * math.cos(psi), b * math.sin(psi))


def _radius(a: float, b: float, psi: float) -> float:
    """The oval's radius of curvature where it faces ψ, mm: a² b² over the cube of the support."""
    return (a * b) ** 2 / _support(a, b, psi) ** 3
