"""What goes in comes out, every revision of it, on both kinds of database."""

import threading

import pytest

from toilewright.errors import InputError, NameUnknown
from toilewright.workroom.changes import ConflictError
from toilewright.workroom.documents import (
    BodyDoc,
    ClothDoc,
    DiaryRow,
    FileRef,
    Kind,
    MakeDoc,
    PatternDoc,
    Picture,
    TapeSheet,
    WishRow,
)

ALTO = BodyDoc("the alto", sheets=(TapeSheet("s1", "2026-11-20", {"bust girth": 955.0}, waist_place="natural"),),
               alterations=(WishRow("a1", "high round back"),
                            WishRow("a2", "forward shoulder", 12.5, {"side": "left"})))


def test_every_kind_comes_back_as_it_was(room, new_address, open_room):
    ref = room.add_file(b"%PDF-1.7 a dress", "dress.pdf", "application/pdf")
    documents = {
        Kind.BODY: ALTO,
        Kind.PATTERN: PatternDoc("Concert dress", ref, {"name": "x", "pieces": [{"edges": [1.5, None, "hem"]}]}, True),
        Kind.CLOTH: ClothDoc("black crêpe", "viscose", 1400.0, None, 180.0, pictures=(Picture("p1", ref, "a roll"),)),
        Kind.MAKE: MakeDoc("Dress", "b", pattern="p", cloths=("c", "d"), sizes={"bust": "5"}, ease={"hip": 40.0},
                           diary=(DiaryRow("d1", "2026-11-21", "worn", "„schön“ 𝄞\nand again"),)),
    }
    ids = {kind: room.add(kind, document, "first").id for kind, document in documents.items()}
    for kind, document in documents.items():
        thing = room.get(ids[kind])
        assert (thing.kind, thing.revision, thing.document, thing.undo, thing.redo) == (kind, 1, document, None, None)
        assert [t.id for t in room.things(kind)] == [ids[kind]]
    assert room.file(ref.sha) == b"%PDF-1.7 a dress"


def test_a_store_opened_again_holds_the_same(new_address, open_room):
    address = new_address()
    first = open_room(address)
    thing = first.add(Kind.BODY, ALTO, "measured")
    thing = first.change(thing.id, 1, [(("note",), "stands straight")], "a note", by="phone")
    first.set_setting("paper", "a4")
    first.keep("reading", b"\0\1")
    first.close()
    again = open_room(address)
    assert again.get(thing.id) == thing
    assert again.history(thing.id)[0].by == "phone"
    assert (again.setting("paper"), again.kept("reading")) == ("a4", b"\0\1")


def test_things_come_last_changed_first(room):
    a, b, c = (room.add(Kind.CLOTH, ClothDoc(name), "new").id for name in "abc")
    room.change(a, 1, [(("drape",), "crisp")], "drape")
    assert [t.id for t in room.things(Kind.CLOTH)] == [a, c, b]


def test_a_removed_thing_is_off_the_list_but_still_there(room):
    body = room.add(Kind.BODY, ALTO, "new")
    gone = room.remove(body.id)
    assert room.things(Kind.BODY) == () and [t.id for t in room.things(Kind.BODY, removed=True)] == [body.id]
    assert gone.removed and room.get(body.id, kind=Kind.BODY).document == ALTO
    with pytest.raises(InputError, match="bring it back first"):
        room.change(body.id, gone.revision, [(("note",), "x")], "note")
    back = room.bring_back(body.id)
    assert not back.removed and [t.id for t in room.things(Kind.BODY)] == [body.id]
    assert room.bring_back(body.id) == back
    assert [r.way for r in room.history(body.id)] == ["bring back", "remove", "add"]


def test_removing_does_not_break_the_undo_chain(room):
    body = room.add(Kind.BODY, ALTO, "new")
    room.change(body.id, 1, [(("note",), "x")], "a note")
    room.remove(body.id)
    back = room.bring_back(body.id)
    assert back.undo == "a note"
    assert room.undo(body.id, back.revision).document == ALTO


