"""The kernel's websocket without Nagle's delay, for JupyterLab's server; named on its command line by the launcher.

With Nagle's algorithm and the other end's delayed acknowledgement a small message waits up to 40 ms, and a picture that
follows a slider drops to about 16 frames a second.
"""

from __future__ import annotations

from typing import Any

from jupyter_server.services.kernels.connection.channels import ZMQChannelsWebsocketConnection


class PromptWebsocketConnection(ZMQChannelsWebsocketConnection):
    """The server's own connection between page and kernel, with TCP_NODELAY set."""

    def connect(self) -> Any:
        """Send small messages at once, then connect as usual."""
        self.websocket_handler.set_nodelay(True)
        return super().connect()
