"""The gradebook: its tables, and the few calls of the library that made them.

Nothing here knows what an answer means.
"""
