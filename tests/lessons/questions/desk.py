"""A lesson open at an apprentice's desk: one kernel, its cells run one by one, while other lessons are open elsewhere."""

from __future__ import annotations

import contextlib
import html
import re
from collections.abc import Iterator
from pathlib import Path

import nbformat
from nbclient import NotebookClient
from nbclient.util import run_sync
from nbformat import NotebookNode


class Desk:
    """The page of one lesson: `run` runs a cell at its end and returns what it shows; `cell` is one from the top."""

    def __init__(self, client: NotebookClient) -> None:
        self._client = client

    def run(self, source: str) -> str:
        """Run a cell and return its words."""
        self._client.nb.cells.append(nbformat.v4.new_code_cell(source))
        return words(self._client.execute_cell(self._client.nb.cells[-1], len(self._client.nb.cells) - 1))

    def cell(self, number: int) -> str:
        """Return what a cell shows by now."""
        return words(self._client.nb.cells[number])

    def save(self, path: Path) -> None:
        """Save the lesson, as the page does."""
        nbformat.write(self._client.nb, path)

    def heard(self, display_id: str, seconds: float = 20) -> NotebookNode:
        """Wait for what the kernel shows without being asked."""
        while True:  # the client raises when nothing comes in time
            message = run_sync(self._client.kc.get_iopub_msg)(timeout=seconds)
            if message["content"].get("transient", {}).get("display_id") == display_id:
                return nbformat.from_dict(message["content"])


def words(cell: NotebookNode) -> str:
    """Return what a cell shows, without markup."""
    shown = [_markup(out) for out in cell.outputs]
    return " ".join(html.unescape(re.sub("<[^>]+>", " ", " ".join(shown))).split())


def _markup(output: NotebookNode) -> str:
    data = output.get("data")
    return str(output) if data is None else data.get("text/html") or data.get("text/markdown", "")


@contextlib.contextmanager
def desk(folder: Path, *cells: str) -> Iterator[Desk]:
    """Start a kernel in a folder and run some cells."""
    notebook = nbformat.v4.new_notebook()
    client = NotebookClient(
        notebook, kernel_name="python3", timeout=60, allow_errors=True, resources={"metadata": {"path": str(folder)}}
    )
    with client.setup_kernel():
        open_desk = Desk(client)
        for cell in cells:
            open_desk.run(cell)
        yield open_desk
