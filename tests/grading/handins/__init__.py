"""A hand-in as data, when it came, and which of several counts."""
