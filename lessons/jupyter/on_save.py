"""What JupyterLab's server does to a lesson when it is saved; named on its command line by the launcher.

A saved widget view is an error message when the notebook is opened again, because its kernel is gone. Without it
JupyterLab shows the other form the same output has: a page that moves by itself (see live_page.py).
"""

from __future__ import annotations

import asyncio
from typing import Any

from jupyter_server.services.contents.largefilemanager import AsyncLargeFileManager

WIDGET_VIEW = "application/vnd.jupyter.widget-view+json"


def drop_widget_views(model: dict[str, Any], **_kwargs: Any) -> None:
    """Take the widget out of every output that can also be shown as a page."""
    if model.get("type") != "notebook" or not isinstance(model.get("content"), dict):
        return
    for cell in model["content"].get("cells", ()):
        for output in cell.get("outputs", ()):
            if "text/html" in output.get("data", {}):
                output["data"].pop(WIDGET_VIEW, None)


class OneSaveAtATime(AsyncLargeFileManager):
    """Saves one file after another, and tells nobody that something was looked at.

    A lesson saves itself after each answer. If its reader presses Ctrl+S in the same moment, the server would write
    both into one temporary file, and the notebook could not be opened any more.

    After each save JupyterLab looks at the folder, and a message about each file in it would go to every page.
    """

    def __init__(self, **settings: Any) -> None:
        super().__init__(**settings)
        self._saving = asyncio.Lock()

    def emit(self, data: dict[str, Any]) -> None:
        """Tell the pages what was done to a file; see `ContentsManager`."""
        if data.get("action") != "get":
            super().emit(data)  # type: ignore[no-untyped-call]

    async def save(self, model: dict[str, Any], path: str = "") -> Any:
        """Save a file; see `AsyncLargeFileManager`."""
        async with self._saving:
            return await super().save(model, path)  # type: ignore[no-untyped-call]
