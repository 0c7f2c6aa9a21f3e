"""Graded questions on flow: characteristics, capacity, pressure."""
