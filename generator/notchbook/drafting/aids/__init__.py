"""What several shapes are drawn with: round curves, rectangles, profiles, points measured off."""
