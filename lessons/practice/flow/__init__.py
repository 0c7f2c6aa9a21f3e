"""Practice questions on flow: characteristics, capacity, pressure.

Each module holds the questions of one lesson as data; judging and showing them lies in `lessons/questions`.
"""
