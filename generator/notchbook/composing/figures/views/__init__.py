"""The views a figure can show, one file each, found by scanning this folder in name order.

A view is a module with ``draw(draft, figure, setting) -> Drawing``, which raises ContentError
where the figure names what is not there.
"""
