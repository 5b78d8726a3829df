"""Recipe, measures to a draft: exact geometry, seams, notches, quantities. Pure."""