def test_undo_undo_redo_and_a_new_change_clears_redo(room):
    thing = room.add(Kind.CLOTH, ClothDoc("crêpe"), "new")
    for n in "123":
        thing = room.change(thing.id, thing.revision, [(("note",), n)], f"note {n}")
    assert (thing.undo, thing.redo) == ("note 3", None)
    thing = room.undo(thing.id, thing.revision)
    assert (thing.document.note, thing.undo, thing.redo) == ("2", "note 2", "note 3")
    thing = room.undo(thing.id, thing.revision)
    assert (thing.document.note, thing.undo, thing.redo) == ("1", "note 1", "note 2")
    thing = room.redo(thing.id, thing.revision)
    assert (thing.document.note, thing.undo, thing.redo) == ("2", "note 2", "note 3")
    thing = room.change(thing.id, thing.revision, [(("note",), "4")], "note 4")
    assert (thing.undo, thing.redo) == ("note 4", None)
    thing = room.undo(thing.id, thing.revision)
    assert thing.document.note == "2"
    with pytest.raises(InputError, match="nothing to redo"):
        room.redo(thing.id, room.redo(thing.id, thing.revision).revision)
    assert [r.way for r in room.history(thing.id)] == [
        "redo", "undo", "change", "redo", "undo", "undo", "change", "change", "change", "add"]


def test_nothing_to_undo_is_said(room):
    thing = room.add(Kind.CLOTH, ClothDoc("crêpe"), "new")
    with pytest.raises(InputError, match="nothing to undo"):
        room.undo(thing.id, 1)


def test_going_back_is_a_change_that_can_be_undone(room):
    thing = room.add(Kind.CLOTH, ClothDoc("crêpe"), "new")
    for n in "12":
        thing = room.change(thing.id, thing.revision, [(("note",), n)], f"note {n}")
    thing = room.go_back(thing.id, 3, 1)
    assert (thing.document.note, thing.revision) == ("", 4)
    assert room.undo(thing.id, 4).document.note == "2"
    assert [room.get(thing.id, n).document.note for n in (1, 2, 3)] == ["", "1", "2"]


def test_old_revisions_are_never_changed(room):
    thing = room.add(Kind.BODY, ALTO, "new")
    seen = []
    for n in range(5):
        change = (("sheets", "s1", "measures", "bust girth"), 950 + n)
        thing = room.change(thing.id, thing.revision, [change], f"bust {n}")
        seen.append((thing.revision, thing.document))
        if n == 2:
            thing = room.undo(thing.id, thing.revision)
    for number, document in seen:
        assert room.get(thing.id, number).document == document


def test_a_change_that_changes_nothing_makes_no_revision(room):
    thing = room.add(Kind.BODY, ALTO, "new")
    assert room.change(thing.id, 1, [(("name",), "the alto")], "name") == thing


def test_unknown_things_are_named_in_a_sentence(room):
    thing = room.add(Kind.BODY, ALTO, "new")
    for ask in (lambda: room.get("nowhere"), lambda: room.get(thing.id, kind=Kind.MAKE), lambda: room.get(thing.id, 7),
                lambda: room.history("nowhere"), lambda: room.change("nowhere", 1, [], "x"),
                lambda: room.file("0" * 64), lambda: room.remove("nowhere"),
                lambda: room.change(thing.id, 9, [(("note",), "x")], "x")):
        with pytest.raises(NameUnknown):
            ask()


# -- two at once --------------------------------------------------------------------------------------


def test_two_who_change_different_entries_both_are_saved(room):
    thing = room.add(Kind.BODY, ALTO, "new")
    room.change(thing.id, 1, [(("sheets", "s1", "measures", "bust girth"), 960.0)], "bust", by="laptop")
    both = room.change(thing.id, 1, [(("sheets", "s1", "measures", "waist girth"), 780.0)], "waist", by="phone")
    assert both.document.sheets[0].measures == {"bust girth": 960.0, "waist girth": 780.0}


