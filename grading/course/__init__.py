"""The course folder, its class list, and how words and times from outside are made safe.

Everything else in `grading` may use this room; it uses none of the others.
"""
