"""What stands between the site and everybody else: each measure by itself, put round the app by :func:`safe`."""

from __future__ import annotations

import asyncio
import hmac
import os
import sys
import time
import traceback
from collections.abc import Callable, Collection
from urllib.parse import parse_qs

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import Headers, MutableHeaders
from starlette.exceptions import HTTPException
from starlette.requests import ClientDisconnect, Request
from starlette.responses import JSONResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from toilewright.app.pages import page
from toilewright.app.words import say

SAFE_METHODS = frozenset({"GET", "HEAD", "OPTIONS"})

POLICY = "; ".join((
    "default-src 'none'", "script-src 'self'", "style-src 'self'", "img-src 'self' blob: data:", "connect-src 'self'",
    "font-src 'self'", "form-action 'self'", "base-uri 'none'", "frame-ancestors 'none'"))

HEADERS = {
    "content-security-policy": POLICY,
    "x-content-type-options": "nosniff",
    # With "no-referrer" a browser hides the origin of our own forms too, and that is what they are known by.
    "referrer-policy": "same-origin",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "permissions-policy": "camera=(), geolocation=(), microphone=(), payment=(), usb=()",
    "cache-control": "no-store",
}

BODY, UPLOAD = 1_000_000, 80_000_000
"""bytes of a request; files come as multipart forms."""

_FORM = 64_000
"""bytes of a plain form, which is held in memory to look for its token."""

PATIENCE, SLOWEST = 20.0, 20_000
"""seconds that a body may take, and for each so many bytes one second more."""


def safe(app: ASGIApp, doors: Callable[[ASGIApp], ASGIApp], hosts: Callable[[], Collection[str]],
         larger: Callable[[str], int] = lambda path: 0) -> ASGIApp:
    """An app with every measure round it.

    Args:
        doors: lets in paired devices only, and puts ``csrf`` into the state of a request.
        hosts: under which names (with port) the program may be asked for at this moment.
        larger: how many bytes an upload to a path may have, where it is more than usual.
    """
    return AddHeaders(Sentences(KnownHosts(Bodies(doors(OwnPages(Tokens(app))), larger), hosts)))