def test_two_who_change_one_entry_do_not_overwrite_each_other(room):
    thing = room.add(Kind.BODY, ALTO, "new")
    path = ("sheets", "s1", "measures", "bust girth")
    first = room.change(thing.id, 1, [(path, 960.0)], "bust")
    with pytest.raises(ConflictError) as said:
        room.change(thing.id, 1, [(("note",), "x"), (path, 940.0)], "bust")
    assert (said.value.path, said.value.mine, said.value.theirs, said.value.thing) == (path, 940.0, 960.0, first)
    assert room.get(thing.id) == first
    taken = room.change(thing.id, first.revision, [(path, 940.0)], "bust, after looking")
    assert taken.document.sheets[0].measures["bust girth"] == 940.0


def test_the_same_value_twice_is_no_conflict(room):
    thing = room.add(Kind.BODY, ALTO, "new")
    first = room.change(thing.id, 1, [(("note",), "x")], "note")
    assert room.change(thing.id, 1, [(("note",), "x")], "note") == first


def test_a_row_changed_here_and_removed_there_is_a_conflict(room):
    thing = room.add(Kind.BODY, ALTO, "new")
    room.change(thing.id, 1, [(("alterations", "a2"), None)], "removed")
    with pytest.raises(ConflictError) as said:
        room.change(thing.id, 1, [(("alterations", "a2", "amount"), 10.0)], "amount")
    assert said.value.theirs is None
    assert room.change(thing.id, 1, [(("alterations", "a2"), None)], "removed").revision == 2


def test_two_who_append_both_rows_are_there(room):
    thing = room.add(Kind.BODY, ALTO, "new")
    for name in ("sway back", "full bust"):
        thing = room.change(thing.id, 1, [(("alterations", "+"), {"name": name})], name)
    rows = thing.document.alterations
    assert [r.name for r in rows] == ["high round back", "forward shoulder", "sway back", "full bust"]
    assert len({r.id for r in rows}) == 4 and all(r.id for r in rows)


@pytest.mark.parametrize("step", ["undo", "redo", "go_back"])
def test_undoing_what_somebody_else_has_changed_since_is_a_conflict(room, step):
    thing = room.add(Kind.BODY, ALTO, "new")
    room.change(thing.id, 1, [(("note",), "x")], "note")
    thing = room.undo(thing.id, 2)
    thing = room.redo(thing.id, 3)
    with pytest.raises(ConflictError) as said:
        getattr(room, step)(thing.id, 2, *((1,) if step == "go_back" else ()))
    assert said.value.thing == thing


def test_many_threads_lose_nothing(new_address, open_room):
    address = new_address()
    rooms = [open_room(address), open_room(address)]
    thing = rooms[0].add(Kind.BODY, ALTO, "new")
    problems = []

    def work(number):
        try:
            room = rooms[number % 2]
            for n in range(8):
                room.change(thing.id, 1, [(("alterations", "+"), {"id": f"{number}-{n}", "name": "sway back"})], "row")
                count(room, number)
        except Exception as problem:
            problems.append(problem)

    def count(room, number):
        while True:
            now = room.get(thing.id)
            try:
                room.change(thing.id, now.revision, [(("note",), f"{number}: {counted(now) + 1}")], "count")
                return
            except ConflictError:
                continue

    def counted(thing):
        return int(thing.document.note.rpartition(" ")[2] or 0)

    threads = [threading.Thread(target=work, args=(n,)) for n in range(6)]
    for t in threads:
        t.start()
    for t in threads:
        t.join()
    end = rooms[1].get(thing.id)
    assert problems == []
    assert counted(end) == 48 and len(end.document.alterations) == 2 + 48 and end.revision == 1 + 96


# -- what cannot be kept ------------------------------------------------------------------------------


