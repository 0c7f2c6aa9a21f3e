"""The live pictures of the lessons: one module each, with a function of the same name."""
