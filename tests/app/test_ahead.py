"""What a change does to settled steps of every make that rests on it, and why a step wants another look."""

import datetime
from dataclasses import replace

import pytest
from app.asking import script

from toilewright.app.since import tape_told
from toilewright.app.site import create_app
from toilewright.app.steps import STEPS, settled_value
from toilewright.app.table import Table
from toilewright.demo import fill
from toilewright.make.keeping import pack_reading
from toilewright.workroom.documents import ClothDoc, Kind
from toilewright.workroom.recipes import reading_key
from toilewright.workroom.store import Workroom


class Days:
    """A clock that goes on by a day when told to."""

    now = datetime.datetime(2026, 11, 20, 12, tzinfo=datetime.UTC)

    def __call__(self):
        return self.now

    def on(self):
        self.now += datetime.timedelta(days=1)


@pytest.fixture(scope="module")
def days():
    return Days()


@pytest.fixture(scope="module")
def filled(tmp_path_factory, days):
    room = Workroom.open(tmp_path_factory.mktemp("room"), clock=days)
    fill(room)
    yield room
    room.close()


@pytest.fixture(scope="module")
def app(filled):
    return create_app(filled)


@pytest.fixture
def room(filled):
    """The demo, without what a test before has begun."""
    begun = filled.things(Kind.MAKE)
    yield filled
    for thing in filled.things(Kind.MAKE):
        if thing not in begun:
            filled.remove(thing.id)


def begin(room, *keys, title="another dress"):
    """A make as the demo's, on a body of its own, with some steps settled."""
    doc = room.things(Kind.MAKE)[-1].document
    body = room.add(Kind.BODY, room.get(doc.body).document, "measured")
    make = replace(doc, title=title, body=body.id, settled={})
    return settle(room, room.add(Kind.MAKE, make, "begun"), *keys)


def settle(room, make, *keys):
    doc = make.document
    body, pattern = room.get(doc.body).document, room.get(doc.pattern).document
    rows = [(("settled", key), settled_value(key, "2026-11-20", doc, body, pattern)) for key in keys]
    return room.change(make.id, make.revision, rows, "settled") if rows else make


@pytest.fixture
def ask(app):
    def asked(status=200, **more):
        answer = script(app).post("/ahead", json=more)
        assert answer.status_code == status, answer.text
        return answer.json().get("makes", answer.json())
    return asked


def number(room, make, name, value):
    """Rows that put another number on the tape sheet of a make."""
    return [[["sheets", room.get(make.document.body).document.sheets[-1].id, "measures", name], value]]


def test_a_number_tells_what_it_changes_only_where_a_later_step_is_settled(room, ask):
    make = begin(room, "measure")
    rows = number(room, make, "waist girth", {"length": "82", "unit": "cm"})
    assert ask(thing=make.document.body, set=rows) == []
    settle(room, make, "size", "walk")
    found = ask(thing=make.document.body, set=rows)
    assert [(f["id"], f["title"], f["steps"]) for f in found] == [(make.id, "another dress", ["Size, ease", "Walk"])]
    assert any("The size to cut is bust 5, waist 6, hip 5 instead of 5" in d["text"] for d in found[0]["differences"])
    # A number that nothing rests on is saved without a word.
    assert ask(thing=make.document.body, set=number(room, make, "wrist girth", 161.0)) == []


def test_every_make_on_a_sheet_is_told_of(room, ask):
    make = begin(room, "size")
    other = replace(make.document, title="a blouse", settled={})
    other = settle(room, room.add(Kind.MAKE, other, "begun"), "alter")
    found = ask(thing=make.document.body, set=number(room, make, "waist girth", 820.0))
    assert {f["id"] for f in found} == {make.id, other.id}
    old = room.get(make.document.body).document.sheets[-1]
    room.change(other.id, other.revision, [(("sheet",), "a sheet of hers")], "another sheet")
    body = room.get(make.document.body)
    room.change(body.id, body.revision, [(("sheets", "+"), {"id": "new", "date": "2026-11-25",
                                                            "measures": dict(old.measures)})], "measured anew")
    # What is on a sheet that a make does not go by changes nothing there.
    assert ask(thing=body.id, set=[[["sheets", old.id, "measures", "waist girth"], 820.0]]) == []


