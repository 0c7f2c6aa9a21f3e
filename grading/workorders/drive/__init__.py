"""Graded questions on what moves the stem, and what the stem does.

Each module holds what counts in one lesson, with its points; who gets which variant is no matter of it.
"""
