"""The server of the cards: who may come in, what it gives out, and a card at the end of a connection."""

from __future__ import annotations

import asyncio
import json
import struct
from collections.abc import Callable, Coroutine
from pathlib import Path
from typing import Any

import pytest
from ipywidgets.widgets.widget import _instances
from tornado.httpclient import AsyncHTTPClient, HTTPRequest, HTTPResponse
from tornado.httpserver import HTTPServer
from tornado.testing import bind_unused_port
from tornado.websocket import websocket_connect

from lessons.cards import NAMES, card_named
from lessons.jupyter import launch
from lessons.jupyter.card_server import server

Visit = Callable[[str], Coroutine[Any, Any, Any]]


def visit(folder: Path, visitor: Visit, token: str = "") -> Any:
    """Serve the cards while somebody visits."""

    async def served() -> Any:
        sock, port = bind_unused_port()
        running = HTTPServer(server.application(folder, token))
        running.add_sockets([sock])
        try:
            return await visitor(f"127.0.0.1:{port}")
        finally:
            running.stop()
            await running.close_all_connections()

    return asyncio.run(served())


async def get(address: str, **about: Any) -> HTTPResponse:
    return await AsyncHTTPClient().fetch(HTTPRequest(f"http://{address}", **about), raise_error=False)


def unpacked(packet: bytes) -> tuple[dict[str, Any], list[bytes]]:
    (length,) = struct.unpack_from(">I", packet)
    head, rest = json.loads(packet[4 : 4 + length]), packet[4 + length :]
    buffers = []
    for size in head["sizes"]:
        buffers.append(rest[:size])
        rest = rest[size:]
    assert rest == b""
    return head["content"], buffers


@pytest.mark.parametrize(
    ("path", "code"),
    [
        ("/", 200),
        ("/?word=leak", 200),
        *((f"/card/{name}", 200) for name in NAMES),
        ("/card/nothing", 404),
        ("/card/../refinery", 404),
        ("/side/card_page/page_side/card.js", 200),
        ("/side/live/page_side/requests.js", 200),
        ("/side/refinery/__init__.py", 404),
        ("/side/practice/../../grading/__init__.py", 403),
        ("/side/..%2f..%2fpyproject.toml", 403),
        ("/side/jupyter/card_server/page_side/index.html", 404),
    ],
)
def test_what_is_given_out(tmp_path: Path, path: str, code: int) -> None:
    reply = visit(tmp_path, lambda address: get(address + path))
    assert reply.code == code
    assert "frame-ancestors 'none'" in reply.headers["Content-Security-Policy"]


def test_a_word_that_is_markup_stays_a_word(tmp_path: Path) -> None:
    page = visit(tmp_path, lambda address: get(address + "/?word=%3Cimg%20src=x%20onerror=alert(1)%3E")).body.decode()
    assert "<img" not in page
    assert "Nothing was found for “&lt;img" in page


@pytest.mark.parametrize(
    ("about", "code"),
    [
        ({}, 200),
        ({"headers": {"Host": "localhost:8888"}}, 200),
        ({"headers": {"Host": "evil.example"}}, 403),  # another site's name that leads to this machine
    ],
)
def test_without_a_token_only_this_machine_is_served(tmp_path: Path, about: dict[str, Any], code: int) -> None:
    assert visit(tmp_path, lambda address: get(address + "/", **about)).code == code


@pytest.mark.parametrize("path", ["/", "/card/packing", "/side/card_page/page_side/card.js", "/nothing"])
def test_with_a_token_nothing_opens_without_it(tmp_path: Path, path: str) -> None:
    async def both(address: str) -> tuple[HTTPResponse, ...]:
        wrong = [await get(address + path), await get(f"{address}{path}?token=guess")]
        let_in = await get(f"{address}{path}?token=word", follow_redirects=False)
        cookie = let_in.headers["Set-Cookie"].split(";")[0]
        return *wrong, let_in, await get(address + path, headers={"Cookie": cookie})

    without, guessed, let_in, after = visit(tmp_path, both, token="word")  # noqa: S106
    assert (without.code, guessed.code, let_in.code) == (403, 403, 302)
    assert b"token" in without.body
    assert "HttpOnly" in let_in.headers["Set-Cookie"]
    assert after.code == (404 if path == "/nothing" else 200)


def test_a_connection_needs_the_token_and_the_same_origin(tmp_path: Path) -> None:
    async def refused(address: str) -> list[int]:
        codes = []
        for headers in ({}, {"Cookie": "ostrel_cards=word", "Origin": "http://evil.example"}):
            with pytest.raises(Exception, match="403") as problem:
                await websocket_connect(HTTPRequest(f"ws://{address}/card/packing/connection", headers=headers))
            codes.append(problem.value.code)
        return codes

    assert visit(tmp_path, refused, token="word")  # noqa: S106 == [403, 403]


def test_a_card_answers_through_its_connection_and_goes_with_it(tmp_path: Path) -> None:
    before = len(_instances)

    async def talk(address: str) -> list[tuple[dict[str, Any], list[bytes]]]:
        connection = await websocket_connect(f"ws://{address}/card/seat_leakage/connection")
        first = unpacked(await connection.read_message())
        texts = {**first[0]["shown"]["texts"], "leak": "35"}
        ask = {"kind": "ask", "from": "me", "seq": 1, "units": "si", "to": "si"}
        for nonsense in ("", "{", "[]", '"x"', "{}", '{"kind": "eval"}'):
            await connection.write_message(nonsense)
        await connection.write_message(json.dumps({**ask, "texts": texts}))
        second = unpacked(await connection.read_message())
        connection.close()
        await asyncio.sleep(0.1)
        return [first, second]

    (begin, frames), (answer, moved) = visit(tmp_path, talk)
    assert (begin["kind"], begin["page"]["title"]) == ("begin", card_named("seat_leakage").title)
    assert answer["kind"] == "shown"
    assert (answer["shown"]["from"], answer["shown"]["seq"]) == ("me", 1)
    assert answer["shown"]["answer"]["headline"].startswith("Within its class: 35 mL/min measured")
    assert len(frames[0]) == len(moved[0]) > 0
    assert frames != moved
    assert len(_instances) == before, "nothing is kept of a page that was closed"


def test_a_port_that_is_taken_is_a_sentence(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    sock, port = bind_unused_port()
    sock.listen()
    assert launch.main(["--to", str(tmp_path), "--cards", "--no-browser", f"--port={port}", "--host=127.0.0.1"]) == 1
    assert f"The cards cannot be served at 127.0.0.1, port {port}" in capsys.readouterr().out
    sock.close()
