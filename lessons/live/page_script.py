"""The scripts of a page as one text: anywidget and exported pages take no second file."""

from __future__ import annotations

import re
from pathlib import Path

_IMPORT = re.compile(r'^import \{[^}]*\} from "(\.[^"]*)";\n', re.MULTILINE)
_EXPORT = re.compile(r"^export (?=async|class|const|function)", re.MULTILINE)


def page_script(main: Path) -> str:
    """Return a script with all it imports before it; of exports only its own are left."""
    texts: dict[Path, str] = {}

    def take(script: Path) -> None:
        if script not in texts:
            text = script.read_text("utf-8")
            for imported in _IMPORT.findall(text):
                take((script.parent / imported).resolve())
            texts[script] = _IMPORT.sub("", text)

    take(main.resolve())
    *imported, own = texts.values()
    return "".join(_EXPORT.sub("", text) for text in imported) + own
