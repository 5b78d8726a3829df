"""Solids: the finished thing in space, put together from the forms of its pieces along its seams,
and drawn as lines with what lies behind left out.

In space x runs to the wearer's right, y to the front and z up, mm."""
