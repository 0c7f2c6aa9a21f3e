"""What the kernel has the page do in JupyterLab: save the lesson, and bring answers back into empty boxes.

An answer counts once it is written down here, but it is handed in with the lesson's file. So the page saves the file
after each answer that counts; and where it was reloaded before that, it gets the answer back.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

import anywidget
import traitlets


class PageLink(anywidget.AnyWidget):
    """Never displayed: its page side works as long as the kernel and the page are connected."""

    _esm = Path(__file__).with_name("page_link.js")
    answers = traitlets.Dict().tag(sync=True)  # name of a box -> what was last answered in it

    def save(self, answers: Mapping[str, str]) -> None:
        """Have the page save the lesson, and remember the answers for the next time it is loaded."""
        self.answers = dict(answers)
        self.send({"kind": "save"})
