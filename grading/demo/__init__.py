"""An invented class with known answers, to try every step on.

Nothing else depends on it.
"""
