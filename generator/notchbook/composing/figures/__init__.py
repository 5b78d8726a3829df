"""The views a figure can show, one file each, found by scanning this folder in name order."""
