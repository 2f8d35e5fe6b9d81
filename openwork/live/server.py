"""The server: pages and a socket on 127.0.0.1, for the one who started it and nobody else."""

from __future__ import annotations

import asyncio
import json
import math
import socket
import sys
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

import uvicorn
from starlette.applications import Starlette
from starlette.requests import Request
from starlette.responses import PlainTextResponse, Response
from starlette.routing import Route, WebSocketRoute
from starlette.websockets import WebSocket, WebSocketDisconnect

from openwork.errors import SpecError
from openwork.live.desk import Desk
from openwork.live.errands import Errands
from openwork.live.guard import HERE, Guard, new_token
from openwork.live.pages import page
from openwork.live.talk import Talk
from openwork.live.wish import Data
from openwork.live.worker import Worker

LARGEST = 1 << 17  # bytes of a message; a spec is about a thousand, its drawing at most 65536
ENDING = 1.0  # s that open pages are given at the end
LARGEST_DRAWING = 1 << 20  # bytes that a drawing may have: more of it is not read
NICE = 10  # steps that weighing stands back behind drawing
UNKNOWN = 1003  # code that closes a socket on which something unknown was said


def serve(
    path: Path, out: Path, brought: Mapping[str, str], port: int, ready: Callable[[str], None]
) -> None:
    """Serve the spec *path* until interrupted, files for the shop going to *out*.

    *brought* are specs for the shelf by name. *ready* is called with the address once it can be
    opened. Raises SpecError where the file is no spec, or the *port* (0 for any) cannot be had.
    """
    asyncio.run(_serve(Desk(path.resolve(), out, brought), port, ready))


async def _serve(desk: Desk, port: int, ready: Callable[[str], None]) -> None:
    pen = Worker("openwork.live.scribe:Scribe")
    try:
        if faults := (await pen.ask("read", str(desk.path))).get("faults"):
            raise SpecError(*faults)
        with listening(port) as sock:
            await _served(desk, pen, sock, ready)
    finally:
        pen.end()


async def _served(
    desk: Desk, pen: Worker, sock: socket.socket, ready: Callable[[str], None]
) -> None:
    """Serve on *sock* until interrupted."""
    scale = Worker("openwork.live.scale:Scale", NICE)
    try:
        token, port = new_token(), sock.getsockname()[1]
        app = Guard(_app(Errands(desk, pen, scale), pen, scale), token, port)
        ready(f"http://{HERE}:{port}/{token}/")
        await uvicorn.Server(_config(app)).serve(sockets=[sock])
    finally:
        scale.end()


def listening(port: int) -> socket.socket:
    """Return a socket that listens on this machine alone; raises SpecError where it cannot.

    The protocol is named, because asyncio turns off Nagle's delay only where it is; 20 ms a ring.
    """
    found = socket.socket(socket.AF_INET, socket.SOCK_STREAM, socket.IPPROTO_TCP)
    if sys.platform != "win32":  # where it would let two servers share a port
        found.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        found.bind((HERE, port))
        found.listen()
    except OSError as error:
        found.close()
        words = f"--port {port}: {error.strerror}; leave it out and a free one is taken"
        raise SpecError(words) from None
    return found


def _config(app: Guard) -> uvicorn.Config:
    return uvicorn.Config(
        app,
        loop="asyncio",
        http="h11",
        ws="websockets-sansio",
        ws_max_size=LARGEST,
        ws_per_message_deflate=False,
        server_header=False,
        log_level="critical",
        lifespan="off",
        timeout_graceful_shutdown=int(ENDING),
    )


def _app(errands: Errands, pen: Worker, scale: Worker) -> Starlette:
    async def start(request: Request) -> Response:
        del request
        opened = await errands.opened()
        known = await pen.ask("described")
        return Response(_text({**opened, **known}), media_type="application/json")

    async def file(request: Request) -> Response:
        found = page(request.path_params.get("name", ""))
        if found is None:
            return PlainTextResponse("Not found", 404)
        content, kind = found
        return Response(content, media_type=kind)

    async def drawing(request: Request) -> Response:
        name = request.query_params.get("name", "the drawing")
        found = await errands.drawing(await _sent(request), name)
        return Response(_text(found), media_type="application/json")

    async def talk(web: WebSocket) -> None:
        await _talked(web, lambda send: Talk(pen, scale, errands, send))

    routes = [
        WebSocketRoute("/{token}/talk", talk),
        Route("/{token}/start.json", start),
        Route("/{token}/drawing", drawing, methods=["POST"]),
        Route("/{token}/", file),
        Route("/{token}/{name}", file),
    ]
    return Starlette(routes=routes)


async def _sent(request: Request) -> bytes:
    """Return what is sent, a little more than a drawing may have at most."""
    data = bytearray()
    async for part in request.stream():
        data += part
        if len(data) > LARGEST_DRAWING:
            break
    return bytes(data)


async def _talked(web: WebSocket, begun: Callable[[Callable[[Any], Any]], Talk]) -> None:
    """Carry one page's conversation until it ends, or something is said that is no message."""
    await web.accept()
    talk = begun(lambda said: web.send_text(_text(said)))
    try:
        while True:
            talk.hear(read(await web.receive_text()))
    except WebSocketDisconnect:
        pass
    except (ValueError, RecursionError, KeyError):
        await web.close(UNKNOWN)
    finally:
        talk.close()


def read(text: str) -> Data:
    """Return the message in *text*, JSON; raises ValueError where it is none, or not finite.

    >>> read('{"draw": 1}')
    {'draw': 1}
    """
    found = json.loads(text, parse_constant=_finite, parse_float=_finite)
    if not isinstance(found, dict):
        raise ValueError("not a message")
    return found


def _finite(text: str) -> float:
    value = float(text)
    if not math.isfinite(value):
        raise ValueError(f"{text}: not a number")
    return value


def _text(said: object) -> str:
    return json.dumps(said, separators=(",", ":"), allow_nan=False)
