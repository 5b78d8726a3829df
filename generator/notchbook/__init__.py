"""Notchbook: from one Markdown recipe to true pattern pieces for every body."""

__version__ = "0.1.0"
