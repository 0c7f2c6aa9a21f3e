"""Graded questions on flow: characteristics, capacity, pressure.

Each module holds what counts in one lesson, with its points; who gets which variant is no matter of it.
"""
