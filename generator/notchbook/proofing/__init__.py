"""A trial copy of the site beside the author's editor: watched, kept up to date and served."""
