"""Graded questions on what moves the stem, and what the stem does."""
