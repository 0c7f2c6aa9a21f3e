"""What each of the instructor's commands does: one function a command.

Nothing is worked out here. What a command needs is loaded when it runs.
"""
