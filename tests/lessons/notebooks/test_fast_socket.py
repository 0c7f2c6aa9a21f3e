"""The kernel's websocket sends small messages at once: asked of the socket itself."""

from __future__ import annotations

import asyncio
import socket
from typing import Any

import pytest
from jupyter_server.services.kernels.connection.channels import ZMQChannelsWebsocketConnection
from tornado.httpserver import HTTPServer
from tornado.web import Application
from tornado.websocket import WebSocketHandler, websocket_connect

from lessons.jupyter.fast_socket import PromptWebsocketConnection


def nodelay_after_connect(connection_class: type[ZMQChannelsWebsocketConnection]) -> bool:
    """Open a websocket as the server does; return whether its socket waits for nothing."""
    seen: list[bool] = []

    class Handler(WebSocketHandler):
        def open(self, *_: str, **__: str) -> None:
            connection: Any = connection_class.__new__(connection_class)
            connection._trait_values["websocket_handler"] = self  # the trait takes only the server's own handler
            connection.connect()
            stream: Any = self.ws_connection.stream  # type: ignore[union-attr]
            seen.append(bool(stream.socket.getsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY)))

    async def visit() -> None:
        server = HTTPServer(Application([("/", Handler)]))
        server.listen(0, "127.0.0.1")
        port = next(iter(server._sockets.values())).getsockname()[1]
        (await websocket_connect(f"ws://127.0.0.1:{port}/")).close()
        server.stop()

    asyncio.run(asyncio.wait_for(visit(), 20))
    return seen[0]


@pytest.mark.parametrize(
    ("connection_class", "prompt"), [(PromptWebsocketConnection, True), (ZMQChannelsWebsocketConnection, False)]
)
def test_small_messages_do_not_wait(
    connection_class: type[ZMQChannelsWebsocketConnection], prompt: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(ZMQChannelsWebsocketConnection, "connect", lambda _self: None)  # no kernel behind it here
    assert nodelay_after_connect(connection_class) is prompt
