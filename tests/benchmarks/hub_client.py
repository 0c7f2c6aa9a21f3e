"""One apprentice of the hub's benchmark without a browser: signs on by the forms, runs a lesson over its websocket."""

from __future__ import annotations

import json
import re
import time
import uuid
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import httpx
import websocket

LESSON = "04_inherent_characteristic.ipynb"
PATIENCE = 180.0  # s; nothing here waits longer


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
    models: list[str] = field(default_factory=list)  # comm ids of live pictures

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
        self.models.clear()
        body = {"path": LESSON, "name": LESSON, "type": "notebook", "kernel": {"name": "python3"}}
        answer = self.web.post(f"{self.base}/api/sessions", json=body, headers=self._headers())
        self.kernel = answer.raise_for_status().json()["kernel"]["id"]
        self.connect()
        notebook = self.web.get(f"{self.base}/api/contents/{LESSON}").raise_for_status().json()["content"]
        for cell in notebook["cells"]:
            if cell["cell_type"] == "code":
                self.run(cell["source"])

    def connect(self) -> None:
        """Open the websocket of the kernel, as the page does."""
        cookie = "; ".join(f"{each.name}={each.value}" for each in self.web.cookies.jar)
        address = self.base.replace("http", "ws", 1) + f"/api/kernels/{self.kernel}/channels"
        self.socket = websocket.create_connection(address, cookie=cookie, timeout=60)

    def run(self, code: str) -> None:
        """Run code as a cell; return when the kernel has said that it is done."""
        self._ask("shell", "execute_request", {"code": code, "silent": False, "store_history": True,
                                               "user_expressions": {}, "allow_stdin": False, "stop_on_error": True})  # fmt: skip

    def answer(self, question: str, text: str) -> float:
        """Answer a question; return how long the reply took [s]."""
        begun = time.perf_counter()
        self.run(f"%%answer {question}\n{text}")
        return time.perf_counter() - begun

    def drag(self, position: int) -> float:
        """Move the slider of the first live picture; return how long the picture took [s]."""
        content = {"comm_id": self.models[0], "data": {"method": "custom", "content": {
            "kind": "ask", "positions": [position, 0, 0], "units": "si", "from": "x", "seq": position}}}  # fmt: skip
        begun = time.perf_counter()
        self._ask("shell", "comm_msg", content)
        return time.perf_counter() - begun

    def _headers(self) -> dict[str, str]:
        token = next(
            (each.value for each in self.web.cookies.jar if each.name == "_xsrf" and self.user in each.path), ""
        )
        return {"X-XSRFToken": token or ""}

    def _ask(self, channel: str, kind: str, content: dict[str, Any]) -> None:
        assert self.socket is not None
        head = {"msg_id": uuid.uuid4().hex, "msg_type": kind, "username": "", "session": "bench", "version": "5.3",
                "date": ""}  # fmt: skip
        message = {"channel": channel, "header": head, "parent_header": {}, "metadata": {}, "content": content,
                   "buffers": []}  # fmt: skip
        self.socket.send(json.dumps(message))
        while True:
            answer = _message(self.socket.recv())
            if answer.get("msg_type") == "comm_open" and _is_live(answer):
                self.models.append(answer["content"]["comm_id"])
            idle = answer.get("msg_type") == "status" and answer["content"]["execution_state"] == "idle"
            if idle and answer["parent_header"].get("msg_id") == head["msg_id"]:
                return


def _is_live(message: dict[str, Any]) -> bool:
    state = message["content"].get("data", {}).get("state", {})
    return (
        "_frame" in json.dumps(message["content"].get("data", {}).get("buffer_paths", []))
        or "sliders" in str(state.get("_page", {}))[:100_000]
    )


def _message(data: str | bytes) -> dict[str, Any]:
    """Read a message of the server, with buffers or without."""
    if isinstance(data, str):
        read: dict[str, Any] = json.loads(data)
    else:
        count = int.from_bytes(data[:4], "big")
        first = int.from_bytes(data[4:8], "big")
        second = int.from_bytes(data[8:12], "big") if count > 1 else len(data)
        read = json.loads(data[first:second])
    return read | {"msg_type": read.get("msg_type") or read["header"]["msg_type"]}


def _xsrf(page: str) -> str:
    found = re.search(r'name="_xsrf" value="([^"]*)"', page)
    return found[1] if found else ""


def history(home: Path) -> str:
    """Return what was written down in a working copy."""
    path = home / ".progress.jsonl"
    return path.read_text() if path.exists() else ""
