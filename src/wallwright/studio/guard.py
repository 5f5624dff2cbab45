"""The door of the local page: only this machine, only its own page, only small bodies; and what the browser may do with answers.

A page on the open web can make a browser call an address on the same machine. Host and Origin tell such calls apart.
"""

from __future__ import annotations

import json
import traceback
from collections.abc import Awaitable, Callable, Mapping, MutableMapping
from typing import Any

Message = MutableMapping[str, Any]
Receive = Callable[[], Awaitable[Message]]
Send = Callable[[Message], Awaitable[None]]
App = Callable[[Any, Receive, Send], Awaitable[None]]

LARGEST_BODY = 64_000
FAULT = "the program has a fault here, told in the terminal it runs in; the job file holds all that was acknowledged"
NAMES = ("localhost", "127.0.0.1", "[::1]")
POLICY = "; ".join(
    (
        "default-src 'none'", "script-src 'self'", "style-src 'self'", "img-src 'self' data: blob:", "font-src 'self'",
        "connect-src 'self' blob:", "base-uri 'none'", "form-action 'none'", "frame-ancestors 'none'",
    )
)  # fmt: skip
HEADERS = (
    (b"content-security-policy", POLICY.encode()),
    (b"x-content-type-options", b"nosniff"),
    (b"referrer-policy", b"no-referrer"),
    (b"cross-origin-opener-policy", b"same-origin"),
    (b"cross-origin-resource-policy", b"same-origin"),
    (b"permissions-policy", b"camera=(), geolocation=(), microphone=(), payment=(), usb=()"),
)


class Guard:
    """Wraps the application: refuses what may not come in, and dresses every answer with its headers."""

    def __init__(self, app: App) -> None:
        self.app = app

    async def __call__(self, scope: Any, receive: Receive, send: Send) -> None:
        """One call of the server."""
        if scope["type"] == "websocket":
            await send({"type": "websocket.close", "code": 1008})
            return
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        dressed = _dressed(send, api=scope["path"].startswith("/api"))
        headers = {key.decode("latin-1").lower(): value.decode("latin-1") for key, value in scope["headers"]}
        refused = _refusal(scope, headers)
        if refused is None:
            body = await _body(receive)
            if body is not None:
                await self._answered(scope, _once(body, receive), dressed)
                return
            refused = 413, "body", "", f"is larger than {LARGEST_BODY // 1000} kB; send one edit at a time"
        await _answer(dressed, *refused)

    async def _answered(self, scope: Any, receive: Receive, send: Send) -> None:
        """The application's answer; where it fails, the fault goes to the terminal and the page hears only that there was one."""
        started = False

        async def noted(message: Message) -> None:
            nonlocal started
            started = True
            await send(message)

        try:
            await self.app(scope, receive, noted)
        except Exception:
            if started:
                raise
            traceback.print_exc()
            await _answer(send, 500, "program", "", FAULT)


def _refusal(scope: Any, headers: Mapping[str, str]) -> tuple[int, str, str, str] | None:
    """Why a call may not come in: status, field, value and what would do; None where it may."""
    host = headers.get("host", "")
    port = (scope.get("server") or ("", 80))[1]
    name, _, given = host.rpartition(":") if ":" in host.removeprefix("[::1]") else (host, "", "80")
    if name.lower() not in NAMES or given != str(port):
        return 421, "Host", host, f"this page answers on this machine only, as http://127.0.0.1:{port}"
    if headers.get("sec-fetch-site", "same-origin") not in ("same-origin", "none"):
        return 403, "Sec-Fetch-Site", headers["sec-fetch-site"], "another site's page may not call this one"
    if scope["method"] not in ("GET", "HEAD"):
        origin = headers.get("origin")
        if origin is not None and origin.lower() != f"http://{host.lower()}":
            return 403, "Origin", origin, "another site's page may not change this job"
    if not headers.get("content-length", "0").isdigit():
        return 400, "Content-Length", headers["content-length"], "must be a whole number"
    if int(headers.get("content-length", "0")[:12]) > LARGEST_BODY:
        return (
            413,
            "body",
            headers["content-length"][:12],
            f"is larger than {LARGEST_BODY // 1000} kB; send one edit at a time",
        )
    return None


async def _body(receive: Receive) -> bytes | None:
    """The whole body, read before anything acts on it; None where it is too large."""
    body = b""
    while True:
        message = await receive()
        if message["type"] != "http.request":
            return body
        body += message.get("body", b"")
        if len(body) > LARGEST_BODY:
            return None
        if not message.get("more_body"):
            return body


def _once(body: bytes, receive: Receive) -> Receive:
    """Hand the body on once; then whatever the server still has to say."""
    handed = False

    async def again() -> Message:
        nonlocal handed
        if not handed:
            handed = True
            return {"type": "http.request", "body": body, "more_body": False}
        return await receive()

    return again


def _dressed(send: Send, *, api: bool) -> Send:
    async def dressed(message: Message) -> None:
        if message["type"] == "http.response.start":
            extra = (*HEADERS, (b"cache-control", b"no-store")) if api else HEADERS
            message["headers"] = [*message.get("headers", []), *extra]
        await send(message)

    return dressed


async def _answer(send: Send, status: int, field: str, value: str, says: str) -> None:
    body = json.dumps({"error": {"field": field, "value": value[:80], "says": says, "problems": []}}).encode()
    headers = [
        (b"content-type", b"application/json"),
        (b"content-length", str(len(body)).encode()),
        (b"connection", b"close"),
    ]
    await send({"type": "http.response.start", "status": status, "headers": headers})
    await send({"type": "http.response.body", "body": body})
