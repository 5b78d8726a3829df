"""Plane geometry in millimetres: paths of lines, circular arcs and cubic Béziers.

Axes, once for the whole project: x runs to the right, y runs DOWN the page, as in SVG and on a
cutting table seen from above. Angles are in radians and grow from +x towards +y, so a positive
sweep turns clockwise as seen. A point or a direction is a Python complex number, ``x + y·1j``;
multiplying a direction by ``1j`` turns it a quarter clockwise.

Outer loops run clockwise as seen, holes anticlockwise: the cloth always lies on the right-hand side
of the direction of travel, a loop's signed area is positive for an outline and negative for a hole,
and ``direction * -1j`` points out of the cloth.
"""
