"""Who may come in: every device is paired by a key that is good once, and known by a cookie from then on."""

from __future__ import annotations

import datetime
import hashlib
import hmac
import json
import secrets
import threading
import time
from collections.abc import Callable
from dataclasses import asdict, dataclass, replace
from typing import Protocol

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import Headers
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import JSONResponse, RedirectResponse, Response
from starlette.types import ASGIApp, Receive, Scope, Send

from toilewright.app.safety import outside
from toilewright.app.words import say

GOOD_FOR = 600.0
"""seconds for which a key is good that nobody has used."""

GUESSES, GUESSING = 10, 60.0
"""wrong keys from one address, and the seconds that it is not listened to after them."""

SEEN_EVERY = datetime.timedelta(hours=1)
"""how exactly it is kept when a device was last here."""

MOST_DEVICES = 60
_STAYS = 400 * 86400
_LETTERS = "23456789ABCDEFGHJKMNPQRSTUVWXYZ"
"""of the code that is typed by hand: none that looks like another."""

_LOCAL = ("127.0.0.1", "::1")


class Settings(Protocol):
    """What is needed of a store."""

    def setting(self, name: str, default: str = "") -> str:
        """A setting."""

    def set_setting(self, name: str, value: str) -> None:
        """Keep a setting."""


@dataclass(frozen=True, slots=True)
class Device:
    """A browser that was let in.

    Attributes:
        token: SHA-256 of what its cookie holds.
        came, seen: ISO 8601 moments (UTC).
    """

    id: str
    name: str
    token: str
    came: str
    seen: str


class Doors:
    """Keys and devices of one store on this machine."""

    def __init__(self, room: Settings, place: str = "", clock: Callable[[], float] = time.time) -> None:
        """With the devices that the store knows.

        Args:
            place: tells programs on several machines with one store apart.
            clock: seconds since 1970.
        """
        self._room, self._clock, self._lock = room, clock, threading.RLock()
        self._list = f"devices {place}".strip()
        self._devices = {d["token"]: Device(**d) for d in json.loads(room.setting(self._list, "[]"))}
        self._keys: dict[str, float] = {}
        self._wrong: dict[str, tuple[int, float]] = {}
        self.cookie = f"toilewright-{self._mark()}"

    def _mark(self) -> str:
        """Tells the cookies of several stores on one machine apart: they share its name, whatever the port."""
        name = f"{self._list} mark"
        mark = self._room.setting(name)
        if not mark:
            mark = secrets.token_hex(4)
            self._room.set_setting(name, mark)
        return mark

    # -- keys -------------------------------------------------------------------------------------

    def new_key(self) -> str:
        """A key for a browser on this machine, good once and for ten minutes."""
        return self._keep(secrets.token_urlsafe(32))

    def new_code(self) -> str:
        """A key that can be typed, for another device; good once, for ten minutes."""
        code = "".join(secrets.choice(_LETTERS) for _ in range(12))
        return "-".join((self._keep(code)[:4], code[4:8], code[8:]))

    def forget_key(self, key: str) -> None:
        """A key is no longer good."""
        with self._lock:
            self._keys.pop(_hash(_plain(key)), None)

    def _keep(self, key: str) -> str:
        with self._lock:
            now = self._clock()
            self._keys = {k: until for k, until in self._keys.items() if until > now}
            self._keys[_hash(key)] = now + GOOD_FOR
        return key

    def is_good(self, key: str) -> bool:
        """Could a key still be used?"""
        with self._lock:
            return self._keys.get(_hash(_plain(key)), 0.0) > self._clock()

    def use(self, key: str, who: str) -> bool:
        """Is it a key that is good? It is not from now on.

        Args:
            who: the address that shows it.

        Raises:
            HTTPException: too many wrong ones came from there.
        """
        with self._lock:
            now = self._clock()
            wrong, until = self._wrong.get(who, (0, 0.0))
            if now > until:
                wrong = 0
            if wrong >= GUESSES:
                raise HTTPException(429, say("doors.too_many"))
            # Looked up by their hashes: how long that takes tells nothing of a key.
            if self._keys.pop(_hash(_plain(key)), 0.0) > now:
                self._wrong.pop(who, None)
                return True
            self._wrong = {w: (n, t) for w, (n, t) in self._wrong.items() if t > now}
            self._wrong[who] = (wrong + 1, now + GUESSING)
            return False

    # -- devices ----------------------------------------------------------------------------------

    @property
    def devices(self) -> tuple[Device, ...]:
        """Those that may come in, last seen first."""
        with self._lock:
            return tuple(sorted(self._devices.values(), key=lambda d: d.seen, reverse=True))

    def let_in(self, name: str) -> str:
        """A new device; what its cookie is to hold."""
        token = secrets.token_urlsafe(32)
        with self._lock:
            now = self._moment()
            self._put(Device(secrets.token_hex(5), name, _hash(token), now, now))
            for old in self.devices[MOST_DEVICES:]:
                self._devices.pop(old.token)
            self._save()
        return token

    def known(self, token: str) -> Device | None:
        """The device of a cookie."""
        return self._devices.get(_hash(token)) if token else None

    def seen(self, device: Device) -> None:
        """It was here."""
        if datetime.datetime.fromisoformat(self._moment()) - datetime.datetime.fromisoformat(device.seen) < SEEN_EVERY:
            return
        with self._lock:
            if device.token in self._devices:
                self._put(replace(device, seen=self._moment()))
                self._save()

    def rename(self, device_id: str, name: str) -> None:
        """Call a device something else."""
        with self._lock:
            for device in self.devices:
                if device.id == device_id and name.strip():
                    self._put(replace(device, name=" ".join(name.split())[:60]))
            self._save()

    def show_out(self, device_id: str) -> None:
        """A device is not let in any more."""
        with self._lock:
            self._devices = {t: d for t, d in self._devices.items() if d.id != device_id}
            self._save()

    def _put(self, device: Device) -> None:
        self._devices[device.token] = device

    def _save(self) -> None:
        self._room.set_setting(self._list, json.dumps([asdict(d) for d in self._devices.values()]))

    def _moment(self) -> str:
        return datetime.datetime.fromtimestamp(self._clock(), datetime.UTC).isoformat(timespec="seconds")


