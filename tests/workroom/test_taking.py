"""Written sheets taken in: what is there already is not taken twice."""

import pytest

from toilewright import demo
from toilewright.workroom.taking import take_tape


@pytest.fixture
def room(tmp_path, open_room):
    return open_room(tmp_path / "room")


@pytest.fixture
def written(tmp_path):
    def write(text):
        path = tmp_path / "tape.toml"
        path.write_text(text, encoding="utf-8")
        return path

    return write


UNDATED = demo.TAPE_SHEET.replace('date = "2026-11-20"\n', "")


@pytest.mark.parametrize("text", [demo.TAPE_SHEET, UNDATED], ids=["dated", "undated"])
def test_the_same_sheet_is_known_again_after_a_note_an_answer_and_some_days(room, written, clock, text):
    body = take_tape(room, written(text))
    sheet = body.document.sheets[0].id
    now = room.change(body.id, 1, [(("sheets", sheet, "note"), "after the holidays"),
                                   (("sheets", sheet, "sure", "odd upper arm girth"), "2026-11-20")], "looked at")
    clock.turn(days=3)
    assert take_tape(room, written(text)) == now


def test_another_number_or_another_day_is_another_sheet(room, written):
    take_tape(room, written(demo.TAPE_SHEET))
    take_tape(room, written(demo.TAPE_SHEET.replace("hip = 102", "hip = 103")))
    body = take_tape(room, written(demo.TAPE_SHEET.replace("2026-11-20", "2026-11-27")))
    assert [(s.date, s.measures["hip girth"]) for s in body.document.sheets] == [
        ("2026-11-20", 1020.0), ("2026-11-20", 1030.0), ("2026-11-27", 1020.0)]
