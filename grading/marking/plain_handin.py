"""Our steps among nbgrader's own: a hand-in made plain before anything in it could be run; feedback without keys."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import nbformat
from nbgrader.preprocessors import NbGraderPreprocessor

from grading.course.course import Course
from grading.given_out.given_out import given_out
from grading.handins.handin import read
from grading.marking.beside import FOR
from grading.marking.marked_notebook import Template, rebuilt


class PlainHandIn(NbGraderPreprocessor):  # type: ignore[misc]  # nbgrader has no types
    """Puts the answers of a hand-in into the released notebook; nbgrader_config.py names it."""

    def preprocess(self, nb: Any, resources: dict[str, Any]) -> tuple[Any, dict[str, Any]]:  # noqa: ARG002 - read anew
        """Return the released notebook with the answers; fails, and so runs nothing, where there is no release."""
        folder, name = Path(resources["metadata"]["path"]), f"{resources['nbgrader']['notebook']}.ipynb"
        root, badge, lesson = folder.parents[2], folder.parent.name, folder.name  # submitted/<badge>/<lesson>
        handin = read((folder / name).read_bytes())
        given, _ = given_out(Course(root), lesson).of(handin.given_out, badge)
        template = Template((given.folder / name).read_text(encoding="utf-8"))
        cells = rebuilt(template, handin)
        return nbformat.from_dict({**template.notebook, "cells": cells}), resources


class WithoutKeys(NbGraderPreprocessor):  # type: ignore[misc]  # nbgrader has no types
    """Takes what only the instructor may see out of the feedback that nbgrader itself makes."""

    def preprocess(self, nb: Any, resources: dict[str, Any]) -> tuple[Any, dict[str, Any]]:
        """Return the marked notebook without the outputs that hold the key."""
        for cell in nb.cells:
            outputs = cell.get("outputs", [])
            kept = [each for each in outputs if each.get("metadata", {}).get("for") != FOR["for"]]
            if len(kept) < len(outputs):
                cell["outputs"] = kept
        return nb, resources