def _hash(secret: str) -> str:
    return hashlib.sha256(secret.encode()).hexdigest()


def _plain(key: str) -> str:
    """A typed code as it was given out, however she writes it."""
    bare = key.replace("-", "").replace(" ", "").upper()
    return bare if len(bare) == 12 else key


def token_for(cookie: str) -> str:
    """What the pages of one device carry, so that only they can change anything."""
    return hmac.new(cookie.encode(), b"toilewright pages", hashlib.sha256).hexdigest()


def is_local(scope: Scope) -> bool:
    """Did a request come in by this machine's own door, and not from the home network?"""
    return (scope.get("server") or ("",))[0] in _LOCAL


class Door:
    """Lets in the devices that :class:`Doors` knows, and those that bring a key.

    Args:
        knock: secret of a second start of the program, which gets a new key for it; "" for none.
    """

    def __init__(self, app: ASGIApp, doors: Doors, knock: str = "") -> None:
        """Round an app."""
        self.app, self.doors, self.knock = app, doors, knock

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer."""
        request = Request(scope)
        path, method = scope["path"], scope["method"]
        answer: Response | None = None
        if path == "/in" and method == "GET":
            answer = await run_in_threadpool(self._come_in, request)
        elif path == "/knock" and method == "POST":
            answer = self._knocked(request)
        elif not (path.startswith("/static/") and method in ("GET", "HEAD")):
            device = self.doors.known(request.cookies.get(self.doors.cookie, ""))
            if device is None:
                key = "doors.not_in" if is_local(scope) else "doors.not_in_home"
                answer = await run_in_threadpool(outside, request, 401, say(key), code=True)
            else:
                await run_in_threadpool(self.doors.seen, device)
                request.state.csrf = token_for(request.cookies[self.doors.cookie])
                request.state.device = device.name
                request.state.device_id = device.id
        await (answer or self.app)(scope, receive, send)

    def _come_in(self, request: Request) -> Response:
        # Or any page in her browser could use up the guesses of this machine, and shut her out.
        if request.headers.get("sec-fetch-site", "none") not in ("none", "same-origin"):
            return outside(request, 403, say("doors.strange_page"))
        if not self.doors.use(request.query_params.get("key", ""), _who(request)):
            if self.doors.known(request.cookies.get(self.doors.cookie, "")):
                return RedirectResponse("/", 303)
            return outside(request, 403, say("doors.wrong_key"), code=True)
        answer = RedirectResponse("/", 303)
        if self.doors.known(request.cookies.get(self.doors.cookie, "")) is None:
            token = self.doors.let_in(_name_of(request))
            answer.set_cookie(self.doors.cookie, token, max_age=_STAYS, path="/", httponly=True, samesite="strict")
        return answer

    def _knocked(self, request: Request) -> Response:
        shown = request.headers.get("x-toilewright-knock", "")
        if not (self.knock and is_local(request.scope) and hmac.compare_digest(shown.encode(), self.knock.encode())):
            return outside(request, 403, say("doors.wrong_key"))
        return JSONResponse({"key": self.doors.new_key()})


def _who(request: Request) -> str:
    return request.client.host if request.client else ""


def _name_of(request: Request) -> str:
    """A first name for a device, from what its browser says of itself."""
    agent = Headers(scope=request.scope).get("user-agent", "")
    if is_local(request.scope):
        return say("doors.this_machine")
    if "iPad" in agent or "Tablet" in agent or ("Android" in agent and "Mobile" not in agent):
        return say("doors.a_tablet")
    if "Mobile" in agent or "iPhone" in agent:
        return say("doors.a_phone")
    return say("doors.a_computer")
