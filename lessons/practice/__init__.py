"""The practice questions with their keys, one module for each lesson, in the four rooms of the course.

Each has `LESSON` (the notebook's name), `QUESTIONS`, and `TERMS`: the words the lesson explains, for the glossary.
Nothing that shows or judges a question belongs here.
"""
