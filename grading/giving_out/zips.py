"""The zips to send: one for each badge, with its own questions only; and what goes to all, with nobody's."""

from __future__ import annotations

import io
import json
import zipfile
from collections.abc import Iterator, Mapping
from typing import Any

from grading.handins.which_counts import Due

DATA = "workorder.json"


def zips(lesson: str, released: Mapping[str, bytes], due: Due) -> Iterator[tuple[str, bytes]]:
    """Give each badge with its zip; the same content gives the same bytes."""
    order = json.loads(released[DATA])
    for badge in order["badges"]:
        yield badge, _packed(lesson, {**released, DATA: _json(_of_badge(order, badge, due))})


def for_all(order: Mapping[str, Any], due: Due) -> bytes:
    """Return the work order as it may lie where every apprentice can read it, as in an exchange: with no numbers."""
    return _json({**order, "badges": {}, "pictures": {}} | ({"due": due.whole.isoformat()} if due.whole else {}))


def _of_badge(order: Mapping[str, Any], badge: str, due: Due) -> dict[str, Any]:
    """Return a work order with one badge in it, its due time, and its pictures only."""
    about, when = order["badges"][badge], due.of(badge)
    shown = {sheet.get("picture") for sheet in about["sheets"]}
    pictures = {name: svg for name, svg in order["pictures"].items() if name in shown}
    timed = {**about, "due": when.isoformat()} if when else about
    return {**order, "badges": {badge: timed}, "pictures": pictures}


def _json(order: Mapping[str, Any]) -> bytes:
    return json.dumps(order, ensure_ascii=False).encode("utf-8", "replace")


def _packed(lesson: str, files: Mapping[str, bytes]) -> bytes:
    whole = io.BytesIO()
    with zipfile.ZipFile(whole, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in sorted(files.items()):
            entry = zipfile.ZipInfo(f"{lesson}/{name}", date_time=(2000, 1, 1, 0, 0, 0))
            entry.compress_type = zipfile.ZIP_DEFLATED
            entry.external_attr = 0o644 << 16
            archive.writestr(entry, data)
    return whole.getvalue()
