"""Practice questions for learning systems, as QTI 2.1, an open standard of 1EdTech. Holds no graded question."""
