"""The drawings that questions are about, as they went out with the work order."""

from __future__ import annotations

import base64
import json
from html import escape
from typing import Any

from grading.course.course import Course
from grading.course.moves import earlier
from grading.given_out.given_out import Given
from grading.giving_out.zips import DATA


def as_image(svg: str, alt: str, style: str) -> str:
    """Return a drawing as an image of a page: in this form nothing in it can run or be loaded."""
    data = base64.b64encode(svg.encode("utf-8", "replace")).decode("ascii")
    return f'<img style="{style}" alt="{escape(alt, quote=True)}" src="data:image/svg+xml;base64,{data}">'


class Drawings:
    """The pictures of each giving-out, read once; a giving-out from before they were kept has none."""

    def __init__(self, course: Course) -> None:
        self._earlier = earlier(course.moves)
        self._orders: dict[str, dict[str, Any]] = {}

    def of(self, given: Given, badge: str) -> dict[str, str]:
        """Return the pictures of one badge, by question."""
        if not any(question.alt for question in given.questions):
            return {}  # a whole work order is large, so it is not read for nothing
        order = self._order(given)
        names = (badge, *(was for was, now in self._earlier.items() if now == badge))
        about = next((order["badges"][name] for name in names if name in order["badges"]), {"sheets": ()})
        shown = {each["id"]: each.get("picture", "") for each in about["sheets"]}
        return {question: order["pictures"][name] for question, name in shown.items() if name in order["pictures"]}

    def _order(self, given: Given) -> dict[str, Any]:
        if given.id not in self._orders:
            try:
                order: dict[str, Any] = json.loads((given.folder / DATA).read_text(encoding="utf-8"))
            except (OSError, ValueError):  # a page is worth having without its drawings
                order = {}
            self._orders[given.id] = {"badges": {}, "pictures": {}} | order
        return self._orders[given.id]
