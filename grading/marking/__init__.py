"""Marking what was taken in, and storing the marks; nothing that was handed in is run.

What is shown to people afterwards lives in `report`.
"""
