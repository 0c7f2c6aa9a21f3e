"""Marks of good, bad and hostile hand-ins, the same as nbgrader's own."""
