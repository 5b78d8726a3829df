"""The shapes pieces are drafted in, one file each, found by scanning this folder in name order."""
