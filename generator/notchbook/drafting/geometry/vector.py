"""Points and directions of the plane as complex numbers. The axes: see the package."""

from __future__ import annotations

Point = complex

TOUCH = 1e-6
"""Two points nearer than this (mm) are the same point."""


def unit(direction: complex) -> complex:
    """``direction`` at length one."""
    return direction / abs(direction)


def cross(a: complex, b: complex) -> float:
    """a.x b.y − a.y b.x: positive when ``b`` lies clockwise of ``a`` as seen."""
    return a.real * b.imag - a.imag * b.real


def dot(a: complex, b: complex) -> float:
    """a.x b.x + a.y b.y."""
    return a.real * b.real + a.imag * b.imag


def flip(point: Point) -> Point:
    """``point`` mirrored left to right."""
    return complex(-point.real, point.imag)
