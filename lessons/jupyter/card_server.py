"""Serves the job cards as pages without code, for a tablet beside the valve; nothing from the network."""

from __future__ import annotations

import secrets
import webbrowser
from importlib.util import find_spec
from ipaddress import ip_address
from pathlib import Path
from typing import Any

FIRST = "voila/render/index.ipynb"
# The page template names style sheets elsewhere; a page waits for them where a network swallows the request.
ONLY_FROM_HERE = "default-src 'self' 'unsafe-inline' 'unsafe-eval' blob: data:; connect-src 'self' ws: wss: blob: data:"
EVERYWHERE = ("0.0.0.0", "::")  # noqa: S104 - only where asked for
EXTENSIONS = (
    "anywidget",
    "@jupyter-widgets/jupyterlab-manager",
    "@voila-dashboards/widgets-manager8",
)  # all a card needs
_IDLE = 1800  # s after which the kernel of a page that was left open ends


def serve(folder: Path, *, browser: bool, port: int, host: str) -> int:
    """Serve the cards of a working copy until it is ended; return an exit code."""
    if find_spec("voila") is None:
        print("Serving the cards needs voila. In the project's folder run: .venv/bin/pip install -e '.[cards]'")
        return 1
    from voila.app import Voila

    class Cards(Voila):  # type: ignore[misc]  # voila has no types
        """Opens the index and not a list of files; pages load from here only, so that no network is needed."""

        def _tornado_settings_default(self) -> dict[str, Any]:
            return {"headers": {"Content-Security-Policy": ONLY_FROM_HERE}}

        def launch_browser(self) -> None:
            secret = f"?token={token}" if token else ""
            shown = "the address of this machine" if host in EVERYWHERE else host
            print(f"Job cards: http://{shown}:{self.port}/{FIRST}{secret}   (stop with Ctrl+C)", flush=True)
            if browser:
                webbrowser.open(f"http://localhost:{self.port}/{FIRST}{secret}")

    token = "" if _only_here(host) else secrets.token_hex(8)
    Cards.launch_instance(arguments(folder, port=port, host=host, token=token))
    return 0


def arguments(folder: Path, *, port: int, host: str, token: str) -> list[str]:
    """Return the command line of the server; others need the token, since a page has a kernel."""
    return [
        str(folder / "job_cards"),
        f"--port={port}",
        f"--Voila.ip={host}",
        f"--Voila.token={token}",
        "--Voila.log_level=WARN",
        *(f"--VoilaConfiguration.extension_allowlist={name}" for name in EXTENSIONS),
        "--Voila.kernel_websocket_connection_class=lessons.jupyter.fast_socket.PromptWebsocketConnection",
        f"--MappingKernelManager.cull_idle_timeout={_IDLE}",
        "--MappingKernelManager.cull_interval=300",
    ]


def _only_here(host: str) -> bool:
    try:
        return host == "localhost" or ip_address(host).is_loopback
    except ValueError:
        return False


def add_options(parser: Any) -> None:
    """Add the options of the cards to the command."""
    parser.add_argument("--cards", action="store_true", help="only the job cards, as pages without code")
    parser.add_argument(
        "--host",
        default="localhost",
        metavar="ADDRESS",
        help="with --cards: address to listen on; 0.0.0.0 lets a tablet in, with a token",
    )
