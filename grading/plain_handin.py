"""The first step of nbgrader's own autograde here: a hand-in is made plain before anything in it could be run."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import nbformat
from nbgrader.preprocessors import NbGraderPreprocessor

from grading.handin import read
from grading.marked import Template, rebuilt


class PlainHandIn(NbGraderPreprocessor):
    """Puts the answers of a hand-in into the released notebook; nbgrader_config.py names it."""

    def preprocess(self, nb: Any, resources: dict[str, Any]) -> tuple[Any, dict[str, Any]]:  # noqa: ARG002 - read anew
        """Return the released notebook with the answers; fails, and so runs nothing, where there is no release."""
        folder, name = Path(resources["metadata"]["path"]), f"{resources['nbgrader']['notebook']}.ipynb"
        root, lesson = folder.parents[2], folder.name  # the folder is submitted/<badge>/<lesson>
        template = Template((root / "release" / lesson / name).read_text(encoding="utf-8"))
        cells = rebuilt(template, read((folder / name).read_bytes()))
        return nbformat.from_dict({**template.notebook, "cells": cells}), resources
