"""Serves the job cards: an index, a page for each card, and behind it a connection to its Python side."""

from __future__ import annotations

import asyncio
import contextlib
import logging
import secrets
import webbrowser
from pathlib import Path
from typing import Any

from tornado.httpserver import HTTPServer
from tornado.netutil import bind_sockets
from tornado.web import Application, HTTPError, StaticFileHandler
from tornado.websocket import WebSocketClosedError, WebSocketHandler

from lessons.cards import NAMES, card_named
from lessons.jupyter.card_server.door import Door, only_here
from lessons.jupyter.card_server.served_card import ServedCard
from lessons.notebook import search
from lessons.questions import progress

PAGES = Path(__file__).parent / "page_side"
_LESSONS = Path(__file__).parents[2]
_EVERYWHERE = ("0.0.0.0", "::")  # noqa: S104 - only where asked for
_LONGEST_MESSAGE = 200_000  # bytes; a page of boxes has a few thousand
_LOOK_AFTER = 20  # s between looks whether a tablet is still there


class Index(Door):
    """All cards by what is in front of the reader."""

    def get(self) -> None:
        """Show the cards, and what a word finds."""
        word = self.get_query_argument("word", "")[:80]
        self.render("index.html", groups=search.groups(), word=word, found=search.by_kind(word))


class CardHandler(Door):
    """One card."""

    def get(self, name: str) -> None:
        """Show the page, which then connects."""
        if name not in NAMES:
            raise HTTPError(404)
        self.render("card.html", card=card_named(name))


class Connection(Door, WebSocketHandler):
    """The open page of a card; its Python side lives as long as the page is open."""

    def open(self, name: str) -> None:
        """Make the card and send what its page is made of."""
        if name not in NAMES:
            self.close()
            return
        self.set_nodelay(True)
        folder = self.settings["folder"]
        self.card = ServedCard(card_named(name), progress.load(folder).units, folder, self._write)
        self.card.begin()

    def on_message(self, message: str | bytes) -> None:
        """Hand a message to the card."""
        if isinstance(message, str):
            self.card.hear(message)

    def on_close(self) -> None:
        """Let go of the card."""
        if hasattr(self, "card"):
            self.card.close()

    def _write(self, packet: bytes) -> None:
        with contextlib.suppress(WebSocketClosedError):  # the page was closed meanwhile
            self.write_message(packet, binary=True).add_done_callback(_gone)


class Side(Door, StaticFileHandler):
    """Scripts and style sheets, from the folders of pages only."""

    def validate_absolute_path(self, root: str, absolute_path: str) -> str | None:
        """Refuse whatever lies elsewhere."""
        if Path(absolute_path).parent.name != "page_side" or Path(absolute_path).suffix not in (".js", ".css"):
            raise HTTPError(404)
        return super().validate_absolute_path(root, absolute_path)


class Nothing(Door):
    """Any other address."""

    def get(self, *_: str) -> None:
        """Say that there is no such page."""
        raise HTTPError(404)


def application(folder: Path, token: str) -> Application:
    """Return the pages for a working copy."""
    routes: list[Any] = [
        ("/", Index),
        ("/card/([a-z_]+)", CardHandler),
        ("/card/([a-z_]+)/connection", Connection),
        ("/side/(.*)", Side, {"path": str(_LESSONS)}),
    ]
    return Application(
        routes,
        default_handler_class=Nothing,
        template_path=str(PAGES),
        folder=folder,
        token=token,
        websocket_ping_interval=_LOOK_AFTER,
        websocket_max_message_size=_LONGEST_MESSAGE,
    )


def serve(folder: Path, *, browser: bool, port: int, host: str) -> int:
    """Serve the cards of a working copy until it is ended; return an exit code."""
    logging.getLogger("tornado.access").setLevel(logging.ERROR)
    token = "" if only_here(host) else secrets.token_hex(8)
    try:
        sockets = bind_sockets(port, host)
    except OSError as problem:
        print(f"The cards cannot be served at {host}, port {port}: {problem.strerror}. Choose another with --port.")
        return 1
    port = sockets[0].getsockname()[1]
    shown, secret = ("this-machine" if host in _EVERYWHERE else host), (f"?token={token}" if token else "")
    print(f"Job cards: http://{shown}:{port}/{secret}   (stop with Ctrl+C)", flush=True)
    if host in _EVERYWHERE:
        print("On the tablet put the name or address of this machine in place of this-machine.", flush=True)
    if browser:
        webbrowser.open(f"http://localhost:{port}/{secret}")
    try:
        asyncio.run(_run(application(folder, token), sockets))
    except KeyboardInterrupt:
        print("The cards are no longer served.")
    return 0


async def _run(pages: Application, sockets: list[Any]) -> None:
    HTTPServer(pages).add_sockets(sockets)
    await asyncio.Event().wait()


def _gone(sent: asyncio.Future[None]) -> None:
    sent.exception()  # a page that was closed meanwhile is no fault
