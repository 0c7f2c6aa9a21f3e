"""A hand-in as data: reading its file, the record of what was received, opening files with care.

Nothing here judges an answer or runs anything that was handed in.
"""
