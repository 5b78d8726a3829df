"""Text to recipe. Pure: every value keeps the file, line and column it came from."""
