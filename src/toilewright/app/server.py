"""Runs the worktable on this machine until she ends it."""

from __future__ import annotations

import asyncio
import contextlib
import os
import platform
import signal
import socket
import sys
import threading
import webbrowser
from collections.abc import Callable, Iterator
from pathlib import Path

from platformdirs import user_data_dir
from starlette.applications import Starlette
from starlette.requests import Request
from starlette.responses import Response
from starlette.types import ASGIApp, Receive, Scope, Send

from toilewright.app.doors import Door, Doors, Settings
from toilewright.app.home import HomeDoor, Server, listen
from toilewright.app.running import Lock, address
from toilewright.app.safety import complain, safe, sentence
from toilewright.errors import InputError, ToilewrightError
from toilewright.workroom.backups import DamagedStore, back_up, backups
from toilewright.workroom.database import is_server
from toilewright.workroom.documents import Kind
from toilewright.workroom.store import Workroom, place_of, utc_now

PORT = 8765
"""where it is found as long as nobody else is there."""

IMPORT_PATH, LARGEST_IMPORT = "/keeping/import", 2_000_000_000
"""a whole workroom comes in again as one file."""

_BETWEEN_BACKUPS = 3600.0
"""seconds between two looks at whether today's back-up is there."""

Fill = Callable[[Workroom], None]


def run(store: str | None = None, port: int | None = None, browser: bool = True, fill: Fill | None = None,
        fill_now: bool = False) -> None:
    """Serve the worktable; returns when she has ended it, with everything saved.

    A second start for the same store opens the first one's page and returns.

    Args:
        store: address of the store, as for :meth:`toilewright.workroom.store.Workroom.open`.
        port: where; 0 for any free one, None for the usual one.
        browser: open her browser?
        fill: puts an example into a store that is empty, when she asks for it.
        fill_now: at once.

    Raises:
        InputError: the port is in use, or the store cannot be opened.
    """
    os.umask(0o077)  # what is written here is hers alone, in a folder that was there before us too
    place = place_of(store)
    shared = is_server(place)
    folder = Path(user_data_dir("toilewright", appauthor=False) if shared else place)
    lock = Lock(folder, place if shared else "")
    if not lock.take():
        _open_running(lock, browser)
        return
    with contextlib.closing(lock):
        listening = listen("127.0.0.1", PORT if port is None else port, else_any=port is None)
        with listening, Worktable(place, folder, listening.getsockname()[1], lock.knock, fill, fill_now) as worktable:
            lock.tell(worktable.port)
            _show(worktable.address(), browser)
            asyncio.run(worktable.serve(listening))


def _open_running(lock: Lock, browser: bool) -> None:
    found = lock.find()
    if found is None:
        raise InputError("The worktable is running already, but does not answer; end that program, or wait a little, "
                         "and start again.")
    _show(found, browser, "it was running already").join()


def _show(where: str, browser: bool,
          note: str = "Ctrl-C ends it; everything is saved at every change") -> threading.Thread:
    """Say the address, and open her browser beside the program; the key is said only where no browser can be opened."""
    def say(there: str) -> None:
        print(f"The worktable is at {there} ({note}).", flush=True)

    def open_it() -> None:
        if not webbrowser.open(where):
            say(where)

    say(where.partition("in?")[0] if browser else where)
    opening = threading.Thread(target=open_it if browser else str, name="browser", daemon=True)
    opening.start()
    return opening


