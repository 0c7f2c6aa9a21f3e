"""Locks a lesson for whoever works through it: put in when a working copy or a release is made, and only then.

The notebooks in the project carry no locks, so that their author can edit them.
"""

from __future__ import annotations

import re
from typing import Any

_ANSWER = re.compile(r"\s*%%answer[ \t]")


def locked(notebook: dict[str, Any]) -> dict[str, Any]:
    """Return a notebook in which no cell can be deleted, code is out of sight, and only answers can be typed.

    >>> ask, box = locked({"cells": [
    ...     {"cell_type": "code", "source": ['ask("trim.parts")']},
    ...     {"cell_type": "code", "source": ["%%answer trim.parts"]},
    ... ]})["cells"]
    >>> ask["metadata"]
    {'deletable': False, 'editable': False, 'jupyter': {'source_hidden': True}}
    >>> box["metadata"]
    {'deletable': False}
    """
    return {**notebook, "cells": [{**cell, "metadata": _locks(cell)} for cell in notebook["cells"]]}


def _locks(cell: dict[str, Any]) -> dict[str, Any]:
    kept = {name: value for name, value in cell.get("metadata", {}).items() if name not in ("editable", "jupyter")}
    if cell["cell_type"] != "code":
        return {**kept, "deletable": False, "editable": False}
    if _ANSWER.match("".join(cell["source"])):
        return {**kept, "deletable": False}
    return {**kept, "deletable": False, "editable": False, "jupyter": {"source_hidden": True}}
