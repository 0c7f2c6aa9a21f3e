"""What stands round a valve in its line: joints with their gaskets, and the piping of an installation.

Actuators and what feeds them live in `actuators` and `air`.
"""
