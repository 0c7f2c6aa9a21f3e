"""Practice questions on the work: testing, repairing, finding a fault.

Each module holds the questions of one lesson as data; judging and showing them lies in `lessons/questions`.
"""
