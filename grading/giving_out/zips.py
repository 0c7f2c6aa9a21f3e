"""The zips to send: one for each badge, with its own questions and nobody else's."""

from __future__ import annotations

import io
import json
import zipfile
from collections.abc import Iterator, Mapping
from typing import Any

DATA = "workorder.json"


def zips(lesson: str, released: Mapping[str, bytes]) -> Iterator[tuple[str, bytes]]:
    """Give each badge with its zip; the same content gives the same bytes."""
    order = json.loads(released[DATA])
    for badge in order["badges"]:
        own = json.dumps(_of_badge(order, badge), ensure_ascii=False).encode("utf-8", "replace")
        yield badge, _packed(lesson, {**released, DATA: own})


def _of_badge(order: Mapping[str, Any], badge: str) -> dict[str, Any]:
    """Return a work order with one badge in it, and its pictures only."""
    about = order["badges"][badge]
    shown = {sheet.get("picture") for sheet in about["sheets"]}
    pictures = {name: svg for name, svg in order["pictures"].items() if name in shown}
    return {**order, "badges": {badge: about}, "pictures": pictures}


def _packed(lesson: str, files: Mapping[str, bytes]) -> bytes:
    whole = io.BytesIO()
    with zipfile.ZipFile(whole, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in sorted(files.items()):
            entry = zipfile.ZipInfo(f"{lesson}/{name}", date_time=(2000, 1, 1, 0, 0, 0))
            entry.compress_type = zipfile.ZIP_DEFLATED
            entry.external_attr = 0o644 << 16
            archive.writestr(entry, data)
    return whole.getvalue()
