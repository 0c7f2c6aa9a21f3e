"""Practice questions on the valve itself: what it is made of and which one to pick.

Each module holds the questions of one lesson as data; judging and showing them lies in `lessons/questions`.
"""
