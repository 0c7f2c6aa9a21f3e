"""What a lesson notebook calls, and what that needs: finding a question, overview, glossary, search, sign-on.

Only this room knows IPython; questions, pictures and cards are made elsewhere and only shown here. The calls are loaded
when they are first used, so that other code can find a question without starting IPython.
"""

from importlib import import_module
from typing import Any

__all__ = ["ask", "begin", "card", "dashboard", "glossary", "isolation", "job_cards", "live", "picture", "sign_on"]


def __getattr__(name: str) -> Any:
    if name in __all__:
        return getattr(import_module("lessons.notebook.calls"), name)
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
