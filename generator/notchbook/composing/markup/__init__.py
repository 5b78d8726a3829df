"""Drawings and pages as text: SVG and HTML."""
