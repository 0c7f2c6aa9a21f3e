"""What was given out, kept with its keys, and judging an answer by it.

Nothing here reads the questions as they are today, or writes a mark down.
"""
