"""Quantities with their trade units, in both unit sets; the one table of units.

Nothing that knows a question, a picture or a card belongs here.
"""
