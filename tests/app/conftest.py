"""The choir's demo in a store of its own, for a file of tests."""

import pytest

from toilewright.demo import fill
from toilewright.workroom.store import Workroom


@pytest.fixture(scope="module")
def choir(tmp_path_factory):
    room = Workroom.open(tmp_path_factory.mktemp("choir"))
    fill(room)
    yield room
    room.close()
