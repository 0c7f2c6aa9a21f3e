"""Cut through what moves the stem: actuators, piston, positioner, and the valve as a whole.

No bodies of their own.
"""
