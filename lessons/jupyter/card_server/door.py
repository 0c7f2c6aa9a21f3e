"""Who may come in: this machine, or whoever has the word that was printed where the cards were started."""

from __future__ import annotations

import hmac
from ipaddress import ip_address
from typing import Any

from tornado.web import RequestHandler

_COOKIE = "ostrel_cards"
# Scripts and pictures from here only, so that no network is needed and none is asked.
_ONLY_FROM_HERE = (
    "default-src 'self'; style-src 'self' 'unsafe-inline'; img-src 'self' data: blob:; connect-src 'self' ws: wss:; "
    "base-uri 'none'; form-action 'self'; frame-ancestors 'none'"
)
_NO_WORD = "Open the address with its token, as it was printed where the cards were started. It changes at each start."
_OTHER_NAME = "The cards are served to this machine only. Open them as localhost, or start them with --host."


class Door(RequestHandler):
    """A page or connection that opens only to those who may come in."""

    def prepare(self) -> None:
        """Refuse with a sentence, or let in; who brings the token in the address keeps it as a cookie."""
        token = self.settings["token"]
        if not token:
            # Without a token another site's name must not lead here (DNS rebinding).
            if not only_here(self.request.host_name):
                self.refuse(_OTHER_NAME)
        elif hmac.compare_digest(self.get_query_argument("token", "").encode(), token.encode()):
            self.set_cookie(_COOKIE, token, httponly=True, samesite="Strict")
            self.redirect(self.request.path)
        elif not hmac.compare_digest((self.get_cookie(_COOKIE) or "").encode(), token.encode()):
            self.refuse(_NO_WORD)

    def refuse(self, sentence: str) -> None:
        """End with a page of one sentence."""
        self.set_status(403)
        self.render("refused.html", sentence=sentence)

    def set_default_headers(self) -> None:
        """Forbid what a page of ours never needs."""
        self.set_header("Content-Security-Policy", _ONLY_FROM_HERE)
        self.set_header("X-Content-Type-Options", "nosniff")
        self.set_header("Referrer-Policy", "no-referrer")
        self.clear_header("Server")

    def write_error(self, status_code: int, **_about: Any) -> None:
        """Say in a sentence what there is not."""
        said = "There is no such page here." if status_code in (404, 405) else "This page cannot be shown."
        self.render("refused.html", sentence=said)


def only_here(host: str) -> bool:
    """Tell whether a name or address is that of this machine alone.

    >>> only_here("localhost"), only_here("127.0.0.1"), only_here("192.168.1.4"), only_here("tablet")
    (True, True, False, False)
    """
    try:
        return host == "localhost" or ip_address(host.strip("[]")).is_loopback
    except ValueError:
        return False
