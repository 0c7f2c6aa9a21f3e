"""Practice questions with their keys, one module per lesson.

Each has `LESSON` (the notebook's name), `QUESTIONS`, and `TERMS`: the words the lesson explains, for the glossary.
"""