def test_a_number_that_is_taken_away_is_missed_further_on(room, ask):
    make = begin(room, "size")
    found = ask(thing=make.document.body, set=number(room, make, "bust girth", None))
    assert "The ease at the bust cannot be told any more." in [d["text"] for d in found[0]["differences"]]
    sheet = room.get(make.document.body).document.sheets[-1].id
    gone = ask(thing=make.document.body, set=[[["sheets", sheet, "measures"], {}]])
    assert gone[0]["stuck"] and "has no measures yet" in gone[0]["remark"]


def test_undo_redo_and_going_back_tell_before_they_are_done(room, ask):
    make = begin(room, "size", "alter")
    settled = make.revision
    assert ask(thing=make.id, way="undo") == []
    larger = room.change(make.id, make.revision, [(("size",), "6")], "size 6")
    undo = ask(thing=make.id, way="undo")
    assert undo[0]["steps"] == ["Alter"]
    assert undo[0]["differences"][0]["text"] == "The size to cut is 5 instead of 6."
    assert ask(thing=make.id, way="back", revision=settled) == undo
    assert ask(thing=make.id, way="since", revision=settled)[0]["differences"][0]["text"].endswith("6 instead of 5.")
    room.undo(make.id, larger.revision)
    redo = ask(thing=make.id, way="redo")
    assert redo[0]["differences"][0]["text"] == "The size to cut is 6 instead of 5."
    # Only asked: nothing was done.
    assert room.get(make.id).document.size == "auto"
    assert "nothing to redo" in ask(422, thing=make.document.body, way="redo")["error"]["text"]
    assert "no way to change" in ask(422, thing=make.id, way="forth")["error"]["text"]


def test_another_pattern_and_another_chart_tell(room, ask):
    make = begin(room, "size")
    pattern = room.get(make.document.pattern)
    unread = room.add(Kind.PATTERN, replace(pattern.document, labels={"name": "other names"}), "brought in")
    found = ask(thing=make.id, set=[[["pattern"], unread.id]])
    assert found[0]["stuck"] and "has not been read yet" in found[0]["remark"]
    reading = Table(room).reading(pattern.id)
    chart = reading.pattern.chart
    rows = tuple((n, tuple(860.0 if (n, s) == ("upper bust girth", "5") else v
                           for s, v in zip(chart.sizes, row, strict=True))) for n, row in chart.rows)
    other = replace(reading, pattern=replace(reading.pattern, chart=replace(chart, rows=rows)))
    room.keep(reading_key(unread.document), pack_reading(other))
    found = ask(thing=make.id, set=[[["pattern"], unread.id]])
    assert found[0]["differences"][0]["text"] == "The size to cut is 6 instead of 5."


def test_a_cloth_changes_no_make(room, ask):
    cloth = room.add(Kind.CLOTH, ClothDoc("lawn"), "bought")
    assert ask(thing=cloth.id, set=[[["note"], "thin"]]) == []


def why(room, make, step):
    table = Table(room)
    return next(m.why for m in tape_told(table, table.place(make.id, step)) if m.key == step)


def test_a_step_tells_which_part_was_changed_and_on_which_day(room, days):
    make = begin(room, *(s.key for s in STEPS))
    assert why(room, make, "walk") == ()
    days.on()
    make = room.change(make.id, make.revision, [(("size",), "6")], "size 6")
    size = f"{days.now:%Y-%m-%d}"
    days.on()
    body = room.get(make.document.body)
    room.change(body.id, body.revision, [(("sheets", body.document.sheets[-1].id, "measures", "waist girth"), 820.0)],
                "measured")
    number = f"{days.now:%Y-%m-%d}"
    days.on()
    room.change(make.id, make.revision, [(("note",), "thin thread")], "noted")
    told = why(room, make, "walk")
    assert len(told) == 2
    assert "tape sheet" in told[0] and number in told[0]
    assert told[1].startswith(f"The size or the ease was changed on {size}; you settled this on 2026-11-20")
    assert why(room, make, "pattern") == ()
