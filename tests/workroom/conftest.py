"""Stores on both kinds of database, and a clock that the tests turn."""

import datetime
import os

import pytest
from workroom.server import Server, binaries

from toilewright.workroom.store import Workroom


class Clock:
    """Goes on by a second at every look; the tests turn it further."""

    def __init__(self):
        self.time = datetime.datetime(2026, 11, 20, 8, 0, tzinfo=datetime.UTC)

    def __call__(self):
        self.time += datetime.timedelta(seconds=1)
        return self.time

    def turn(self, **more):
        self.time += datetime.timedelta(**more)


@pytest.fixture
def clock():
    return Clock()


@pytest.fixture(scope="session")
def postgres():
    """A real server; the tests on it may be left out by TOILEWRIGHT_NO_POSTGRES=1 where there is none."""
    found = binaries()
    if found is None:
        if os.environ.get("TOILEWRIGHT_NO_POSTGRES"):
            pytest.skip("no PostgreSQL here")
        pytest.fail("These tests need a PostgreSQL server: install Debian's package postgresql, or set "
                    "TOILEWRIGHT_NO_POSTGRES=1 to leave them out.")
    server = Server(found)
    yield server
    server.stop()


@pytest.fixture(params=["sqlite", "postgresql"])
def new_address(request, tmp_path):
    """Gives addresses of new, empty stores."""
    if request.param == "postgresql":
        return request.getfixturevalue("postgres").new_database
    numbers = iter(range(100))
    return lambda: str(tmp_path / f"room-{next(numbers)}")


@pytest.fixture
def open_room(clock):
    """Opens stores that are closed at the end of the test."""
    opened = []

    def open_one(address, **more):
        room = Workroom.open(address, **({"clock": clock} | more))
        opened.append(room)
        return room

    yield open_one
    for room in opened:
        room.close()


@pytest.fixture
def room(new_address, open_room):
    return open_room(new_address())


@pytest.fixture
def folder(tmp_path):
    return tmp_path / "home"


@pytest.fixture
def on_disk(folder, open_room):
    return open_room(folder)
