"""Graded questions on the work: testing, repairing, finding a fault.

Each module holds what counts in one lesson, with its points; who gets which variant is no matter of it.
"""
