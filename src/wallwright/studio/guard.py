"""The outer door: only the studio's own address, only its own page, only small bodies; and what the browser may do with answers.

A page on the open web can make a browser call an address on the same machine, or one where a person is signed in. Host and
Origin tell such calls apart. Local mode answers on this machine only.
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
LARGER_BODIES = {
    "/api/jobs/import": 2_000_000, "/readings": 400_000, "/photo/straight": 4_000_000, "/photo/overlay": 4_000_000,
}  # fmt: skip
"""By the end of the address."""
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
SECURE = (b"strict-transport-security", b"max-age=31536000")
READS = ("GET", "HEAD")


class Guard:
    """Wraps the application: refuses what may not come in, and dresses every answer with its headers."""

    def __init__(self, app: App, address: str = "") -> None:
        """Address : of a hosted studio, https://studio.example; empty = local mode."""
        self.app, self.address = app, address

    async def __call__(self, scope: Any, receive: Receive, send: Send) -> None:
        """One call of the server."""
        if scope["type"] == "websocket":
            await send({"type": "websocket.close", "code": 1008})
            return
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        dressed = _dressed(send, api=scope["path"].startswith("/api"), hosted=bool(self.address))
        headers = {key.decode("latin-1").lower(): value.decode("latin-1") for key, value in scope["headers"]}
        most = _largest(scope["path"])
        refused = (
            (_not_here(scope, headers, self.address) if self.address else _not_local(scope, headers))
            or _too_large(headers, most)
        )  # fmt: skip
        if refused is None:
            body = await _body(receive, most)
            if body is not None:
                await self._answered(scope, _once(body, receive), dressed)
                return
            refused = 413, "body", "", f"is larger than {most // 1000} kB"
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


Refused = tuple[int, str, str, str] | None
"""Why a call may not come in: status, field, value and what would do; None where it may."""


def _not_local(scope: Any, headers: Mapping[str, str]) -> Refused:
    """Local mode: this machine by any of its names, and no other site's page."""
    host = headers.get("host", "")
    port = (scope.get("server") or ("", 80))[1]
    name, _, given = host.rpartition(":") if ":" in host.removeprefix("[::1]") else (host, "", "80")
    if name.lower() not in NAMES or given != str(port):
        return 421, "Host", host, f"this page answers on this machine only, as http://127.0.0.1:{port}"
    if headers.get("sec-fetch-site", "same-origin") not in ("same-origin", "none"):
        return 403, "Sec-Fetch-Site", headers["sec-fetch-site"], "another site's page may not call this one"
    origin = headers.get("origin")
    if scope["method"] not in READS and origin is not None and origin.lower() != f"http://{host.lower()}":
        return 403, "Origin", origin, "another site's page may not change this job"
    return None


def _not_here(scope: Any, headers: Mapping[str, str], address: str) -> Refused:
    """Hosted: under its own address; every change says from which page it comes, and it is the studio's own."""
    host = headers.get("host", "")
    if host.lower() != address.partition("://")[2].lower():
        return 421, "Host", host, f"this studio is at {address}"
    elsewhere = headers.get("sec-fetch-site", "same-origin") not in ("same-origin", "none")
    if elsewhere and scope["path"].startswith(
        "/api"
    ):  # a link in a letter may open the page, not the answers
        return 403, "Sec-Fetch-Site", headers["sec-fetch-site"], "another site's page may not call this one"
    origin = headers.get("origin", "")
    if scope["method"] not in READS and origin.lower() != address.lower():
        return 403, "Origin", origin, "changes come from the studio's own page"
    return None


def _too_large(headers: Mapping[str, str], most: int) -> Refused:
    length = headers.get("content-length", "0")
    if not (length.isascii() and length.isdigit()):
        return 400, "Content-Length", length, "must be a whole number"
    if len(length) > 12 or int(length) > most:
        return 413, "body", length[:12], f"is larger than {most // 1000} kB"
    return None


def _largest(path: str) -> int:
    return next((most for end, most in LARGER_BODIES.items() if path.endswith(end)), LARGEST_BODY)


async def _body(receive: Receive, most: int) -> bytes | None:
    """The whole body, read before anything acts on it; None where it is too large."""
    body = b""
    while True:
        message = await receive()
        if message["type"] != "http.request":
            return body
        body += message.get("body", b"")
        if len(body) > most:
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


def _dressed(send: Send, *, api: bool, hosted: bool) -> Send:
    """Every answer with its headers. A hosted studio is reached over TLS only, and tells browsers to keep to that."""
    dress = (*HEADERS, *((b"cache-control", b"no-store"),) * api, *(SECURE,) * hosted)

    async def dressed(message: Message) -> None:
        if message["type"] == "http.response.start":
            message["headers"] = [*message.get("headers", []), *dress]
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