class Worktable:
    """The site over one store; begins as a rescue page where the store is damaged."""

    def __init__(self, place: str, folder: Path, port: int, knock: str, fill: Fill | None = None,
                 fill_now: bool = False) -> None:
        """Open the store.

        Args:
            place: address of the store.
            folder: of this machine, for the store or its back-ups.
            port: where it is found.
            knock: see :class:`toilewright.app.running.Lock`.
            fill: puts an example into an empty store, when she asks for it.
            fill_now: at once.
        """
        self.port = port
        self.room: Workroom | None = None
        self._place, self._folder, self._knock = place, folder, knock
        self._fill, self._fill_now = fill, fill_now
        self._ended = threading.Event()
        self._inner: ASGIApp
        self.home = HomeDoor(self, port)
        try:
            self.open_store()
        except DamagedStore as problem:
            from toilewright.app.rescue import rescue_app

            sys.stderr.write(f"{problem}\n")
            self._put_up(rescue_app(problem, self), _InMemory())

    def open_store(self) -> None:
        """Put the site up over the store.

        Raises:
            DamagedStore: the store is damaged.
        """
        from toilewright.app.site import create_app

        room = Workroom.open(self._place)
        try:
            if self._fill and self._fill_now and not any(room.things(kind) for kind in Kind):
                self._fill(room)
            self._put_up(create_app(room, self._fill), room)
        except BaseException:
            room.close()
            raise
        self.room = room
        threading.Thread(target=self._keep_backups, name="back-ups", daemon=True).start()

    def _put_up(self, app: Starlette, settings: Settings) -> None:
        self.app = app
        self.doors = Doors(settings, platform.node() if is_server(self._place) else "")
        app.state.doors, app.state.home = self.doors, self.home
        app.add_exception_handler(Exception, _broken)
        self._inner = safe(app, lambda inner: Door(inner, self.doors, self._knock), self.hosts,
                           lambda path: LARGEST_IMPORT if path == IMPORT_PATH else 0)

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer a request."""
        await self._inner(scope, receive, send)

    def address(self) -> str:
        """Where a browser on this machine comes in, once."""
        return address(self.port, self.doors.new_key())

    def hosts(self) -> set[str]:
        """Under which names it may be asked for now."""
        own = {f"{name}:{self.port}" for name in ("127.0.0.1", "localhost")}
        return own | ({self.home.host} if self.home.is_open else set())

    async def serve(self, listening: socket.socket) -> None:
        """Serve until a signal ends it."""
        server = Server(self, listening)
        with _ending(asyncio.get_running_loop(), lambda: self._end(server)):
            await server.run_until_told()
        await self.home.close()

    def _end(self, server: Server) -> None:
        self._ended.set()
        if hasattr(self.app.state, "table"):
            self.app.state.table.work.close()
        server.close(at_once=server.should_exit)

    def _keep_backups(self) -> None:
        """Make the day's back-up of a store on a server as long as the program runs; one in a file sees to its own."""
        while not self._ended.wait(_BETWEEN_BACKUPS / 60):
            room = self.room
            try:
                if room is not None and room.folder is None and any(room.things(kind) for kind in Kind):
                    newest = next(iter(backups(self._folder)), None)
                    if newest is None or newest.made.date() < utc_now().date():
                        back_up(room, self._folder)
            except ToilewrightError as problem:
                sys.stderr.write(f"{problem}\n")
            if self._ended.wait(_BETWEEN_BACKUPS):
                return

    def __enter__(self) -> Worktable:
        return self

    def __exit__(self, *problem: object) -> None:
        self._ended.set()
        if self.room is not None:
            self.room.close()


class _InMemory:
    """Settings while there is no store."""

    def __init__(self) -> None:
        self._values: dict[str, str] = {}

    def setting(self, name: str, default: str = "") -> str:
        return self._values.get(name, default)

    def set_setting(self, name: str, value: str) -> None:
        self._values[name] = value


@contextlib.contextmanager
def _ending(loop: asyncio.AbstractEventLoop, end: Callable[[], None]) -> Iterator[None]:
    """Ctrl-C and the system's request to end are taken as such, and nothing is cut off in the middle."""
    before = {}
    for number in (signal.SIGINT, signal.SIGTERM, *([signal.SIGBREAK] if hasattr(signal, "SIGBREAK") else [])):
        before[number] = signal.signal(number, lambda *_: loop.call_soon_threadsafe(end))
    try:
        yield
    finally:
        for number, old in before.items():
            signal.signal(number, old)


async def _broken(request: Request, problem: Exception) -> Response:
    return sentence(request, problem)


__all__ = ["PORT", "Worktable", "complain", "run"]
