import os

import pytest
from bad_input.shells import Shell


@pytest.fixture(scope="session")
def shell(tmp_path_factory):
    if not hasattr(os, "fork"):
        pytest.skip("limits of time and memory need a system with fork")
    made = Shell(tmp_path_factory.mktemp("said"))
    yield made
    made.close()
