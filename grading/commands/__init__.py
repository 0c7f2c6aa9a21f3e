"""The instructor's commands: what each is called and does, one function a command.

Nothing is worked out here. What a command needs is loaded when it runs.
"""

from grading.commands.parser import main
from grading.commands.usual import DONE, FAILED, LOOK

__all__ = ["DONE", "FAILED", "LOOK", "main"]
