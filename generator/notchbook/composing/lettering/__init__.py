"""Where words find room between lines and other words."""
