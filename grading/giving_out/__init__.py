"""Giving out a lesson: its numbers for each badge, the notebook, the zip; one command at a time.

Nothing here judges a hand-in.
"""
