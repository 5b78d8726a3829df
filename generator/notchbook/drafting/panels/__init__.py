"""How a panel is read from a recipe and drawn: its points, edges, darts and mirrored halves."""
