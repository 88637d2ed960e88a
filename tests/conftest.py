"""Property tests draw the same examples every time; TOILEWRIGHT_EXPLORE=1 lets them look for new ones."""

import os

import pytest
from hypothesis import HealthCheck, settings

settings.register_profile("same", derandomize=True, deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.register_profile("explore", deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("explore" if os.environ.get("TOILEWRIGHT_EXPLORE") else "same")


@pytest.fixture(scope="module")
def table(tmp_path_factory):
    """A folder with the bought pattern on one sheet, the tape sheet and the make file (guessed names)."""
    from toilewright import demo
    from toilewright.blocks.concert import concert_dress
    from toilewright.output.printed_pattern import print_pattern

    folder = tmp_path_factory.mktemp("table")
    print_pattern(concert_dress(), folder / demo.PATTERN, "sheet")
    (folder / demo.TAPE).write_text(demo.TAPE_SHEET, encoding="utf-8")
    (folder / demo.MAKE).write_text("\n".join(line for line in demo.MAKE_FILE.splitlines()
                                              if not line.startswith("labels")), encoding="utf-8")
    return folder
