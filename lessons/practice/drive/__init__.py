"""Practice questions on what moves the stem, and what the stem does.

Each module holds the questions of one lesson as data; judging and showing them lies in `lessons/questions`.
"""
