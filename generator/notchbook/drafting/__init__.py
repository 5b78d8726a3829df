"""Recipe, measures and choices to a draft: exact geometry, seams, notches, quantities. Pure."""