class AddHeaders:
    """Headers that every answer carries, unless it has its own of that name."""

    def __init__(self, app: ASGIApp) -> None:
        """Round an app."""
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer."""
        async def with_headers(message: Message) -> None:
            if message["type"] == "http.response.start":
                headers = MutableHeaders(scope=message)
                for name, value in HEADERS.items():
                    headers.setdefault(name, value)
            await send(message)

        await self.app(scope, receive, with_headers)


class Sentences:
    """Whatever goes wrong is answered by one sentence; where it went wrong is nobody's business."""

    def __init__(self, app: ASGIApp) -> None:
        """Round an app."""
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer."""
        begun = ended = False

        async def noted(message: Message) -> None:
            nonlocal begun, ended
            begun = True
            ended = message["type"] == "http.response.body" and not message.get("more_body", False)
            await send(message)

        try:
            await self.app(scope, receive, noted)
        except ClientDisconnect:
            return  # she left the page while it asked; nobody is there to be answered
        except Exception as problem:
            if not isinstance(problem, HTTPException):
                complain(problem)
            if begun and not ended:
                raise
            if not begun:
                answer = await run_in_threadpool(sentence, Request(scope), problem)
                await answer(scope, receive, send)


def complain(problem: Exception) -> None:
    """Note a fault of ours on standard error: its kind, and where when asked for."""
    if os.environ.get("TOILEWRIGHT_TRACE"):
        traceback.print_exception(problem)
    else:
        sys.stderr.write(f"A request failed ({type(problem).__name__}); TOILEWRIGHT_TRACE=1 shows where.\n")


def sentence(request: Request, problem: Exception) -> Response:
    """The answer to a request that came to nothing."""
    status, text = 500, say("doors.broken")
    if isinstance(problem, HTTPException):
        status, text = problem.status_code, problem.detail
    return outside(request, status, text)


def outside(request: Request, status: int, text: str, code: bool = False) -> Response:
    """A page of one sentence for somebody who is not in, or the same for a script.

    Args:
        code: offer a field for the code of the devices' page.
    """
    if "application/json" in request.headers.get("accept", ""):
        return JSONResponse({"error": {"kind": "http", "text": text}}, status)
    return page(request, "outside.html", status, text=text, code=code)


class KnownHosts:
    """Refuses requests under any other name: a stranger's page may have its own name point to this machine."""

    def __init__(self, app: ASGIApp, hosts: Callable[[], Collection[str]]) -> None:
        """Round an app."""
        self.app, self.hosts = app, hosts

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer."""
        if scope["type"] != "http":
            raise HTTPException(400, say("doors.strange_host"))
        asked = Headers(scope=scope).getlist("host")
        if len(asked) != 1 or asked[0].lower() not in self.hosts():
            raise HTTPException(421, say("doors.strange_host"))
        await self.app(scope, receive, send)


class Bodies:
    """Bounds the size of a request's body, and the time that it may take to arrive."""

    def __init__(self, app: ASGIApp, larger: Callable[[str], int] = lambda path: 0,
                 clock: Callable[[], float] = time.monotonic, patience: float = PATIENCE) -> None:
        """Round an app; `larger` as for :func:`safe`."""
        self.app, self.larger, self.clock, self.patience = app, larger, clock, patience

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer."""
        headers = Headers(scope=scope)
        most = BODY
        if headers.get("content-type", "").startswith("multipart/form-data"):
            most = max(UPLOAD, self.larger(scope["path"]))
        said = headers.get("content-length", "0")
        if not said.isdecimal() or int(said) > most:
            raise _too_large(most)
        got, whole, begun = 0, False, 0.0

        async def bounded() -> Message:
            nonlocal got, whole, begun
            if whole:
                return await receive()
            begun = begun or self.clock()
            left = begun + self.patience + got / SLOWEST - self.clock()
            try:
                message = await asyncio.wait_for(receive(), max(left, 0.0))
            except TimeoutError:
                raise HTTPException(408, say("doors.too_slow"), {"connection": "close"}) from None
            got += len(message.get("body", b""))
            whole = not message.get("more_body", False)
            if got > most:
                raise _too_large(most)
            return message

        await self.app(scope, bounded, send)


def _too_large(most: int) -> HTTPException:
    return HTTPException(413, say("doors.too_large", n=most // 1_000_000), {"connection": "close"})


class OwnPages:
    """Only our own pages may change anything."""

    def __init__(self, app: ASGIApp) -> None:
        """Round an app."""
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer."""
        headers = Headers(scope=scope)
        if scope["method"] not in SAFE_METHODS:
            site, origin = headers.get("sec-fetch-site"), headers.get("origin")
            own = f"{scope['scheme']}://{headers['host']}".lower()
            if site not in (None, "same-origin") or (origin is not None and origin.lower() != own):
                raise HTTPException(403, say("doors.strange_page"))
        await self.app(scope, receive, send)


class Tokens:
    """Whatever changes something carries the token that its page was given (header, or field of a plain form)."""

    def __init__(self, app: ASGIApp) -> None:
        """Round an app."""
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer."""
        if scope["method"] not in SAFE_METHODS:
            wanted = scope.get("state", {}).get("csrf", "")
            headers = Headers(scope=scope)
            shown = headers.get("x-toilewright", "")
            if not shown and headers.get("content-type", "").startswith("application/x-www-form-urlencoded"):
                body = await _whole(receive)
                shown = parse_qs(body.decode("latin-1")).get("csrf", [""])[0]
                receive = _again(body, receive)
            if not wanted or not hmac.compare_digest(shown.encode(), wanted.encode()):
                raise HTTPException(403, say("doors.no_token"))
        await self.app(scope, receive, send)


async def _whole(receive: Receive) -> bytes:
    body, more = bytearray(), True
    while more:
        message = await receive()
        body += message.get("body", b"")
        more = message.get("more_body", False)
        if len(body) > _FORM:
            raise _too_large(BODY)
    return bytes(body)


def _again(body: bytes, receive: Receive) -> Receive:
    """A body that was read already, to be read once more."""
    messages: list[Message] = [{"type": "http.request", "body": body, "more_body": False}]

    async def replay() -> Message:
        return messages.pop() if messages else await receive()

    return replay
