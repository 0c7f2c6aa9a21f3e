"""Practice questions for learning systems, as QTI 2.1, an open standard of 1EdTech.

No graded question is written here.
"""
