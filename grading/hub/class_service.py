"""The page that shows the instructor who is where: run by the hub as the instructor, and closed to everybody else."""

from __future__ import annotations

import asyncio
import os
import secrets
import sys
from collections.abc import Iterable
from datetime import datetime
from html import escape
from typing import Any
from urllib.parse import urlsplit

from tornado import web

from grading.course import plain
from grading.course.course import REPOSITORY
from grading.hub.school import School
from grading.hub.watching import STUCK, Place, class_now
from grading.report.whole_page import STYLE
from lessons.units.readout import counted

EVERY = 5  # s
_POLICY = "default-src 'none'; style-src 'unsafe-inline'; frame-ancestors 'none'"
_LONGEST = 60  # letters of an answer


def places_page(places: Iterable[Place], now: datetime) -> str:
    """Return the page: nothing in it runs, whatever somebody typed; it loads itself anew every few seconds."""
    rows = "".join(_row(each, now) for each in places)
    return plain.text(
        f'<!DOCTYPE html>\n<html lang="en"><head><meta charset="utf-8"><title>The class now</title>'
        f'<meta http-equiv="refresh" content="{EVERY}"><meta name="viewport" content="width=device-width">'
        f"<style>{STYLE}body{{max-width:70em}}tr.stuck td:first-child{{border-left:6px solid #d55e00}}</style></head>"
        f"<body><h1>The class now</h1><p>{now:%H:%M:%S}. The page loads itself anew every {EVERY} seconds.</p>"
        "<div class=wide><table><tr><th>Name</th><th>State</th><th>Lesson</th><th>Question</th><th>Solved</th>"
        f"<th>Last answer</th></tr>{rows}</table></div></body></html>\n"
    )


def _row(place: Place, now: datetime) -> str:
    stuck = place.state == STUCK
    wrong = counted(place.wrong, "wrong try", "wrong tries")
    state = f"{place.state}: {wrong}" if stuck else place.remark or place.state
    cells = (
        f"{place.person.name} ({place.person.badge})", state, place.lesson, place.question,
        f"{place.solved} of {place.asked}" if place.asked else "",
        f"{plain.line(place.typed, _LONGEST)}, {_ago(place.at, now)}" if place.at else "",
    )  # fmt: skip
    return f"<tr{' class=stuck' if stuck else ''}>{''.join(f'<td>{escape(cell)}</td>' for cell in cells)}</tr>"


def _ago(at: datetime, now: datetime) -> str:
    minutes = int((now - at).total_seconds() // 60)
    return "just now" if minutes < 1 else f"{minutes} min ago" if minutes < 120 else f"{at.astimezone():%Y-%m-%d %H:%M}"


def handlers(school: School, prefix: str) -> list[Any]:
    """Return what answers below an address, and only to whoever the hub says may see the class: the instructor."""
    from jupyterhub.services.auth import HubOAuthCallbackHandler, HubOAuthenticated  # here: only a school has it

    class ClassPage(HubOAuthenticated, web.RequestHandler):  # type: ignore[misc]
        @web.authenticated
        async def get(self) -> None:
            now = datetime.now().astimezone()
            places = await asyncio.to_thread(class_now, school, now)
            self.set_header("Content-Security-Policy", _POLICY)
            self.set_header("Cache-Control", "no-store")
            self.finish(places_page(places, now))

    return [(f"{prefix}oauth_callback", HubOAuthCallbackHandler), (f"{prefix}?", ClassPage)]


async def serve(school: School) -> None:
    """Serve the page where the hub expects it, until the hub ends this process."""
    pages = handlers(school, os.environ["JUPYTERHUB_SERVICE_PREFIX"])
    app = web.Application(pages, cookie_secret=secrets.token_bytes(32))
    address = urlsplit(os.environ["JUPYTERHUB_SERVICE_URL"])
    app.listen(address.port or 0, address.hostname)
    await asyncio.Event().wait()


def main() -> None:
    """Run as a service of the hub: the arguments name the school's folder and the course."""
    folder, course = sys.argv[1:3]
    asyncio.run(serve(School(folder, course, "", str(REPOSITORY), sys.executable, "")))


if __name__ == "__main__":
    main()
