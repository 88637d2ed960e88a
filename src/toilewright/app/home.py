"""The second door, to the home network: closed until she opens it, and closed again with everything that came by it."""

from __future__ import annotations

import asyncio
import contextlib
import ipaddress
import socket
from collections.abc import Callable, Iterator

import uvicorn
from starlette.types import ASGIApp

from toilewright.app.words import say
from toilewright.errors import InputError


class Server(uvicorn.Server):
    """Serves one socket; signals are the business of whoever runs it."""

    def __init__(self, app: ASGIApp, listening: socket.socket) -> None:
        """For an app; nothing about requests is logged, and nothing tells of the server."""
        super().__init__(uvicorn.Config(
            app, http="h11", ws="none", lifespan="off", log_config=None, access_log=False, server_header=False,
            date_header=False, proxy_headers=False, timeout_graceful_shutdown=3, limit_concurrency=200))
        self.listening = listening

    @contextlib.contextmanager
    def capture_signals(self) -> Iterator[None]:
        """None are taken."""
        yield

    async def run_until_told(self) -> None:
        """Serve until :meth:`close`."""
        await self.serve(sockets=[self.listening])

    def close(self, at_once: bool = False) -> None:
        """Listen no more; at once: cut off everybody who is connected."""
        self.should_exit = True
        for listener in getattr(self, "servers", ()):
            listener.close()
        if at_once:
            self.force_exit = True
            for connection in tuple(self.server_state.connections):
                transport = getattr(connection, "transport", None)
                if transport is not None:
                    transport.abort()


class HomeDoor:
    """Opens the program to the home network, and closes it.

    Attributes:
        host: address and port there, while it is open.
        code: the key of the next device that comes in.

    Args:
        app: what is served there.
        port: the usual one there; another is taken where that is in use.
        address_of: finds this machine's address in the home network.
    """

    def __init__(self, app: ASGIApp, port: int, address_of: Callable[[], str] = lambda: home_address()) -> None:
        """Closed."""
        self.app, self.port, self._address_of = app, port, address_of
        self._server: Server | None = None
        self._task: asyncio.Task[None] | None = None
        self.host, self.code = "", ""

    @property
    def is_open(self) -> bool:
        """May other devices come in?"""
        return self._server is not None

    async def open(self) -> None:
        """Listen on this machine's address in the home network.

        Raises:
            InputError: it is in none.
        """
        if self.is_open:
            return
        address = self._address_of()
        listening = listen(address, self.port, else_any=True)
        self._server = Server(self.app, listening)
        self.host = f"{address}:{listening.getsockname()[1]}"
        self._task = asyncio.ensure_future(self._server.run_until_told())
        while not self._server.started and not self._task.done():
            await asyncio.sleep(0.01)

    async def close(self) -> None:
        """Listen no more, and cut off everybody who came by this door."""
        server, task = self._server, self._task
        self._server, self._task, self.host, self.code = None, None, "", ""
        if server is not None and task is not None:
            server.close(at_once=True)
            await asyncio.shield(task)


def listen(address: str, port: int, else_any: bool = False) -> socket.socket:
    """A socket that listens on a port of one address.

    Args:
        port: 0 for any that is free.
        else_any: take any that is free where that port is in use.

    Raises:
        InputError: the port is in use, or may not be used.
    """
    # Asyncio sends at once only where the protocol is named; else the second part of every answer waits for 40 ms.
    listening = socket.socket(socket.AF_INET, socket.SOCK_STREAM, socket.IPPROTO_TCP)
    if hasattr(socket, "SO_EXCLUSIVEADDRUSE"):  # on Windows another program could take the port over
        listening.setsockopt(socket.SOL_SOCKET, socket.SO_EXCLUSIVEADDRUSE, 1)
    else:
        listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        try:
            listening.bind((address, port))
        except OSError:
            if not else_any:
                raise
            listening.bind((address, 0))
        listening.listen(128)
    except (OSError, OverflowError) as problem:
        listening.close()
        why = getattr(problem, "strerror", None) or problem
        raise InputError(f"The worktable cannot be reached under port {port} ({why}); leave --port out, or name "
                         "another from 1024 to 65535.") from None
    return listening


def home_address() -> str:
    """This machine's address in the home network; nothing is sent to find it out.

    Raises:
        InputError: it is in none.
    """
    address = "127.0.0.1"
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe, contextlib.suppress(OSError):
        probe.connect(("192.0.2.1", 9))  # an address that nobody has; only the way to it is looked up
        address = probe.getsockname()[0]
    found = ipaddress.ip_address(address)
    if found.is_loopback or found.is_unspecified or not found.is_private:
        raise InputError(say("devices.no_network"))
    return address
