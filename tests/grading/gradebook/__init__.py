"""The gradebook, as nbgrader reads it."""
