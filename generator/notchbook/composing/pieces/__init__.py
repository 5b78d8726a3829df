"""A piece as it is drawn at full size or smaller, and what it says about itself."""
