"""The sheets of a full-size pattern for a home printer."""
