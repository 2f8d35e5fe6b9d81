"""Who may speak to the server: a browser on this machine, on the page the server gave it.

A page elsewhere that reaches this address by another name (DNS rebinding) has another Host; one
that opens a socket from another site has another Origin; neither knows the token, the first part
of every path.
"""

from __future__ import annotations

import hmac
import secrets
from collections.abc import Sequence

from starlette.datastructures import Headers
from starlette.responses import PlainTextResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

HERE = "127.0.0.1"
REFUSED = 4403  # code with which a socket is closed
SAFE = {
    "cache-control": "no-store",
    "x-content-type-options": "nosniff",
    "referrer-policy": "no-referrer",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "permissions-policy": "camera=(), microphone=(), geolocation=(), usb=(), serial=()",
}


def new_token() -> str:
    """Return a token that nobody can guess: 24 random bytes, to stand in an address."""
    return secrets.token_urlsafe(24)


def policy(port: int) -> str:
    """Return what a page of this server may load: its own, and nothing from anywhere else."""
    return (
        "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; "
        f"connect-src 'self' ws://{HERE}:{port}; base-uri 'none'; form-action 'none'; "
        "frame-ancestors 'none'"
    )


def refusal(
    hosts: Sequence[str], origins: Sequence[str], token: str, own: str, port: int, *, speaks: bool
) -> str:
    """Return why a request is refused, nothing where it is not.

    *token* is what the path has, *own* the server's; who *speaks*, by a socket or by any method
    but GET, must say where it comes from.
    """
    here = f"{HERE}:{port}"
    if list(hosts) != [here]:
        return "host"
    if any(one != f"http://{here}" for one in origins) or (speaks and len(origins) != 1):
        return "origin"
    # As bytes: text that is not ASCII cannot be compared in constant time.
    if not hmac.compare_digest(token.encode(), own.encode()):
        return "token"
    return ""


class Guard:
    """Stands before pages and socket alike, and adds to every answer what keeps it safe."""

    def __init__(self, app: ASGIApp, token: str, port: int) -> None:
        self._app, self._token, self._port = app, token, port
        safe = {**SAFE, "content-security-policy": policy(port)}
        self._safe = [(key.encode(), value.encode()) for key, value in safe.items()]

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass on what may pass."""
        if scope["type"] not in ("http", "websocket"):
            await self._app(scope, receive, send)
        elif not self._refused(scope):
            await self._app(scope, receive, self._kept(send))
        elif scope["type"] == "websocket":
            await receive()
            await send({"type": "websocket.close", "code": REFUSED})
        else:
            await PlainTextResponse("Forbidden", 403)(scope, receive, self._kept(send))

    def _refused(self, scope: Scope) -> str:
        headers = Headers(scope=scope)
        token = scope["path"].split("/")[1] if scope["path"].startswith("/") else ""
        speaks = scope["type"] == "websocket" or scope.get("method") not in ("GET", "HEAD")
        hosts, origins = headers.getlist("host"), headers.getlist("origin")
        return refusal(hosts, origins, token, self._token, self._port, speaks=speaks)

    def _kept(self, send: Send) -> Send:
        async def kept(message: Message) -> None:
            if message["type"] == "http.response.start":
                message["headers"] = [*message.get("headers", ()), *self._safe]
            await send(message)

        return kept
