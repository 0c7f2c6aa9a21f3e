"""Graded questions on the valve itself: what it is made of and which one to pick.

Each module holds what counts in one lesson, with its points; who gets which variant is no matter of it.
"""
