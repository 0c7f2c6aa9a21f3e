"""What the server does to a lesson when it is saved."""

from __future__ import annotations

from lessons.jupyter.on_save import WIDGET_VIEW, drop_widget_views


def notebook(data: dict[str, object]) -> dict[str, object]:
    return {"type": "notebook", "content": {"cells": [{"outputs": [{"data": dict(data)}]}, {"source": "words"}]}}


def saved(data: dict[str, object]) -> dict[str, object]:
    model = notebook(data)
    drop_widget_views(model=model, path="a.ipynb", contents_manager=None)  # as the server calls it
    return model["content"]["cells"][0]["outputs"][0]["data"]  # type: ignore[index]


def test_the_widget_goes_where_there_is_a_page() -> None:
    assert saved({WIDGET_VIEW: {}, "text/html": "page", "text/plain": "words"}) == {
        "text/html": "page",
        "text/plain": "words",
    }


def test_a_widget_with_nothing_else_stays() -> None:
    assert saved({WIDGET_VIEW: {}, "text/plain": "Button()"}) == {WIDGET_VIEW: {}, "text/plain": "Button()"}


def test_other_files_are_left_alone() -> None:
    for model in ({"type": "file", "content": "text"}, {"type": "notebook", "content": None}, {"type": "directory"}):
        before = dict(model)
        drop_widget_views(model)
        assert model == before
