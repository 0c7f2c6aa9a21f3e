"""One apprentice of the hub's benchmark without a browser: signs on by the forms, runs a lesson over its websocket.

The websocket carries messages as the page has them, so that the server packs none of them anew.
"""

from __future__ import annotations

import itertools
import json
import re
import select
import time
import uuid
from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, NamedTuple

import httpx
import websocket
from jupyter_server.services.kernels.connection.base import deserialize_msg_from_ws_v1, serialize_msg_to_ws_v1

LESSON = "04_inherent_characteristic.ipynb"
PATIENCE = 180.0  # s; nothing here waits longer
NUMBER = itertools.count(100)  # no answer twice: the same again is not written down again
PROTOCOL = "v1.kernel.websocket.jupyter.org"


class Heard(NamedTuple):
    """A message of the kernel."""

    kind: str
    answers: str  # the id of the message that it is about
    content: dict[str, Any]


class Shown(NamedTuple):
    """A live picture that a cell put on the page: the name of its model, and its sliders."""

    model: str
    counts: list[int]
    positions: list[int]


@dataclass
class Client:
    """A signed-on apprentice: its cookies, its kernel, its websocket."""

    url: str
    user: str
    badge: str
    password: str
    web: httpx.Client = field(default_factory=lambda: httpx.Client(follow_redirects=True, timeout=60))
    socket: websocket.WebSocket | None = None
    kernel: str = ""
    pictures: list[Shown] = field(default_factory=list)

    @property
    def base(self) -> str:
        return f"{self.url}/user/{self.user}"

    def sign_on(self) -> None:
        """Fill in the form, and wait until the server is up."""
        page = self.web.get(f"{self.url}/hub/login").text
        if token := _xsrf(page):  # else signed on already
            data = {"username": self.badge, "password": self.password, "_xsrf": token}
            self.web.post(f"{self.url}/hub/login", data=data).raise_for_status()
        end = time.monotonic() + PATIENCE
        while time.monotonic() < end:
            # Asks for a start where there is none, and leads to the server where there is one.
            answer = self.web.get(f"{self.url}/hub/spawn/{self.user}", params={"next": f"/user/{self.user}/lab"})
            if answer.status_code == 200 and "/hub/" not in str(answer.url):
                return
            time.sleep(2)
        raise TimeoutError(f"{self.user}: no server after {PATIENCE:g} s")

    def start_lesson(self) -> None:
        """Start a kernel and run the cells of a lesson in it."""
        self.pictures.clear()
        body = {"path": LESSON, "name": LESSON, "type": "notebook", "kernel": {"name": "python3"}}
        answer = self.web.post(f"{self.base}/api/sessions", json=body, headers=self._headers())
        self.kernel = answer.raise_for_status().json()["kernel"]["id"]
        self.connect()
        notebook = self.web.get(f"{self.base}/api/contents/{LESSON}").raise_for_status().json()["content"]
        for cell in notebook["cells"]:
            if cell["cell_type"] == "code":
                self.run(cell["source"])

    def connect(self) -> None:
        """Open the websocket of the kernel, as the page does; one that nobody listened to for long was closed."""
        if self.socket is not None:
            self.socket.close()
        cookie = "; ".join(f"{each.name}={each.value}" for each in self.web.cookies.jar)
        address = self.base.replace("http", "ws", 1) + f"/api/kernels/{self.kernel}/channels"
        self.socket = websocket.create_connection(address, cookie=cookie, timeout=60, subprotocols=[PROTOCOL])

    def run(self, code: str) -> None:
        """Run code as a cell; return when the kernel has said that it is done."""
        asked = self.send("execute_request", {"code": code, "silent": False, "store_history": True,
                                              "user_expressions": {}, "allow_stdin": False, "stop_on_error": True})  # fmt: skip
        end = time.monotonic() + PATIENCE
        while time.monotonic() < end:
            heard = self.hear(60.0)
            if heard and heard.answers == asked and heard.content.get("execution_state") == "idle":
                return
        raise TimeoutError(f"{self.user}: no end of a cell after {PATIENCE:g} s")

    def answer(self, question: str, text: str) -> float:
        """Answer a question; return how long the reply took [s]."""
        begun = time.perf_counter()
        self.run(f"%%answer {question}\n{text}")
        return time.perf_counter() - begun

    def send(self, kind: str, content: dict[str, Any]) -> str:
        """Send the kernel a message; return its id."""
        assert self.socket is not None
        head = {"msg_id": uuid.uuid4().hex, "msg_type": kind, "username": "", "session": "bench", "version": "5.3",
                "date": "2030-01-01T00:00:00Z"}  # fmt: skip
        parts = [json.dumps(each).encode() for each in (head, {}, {}, content)]
        self.socket.send_binary(serialize_msg_to_ws_v1(parts, "shell"))
        return str(head["msg_id"])

    def hear(self, patience: float) -> Heard | None:
        """Wait so long for the next message of the kernel [s]."""
        assert self.socket is not None
        if not select.select([self.socket.sock], [], [], max(patience, 0.0))[0]:
            return None
        kind, frame = self.socket.recv_data_frame(control_frame=True)
        if kind == websocket.ABNF.OPCODE_CLOSE:
            raise ConnectionError(f"{self.user}: the server closed the connection")
        if kind != websocket.ABNF.OPCODE_BINARY:  # a ping, which is answered already
            return None
        _, (head, parent, _, content, *_) = deserialize_msg_from_ws_v1(frame.data)
        heard = Heard(json.loads(head)["msg_type"], json.loads(parent).get("msg_id", ""), json.loads(content))
        if heard.kind == "comm_open" and (sliders := heard.content["data"]["state"].get("_page", {}).get("sliders")):
            places = heard.content["data"]["state"]["_shown"]["positions"]
            self.pictures.append(Shown(heard.content["comm_id"], [each["count"] for each in sliders], places))
        return heard

    def _headers(self) -> dict[str, str]:
        token = next(
            (each.value for each in self.web.cookies.jar if each.name == "_xsrf" and self.user in each.path), ""
        )
        return {"X-XSRFToken": token or ""}


def _xsrf(page: str) -> str:
    found = re.search(r'name="_xsrf" value="([^"]*)"', page)
    return found[1] if found else ""


def history(home: Path) -> str:
    """Return what was written down in a working copy."""
    path = home / ".progress.jsonl"
    return path.read_text() if path.exists() else ""


def in_parallel(work: Callable[..., object], over: Sequence[object]) -> list:  # type: ignore[type-arg]
    """Do some work for each of many at the same time."""
    with ThreadPoolExecutor(max(len(over), 1)) as pool:
        return list(pool.map(work, over))
