"""The live pictures, one module each, in the four rooms of the course.

A module `name` has a function `name(units)` that returns the picture.
"""
