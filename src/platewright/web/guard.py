"""What every request passes before anything else sees it.

Only this machine's own page may talk to the server: the Host must be ours (else a foreign name
could be pointed at this machine), the Origin ours, and the key of this start given. Bodies are
bounded while they are read. Answers forbid foreign content and framing.
"""

from __future__ import annotations

import json
import secrets
from dataclasses import dataclass
from typing import Final

from starlette.types import ASGIApp, Message, Receive, Scope, Send

KEY_HEADER: Final = b"x-platewright-key"
JSON_LIMIT: Final = 4_000_000  # bytes of a JSON body
IMAGE_LIMIT: Final = 20_000_000  # bytes of a photo
CSP: Final = (
    "default-src 'self'; img-src 'self' data: blob:; object-src 'none'; base-uri 'none'; "
    "frame-ancestors 'none'; form-action 'none'"
)
HEADERS: Final = (
    (b"content-security-policy", CSP.encode()),
    (b"x-content-type-options", b"nosniff"),
    (b"referrer-policy", b"no-referrer"),
    (b"cross-origin-opener-policy", b"same-origin"),
    (b"cross-origin-resource-policy", b"same-origin"),
    (b"cache-control", b"no-store"),
)
IMAGE_PATH: Final = "/api/photo"
IMAGE_TYPES: Final = (b"image/jpeg", b"image/png")


@dataclass(frozen=True, slots=True)
class Refusal:
    """Why a request is turned away."""

    status: int
    problem: str
    cure: str


class Guard:
    """Pure ASGI: wraps the application."""

    def __init__(self, app: ASGIApp, *, port: int, key: str) -> None:
        self.app, self.key = app, key.encode()
        names = ("127.0.0.1", "localhost", "[::1]")
        self.hosts = {f"{name}:{port}".encode() for name in names}
        self.origins = {b"http://" + host for host in self.hosts}

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Turn the request away, or hand it on."""
        if scope["type"] not in ("http", "websocket"):
            await self.app(scope, receive, send)
            return
        headers = dict(scope["headers"])
        refusal = self.judge(scope, headers)
        if scope["type"] == "websocket":
            if refusal:
                await send({"type": "websocket.close", "code": 4403})
                return
            await self.app(scope, receive, send)
            return
        if refusal is None and scope["method"] not in ("GET", "HEAD"):
            body = await _bounded(receive, _limit(scope["path"]))
            if body is None:
                refusal = Refusal(413, "is too large", "Send less at once")
            else:
                receive = _replay(body)
        if refusal:
            await _refuse(send, refusal)
            return
        await self.app(scope, receive, _with_headers(send))

    def judge(self, scope: Scope, headers: dict[bytes, bytes]) -> Refusal | None:
        """Return why a request is turned away, or ``None``."""
        if headers.get(b"host") not in self.hosts:
            return Refusal(
                403, "the request was not meant for this server", "Open the told address"
            )
        origin = headers.get(b"origin")
        is_socket = scope["type"] == "websocket"
        if (origin is None and is_socket) or (origin is not None and origin not in self.origins):
            return Refusal(403, "the request comes from another page", "Use the page itself")
        if headers.get(b"sec-fetch-site", b"same-origin") in (b"cross-site", b"same-site"):
            return Refusal(403, "the request comes from another page", "Use the page itself")
        if is_socket or not scope["path"].startswith("/api/"):
            return None  # a socket gives the key in its first message
        if not secrets.compare_digest(headers.get(KEY_HEADER, b""), self.key):
            return Refusal(401, "the key of this start is missing", "Open the told address again")
        if scope["method"] in ("GET", "HEAD"):
            return None
        kind = headers.get(b"content-type", b"").split(b";")[0].strip().lower()
        allowed = IMAGE_TYPES if scope["path"] == IMAGE_PATH else (b"application/json",)
        if kind not in allowed:
            told = b" or ".join(allowed).decode()
            return Refusal(415, f"the body must be {told}", "Send it as such")
        return None


def _limit(path: str) -> int:
    return IMAGE_LIMIT if path == IMAGE_PATH else JSON_LIMIT


async def _bounded(receive: Receive, limit: int) -> bytes | None:
    """Return the whole body; ``None`` as soon as it is larger than the limit."""
    body = bytearray()
    while True:
        message = await receive()
        if message["type"] != "http.request":
            return bytes(body)
        body += message.get("body", b"")
        if len(body) > limit:
            return None
        if not message.get("more_body"):
            return bytes(body)


def _replay(body: bytes) -> Receive:
    sent = False

    async def receive() -> Message:
        nonlocal sent
        if sent:
            return {"type": "http.disconnect"}
        sent = True
        return {"type": "http.request", "body": body, "more_body": False}

    return receive


def _with_headers(send: Send) -> Send:
    async def told(message: Message) -> None:
        if message["type"] == "http.response.start":
            own = {name for name, _ in HEADERS}
            kept = [pair for pair in message["headers"] if pair[0].lower() not in own]
            message = {**message, "headers": [*kept, *HEADERS]}
        await send(message)

    return told


async def _refuse(send: Send, refusal: Refusal) -> None:
    body = {"problem": refusal.problem, "where": "request", "cure": refusal.cure}
    await send(
        {
            "type": "http.response.start",
            "status": refusal.status,
            "headers": [(b"content-type", b"application/json"), *HEADERS],
        }
    )
    await send({"type": "http.response.body", "body": json.dumps(body).encode()})
