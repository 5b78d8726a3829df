"""The views a figure can show, one file each, found by scanning this folder in name order.

A view is a module with ``draw(draft, figure, setting) -> Drawing``, which raises ContentError
where the figure names what is not there.

The reference page is made from the module's docstring, whose form is therefore fixed:
``The NAME view: what it shows.``; a paragraph that begins with ``Keys`` and lists them; what else
there is to know; and, at the end, ``Example::`` and a figure's keys, which are drawn on the recipe
in ``figures/example.py``.
"""
