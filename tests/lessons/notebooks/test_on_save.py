"""What the server does when lessons are saved: two savings at once leave a whole file, whichever comes last."""

from __future__ import annotations

import asyncio
from pathlib import Path

import nbformat
from nbformat.v4 import new_code_cell, new_notebook

from lessons.jupyter.on_save import OneSaveAtATime


def test_many_savings_at_once_leave_a_whole_notebook(tmp_path: Path) -> None:
    manager = OneSaveAtATime(root_dir=str(tmp_path))
    sizes = [200_000, 10, 100_000, 1_000, 150_000, 5]
    books = [new_notebook(cells=[new_code_cell("x" * size)]) for size in sizes]

    async def all_at_once() -> None:
        await asyncio.gather(*(manager.save({"type": "notebook", "content": book}, "a.ipynb") for book in books))

    asyncio.run(all_at_once())
    assert len(nbformat.read(tmp_path / "a.ipynb", as_version=4).cells[0].source) == sizes[-1]


def test_what_was_saved_is_told_and_what_was_looked_at_is_not(tmp_path: Path) -> None:
    manager = OneSaveAtATime(root_dir=str(tmp_path))
    told: list[str] = []
    manager.event_logger.emit = lambda *, schema_id, data: told.append(data["action"])

    async def save_and_look() -> None:
        await manager.save({"type": "notebook", "content": new_notebook()}, "a.ipynb")
        assert (await manager.get(""))["content"][0]["name"] == "a.ipynb"
        await manager.delete("a.ipynb")

    asyncio.run(save_and_look())
    assert told == ["save", "delete"]