@pytest.mark.parametrize(("changes", "said"), [
    ([(("name",), 3)], '"name": expected "str", got "int"'),
    ([(("name",), None)], "missing"),
    ([(("sheets", "s1", "measures", "bust girth"), "wide")], '"sheets, 1, measures": expected "float"'),
    ([(("sheets", "s1", "measures", "bust girth"), float("nan"))], "no length"),
    ([(("sheets", "s1", "measures", "bust girth"), 1e300)], "no length"),
    ([(("titel",), "x")], 'no entry "titel"'),
    ([(("alterations", "+"), {"name": "x", "amuont": 3})], 'no entry "alterations, 3, amuont"'),
    ([(("alterations", "nowhere", "amount"), 3)], "no entry"),
    ([(("alterations", "nowhere"), {"id": "nowhere", "name": "x"})], "not there any more"),
    ([(("alterations", "+"), {"id": "a1", "name": "x"})], "two rows of the same id"),
    ([(("name", "first"), "x")], "no entry"),
    ([(("name", "+"), "x")], "no entry"),
    ([((), {"name": "x"})], "does not say which entry"),
    ([(("note",), "x" * 20_001)], "20001 letters"),
    ([(("note",), "bell \a")], "invisible sign"),
    ([(("note",), "\x00")], "invisible sign"),
    ([(("note",), "\ud800")], "cannot be saved"),
    ([(("sheets", "s1", "measures", "x" * 300), 3.0)], "too long"),
    ([(("sheets", "s1", "measures", "bad \a"), 3.0)], "invisible sign"),
    ([(("posture",), ["x"] * 5001)], "5001 rows"),
])
def test_a_wrong_value_is_one_sentence_and_saves_nothing(room, changes, said):
    thing = room.add(Kind.BODY, ALTO, "new")
    with pytest.raises(InputError) as problem:
        room.change(thing.id, 1, [(("unit",), "in"), *changes], "wrong")
    assert said in str(problem.value) and len(str(problem.value)) < 400
    assert room.get(thing.id) == thing


def test_a_document_that_is_added_is_checked_too(room):
    with pytest.raises(InputError, match="invisible sign"):
        room.add(Kind.CLOTH, ClothDoc("crêpe\a"), "new")
    with pytest.raises(InputError, match="not in the store"):
        room.add(Kind.PATTERN, PatternDoc("dress", FileRef("0" * 64, "dress.pdf", "application/pdf", 7)), "new")
    assert room.things(Kind.CLOTH) == room.things(Kind.PATTERN) == ()


def test_words_of_a_change_are_checked(room):
    thing = room.add(Kind.BODY, ALTO, "new")
    with pytest.raises(InputError):
        room.change(thing.id, 1, [(("note",), "x")], "bell \0")
    assert room.get(thing.id) == thing


# -- files and what was computed ----------------------------------------------------------------------


def test_the_same_bytes_are_kept_once(room):
    a = room.add_file(b"bytes", "a.pdf", "application/pdf")
    b = room.add_file(b"bytes", "b.pdf", "application/pdf")
    assert a.sha == b.sha and (a.name, b.name) == ("a.pdf", "b.pdf")
    assert room.file(a.sha) == b"bytes"


def test_computed_things_make_room_for_new_ones(room, monkeypatch):
    monkeypatch.setattr("toilewright.workroom.store.ROOM_FOR_KEPT", 10)
    for key in "abc":
        room.keep(key, key.encode() * 4)
    assert [room.kept(key) for key in "abc"] == [None, b"bbbb", b"cccc"]
    room.keep("huge", b"x" * 20)
    assert room.kept("huge") == b"x" * 20 and room.kept("c") is None
    room.keep("huge", b"y")
    assert room.kept("huge") == b"y"


def test_settings(room):
    assert room.setting("theme", "light") == "light"
    room.set_setting("theme", "dark")
    room.set_setting("theme", "")
    assert room.setting("theme", "light") == ""
