"""Arranging pieces: on the sheets of a full-size pattern and on the width of a cloth."""
