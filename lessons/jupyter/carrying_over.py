"""Carries what was typed in an older notebook of a lesson over into a newer one. Nothing here touches a file."""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Mapping
from typing import Any

from lessons.questions.renamed import present_id

Notebook = dict[str, Any]
_BOX = re.compile(r"\s*%%answer[ \t]+(\S+)[^\n]*(?:\n|$)")


def read_notebook(data: bytes) -> Notebook | None:
    """Read the bytes of a notebook file, of an older format too; None if they are no notebook.

    >>> read_notebook(b"my work")
    """
    try:
        notebook = json.loads(data)
        if "cells" not in notebook:
            notebook = _of_older_format(notebook)
        return notebook if all(isinstance(cell, dict) for cell in notebook["cells"]) else None
    except Exception:  # whatever the file holds, it is then kept as it is
        return None


def text_mark(notebook: Notebook) -> str:
    """Return a short mark of a notebook's text: cells and what was typed into them, but no outputs and no locks."""
    text = [(cell.get("cell_type"), _without_blank_end(_source(cell))) for cell in notebook["cells"]]
    return hashlib.sha256(json.dumps(text).encode()).hexdigest()[:16]


def answers_in(notebook: Notebook) -> dict[str, str]:
    r"""Return what was typed for each question, under the name it has today; of several boxes the last filled one.

    >>> answers_in({"cells": [{"source": ["%%answer capacity.predict2\n", "b"]}, {"source": "%%answer trim.parts\n"}]})
    {'capacity.jet': 'b'}
    """
    found = (_BOX.match(_source(cell)) for cell in notebook["cells"])
    typed = ((present_id(box[1]), box.string[box.end() :].rstrip()) for box in found if box)
    return {question_id: text for question_id, text in typed if text}


def boxes_in(notebook: Notebook) -> list[str]:
    r"""Return the ids of the questions that a notebook has an answer box for, as they stand in it.

    >>> boxes_in({"cells": [{"source": "%%answer capacity.jet\nb"}, {"source": "b"}]})
    ['capacity.jet']
    """
    found = (_BOX.match(_source(cell)) for cell in notebook["cells"])
    return [box[1] for box in found if box]


def emptied(notebook: Notebook) -> Notebook:
    r"""Return a notebook with nothing typed into its boxes.

    >>> emptied({"cells": [{"source": "%%answer capacity.jet\nb"}]})
    {'cells': [{'source': '%%answer capacity.jet\n'}]}
    """
    return with_answers(notebook, dict.fromkeys(boxes_in(notebook), ""))


def with_answers(notebook: Notebook, answers: Mapping[str, str]) -> Notebook:
    r"""Return a notebook with the answers in their boxes; those it has no box for are left out.

    >>> with_answers({"cells": [{"source": "%%answer capacity.jet\n"}]}, {"capacity.jet": "b", "gone": "c"})
    {'cells': [{'source': '%%answer capacity.jet\nb'}]}
    """
    return {**notebook, "cells": [_filled(cell, answers) for cell in notebook["cells"]]}


def _filled(cell: dict[str, Any], answers: Mapping[str, str]) -> dict[str, Any]:
    box = _BOX.match(_source(cell))
    text = answers.get(box[1]) if box else None
    return cell if box is None or text is None else {**cell, "source": f"%%answer {box[1]}\n{text}"}


def _source(cell: Mapping[str, Any]) -> str:
    source = cell.get("source", "")
    return "".join(map(str, source)) if isinstance(source, list) else str(source)


def _without_blank_end(source: str) -> str:
    """Return a source in which an empty answer box has no line end: with and without it is the same."""
    return source.rstrip() if _BOX.match(source) else source


def _of_older_format(notebook: Notebook) -> Notebook:
    from nbformat import convert  # here, because it is seldom needed and takes half a second

    newer: Notebook = convert(_node(notebook), 4)
    return newer


def _node(notebook: Notebook) -> Any:
    from nbformat import from_dict

    return from_dict(notebook)
