"""One make or everything, out as one file and in again."""

import hashlib
import io
import json
import zipfile

import pytest

from toilewright.errors import FileError, NameUnknown, ToilewrightError
from toilewright.workroom.documents import BodyDoc, ClothDoc, Kind, MakeDoc, PatternDoc, TapeSheet
from toilewright.workroom.packing import How, export_all, export_make, import_file
from toilewright.workroom.revisions import ids_of_all, records_of


@pytest.fixture
def choir(room):
    """A store with one make and all it needs, something it does not need, and some history."""
    ref = room.add_file(b"%PDF the dress", "dress.pdf", "application/pdf")
    old = room.add_file(b"%PDF the first try", "try.pdf", "application/pdf")
    alto = BodyDoc("the alto", sheets=(TapeSheet("s1", "2026-11-20", {"bust girth": 955.0}),))
    body = room.add(Kind.BODY, alto, "new")
    body = room.change(body.id, 1, [(("note",), "stands straight")], "a note", by="phone")
    body = room.undo(body.id, 2)
    pattern = room.add(Kind.PATTERN, PatternDoc("Concert dress", old), "new")
    pattern = room.change(pattern.id, 1, [(("file",), {"sha": ref.sha, "name": ref.name, "kind": ref.kind,
                                                       "size": ref.size})], "the right file")
    cloth = room.add(Kind.CLOTH, ClothDoc("crêpe"), "new")
    room.remove(cloth.id)
    make = room.add(Kind.MAKE, MakeDoc("Dress", body.id, "s1", pattern.id, (cloth.id,)), "new")
    room.add(Kind.BODY, BodyDoc("the soprano"), "new")
    return {"room": room, "body": body.id, "pattern": pattern.id, "cloth": cloth.id, "make": make.id,
            "files": {ref.sha: b"%PDF the dress", old.sha: b"%PDF the first try"}}


@pytest.fixture
def other(new_address, open_room):
    return open_room(new_address())


def whole(room):
    with room.database.reading() as connection:
        return {thing_id: records_of(connection, thing_id) for thing_id in ids_of_all(connection)}


def hows(report):
    return [one.how for one in report.things]


def test_everything_comes_over_with_its_history(choir, other):
    room = choir["room"]
    room.set_setting("key of a device", "secret")
    data = export_all(room)
    assert set(hows(import_file(other, data))) == {How.NEW}
    assert whole(other) == whole(room)
    for thing_id in whole(room):
        assert other.get(thing_id) == room.get(thing_id)
        assert other.history(thing_id) == room.history(thing_id)
    assert all(other.file(sha) == data for sha, data in choir["files"].items())
    assert other.setting("key of a device") == "" and b"secret" not in data
    assert other.redo(choir["body"], 3).document.note == "stands straight"


def test_one_make_comes_over_with_all_it_needs_and_nothing_else(choir, other):
    import_file(other, export_make(choir["room"], choir["make"]))
    assert set(whole(other)) == {choir[what] for what in ("body", "pattern", "cloth", "make")}
    assert other.get(choir["cloth"]).removed
    with pytest.raises(NameUnknown):
        export_make(choir["room"], choir["body"])


def test_the_same_file_twice_brings_nothing_twice(choir, other):
    data = export_all(choir["room"])
    import_file(other, data)
    before = whole(other)
    report = import_file(other, data)
    assert set(hows(report)) == {How.SAME} and whole(other) == before
    assert 'Here already: "the alto"' in report.text or '"the alto"' in report.text
    assert set(hows(import_file(choir["room"], data))) == {How.SAME}


def test_what_went_on_there_goes_on_here_and_an_older_file_changes_nothing(choir, other):
    room, body = choir["room"], choir["body"]
    older = export_all(room)
    import_file(other, older)
    thing = other.change(body, 3, [(("posture",), ["low shoulder"])], "posture")
    report = import_file(room, export_all(other))
    assert [one.id for one in report.things if one.how is How.NEWER] == [body] and room.get(body) == thing
    assert hows(import_file(room, older)) == [How.SAME] * len(whole(room))
    assert room.get(body) == thing


def test_what_was_changed_in_both_places_is_kept_twice(choir, other):
    room, body, make = choir["room"], choir["body"], choir["make"]
    import_file(other, export_all(room))
    room.change(body, 3, [(("note",), "here")], "here")
    other.change(body, 3, [(("note",), "there")], "there")
    other.change(make, 1, [(("note",), "there")], "there")
    mine, data = room.get(body), export_make(other, make)
    report = import_file(room, data)
    copies = {one.kind: one for one in report.things if one.how is How.COPY}
    assert room.get(body) == mine
    copy = room.get(copies[Kind.BODY].id)
    assert (copy.document.note, copy.document.name) == ("there", "the alto (brought in)")
    assert [r.words for r in room.history(copy.id)][1:] == [r.words for r in other.history(body)]
    # The make that came with it goes on with the body that came with it.
    copied = room.get(copies[Kind.MAKE].id).document
    assert (copied.body, copied.pattern, room.get(make).document.body) == (copy.id, choir["pattern"], body)
    assert "the alto (brought in)" in report.text
    before = whole(room)
    assert set(hows(import_file(room, data))) == {How.SAME} and whole(room) == before


def test_a_thing_of_another_kind_under_the_same_id_is_kept_beside_it(choir, other):
    room, body = choir["room"], choir["body"]
    entries = unpacked(export_make(room, choir["make"]))
    cloth = json.loads(entries.pop(f"things/{choir['cloth']}.json"))
    entries[f"things/{body}.json"] = json.dumps(cloth | {"id": body}).encode()
    del entries[f"things/{choir['make']}.json"]
    before = room.get(body)
    assert How.COPY in hows(import_file(room, packed(entries)))
    assert room.get(body) == before


# -- files that are not to be believed ----------------------------------------------------------------


def unpacked(data):
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        return {name: archive.read(name) for name in archive.namelist()}


def packed(entries, more=(), **manifest):
    """A file with its list of contents made to fit what is in it."""
    listed = [{"name": name, "sha256": hashlib.sha256(data).hexdigest(), "size": len(data)}
              for name, data in entries.items() if name != "manifest.json"]
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in entries.items():
            if name != "manifest.json":
                archive.writestr(name, data)
        head = json.loads(entries["manifest.json"]) if "manifest.json" in entries else {}
        archive.writestr("manifest.json", json.dumps(head | {"entries": listed} | manifest))
        for name, data in more:
            archive.writestr(name, data)
    return out.getvalue()


def thing_changed(**changes):
    def change(entries, choir):
        name = f"things/{choir['body']}.json"
        thing = json.loads(entries[name])
        thing["revisions"][-1] |= changes
        return packed(entries | {name: json.dumps(thing).encode()})
    return change


def document_changed(**changes):
    def change(entries, choir):
        name = f"things/{choir['make']}.json"
        thing = json.loads(entries[name])
        thing["revisions"][-1]["document"] |= changes
        return packed(entries | {name: json.dumps(thing).encode()})
    return change


def swapped(entries, choir):
    a, b = (f"files/{sha}" for sha in choir["files"])
    return packed(entries | {a: entries[b], b: entries[a]})


def without_file(entries, choir):
    return packed({n: d for n, d in entries.items() if not n.startswith("files/")})


HOSTILE = {
    "nothing": lambda e, c: b"",
    "no zip": lambda e, c: b"%PDF-1.7 a pattern, not a workroom" * 100,
    "cut off": lambda e, c: packed(e)[:-40],
    "half": lambda e, c: packed(e)[:len(packed(e)) // 2],
    "no manifest": lambda e, c: zipped({n: d for n, d in e.items() if n != "manifest.json"}),
    "of another program": lambda e, c: packed(e, program="something else"),
    "of a newer program": lambda e, c: packed(e, format=99),
    "manifest of another shape": lambda e, c: zipped(e | {"manifest.json": b"[1, 2]"}),
    "manifest that is no text": lambda e, c: zipped(e | {"manifest.json": b"\xff\xfe{"}),
    "nested without end": lambda e, c: zipped(e | {"manifest.json": b"[" * 200_000}),
    "a name that climbs": lambda e, c: packed(e | {"things/../../evil.json": b"{}"}),
    "an absolute name": lambda e, c: packed(e | {"/etc/cron.d/evil": b"x"}),
    "an unlisted entry": lambda e, c: packed(e, more=[("things/extra.json", b"{}")]),
    "an entry that is listed and not there": lambda e, c: wrong_list(e, name="things/another.json"),
    "another size than said": lambda e, c: wrong_list(e, size=1),
    "another digest than said": lambda e, c: wrong_list(e, sha256="0" * 64),
    "files that changed places": swapped,
    "a file that is missing": without_file,
    "a thing under another name": lambda e, c: packed(
        {(n.replace(c["body"], "someoneelse")): d for n, d in e.items()}),
    "too much unpacked": lambda e, c: packed(e | {"files/" + "0" * 64: bytes(210_000_000)}),
    "a wrong value": document_changed(title=7),
    "an unknown entry": document_changed(colour="black"),
    "an invisible sign": document_changed(note="bell \a"),
    "a number that is none": document_changed(ease={"bust": 1e300}),
    "a gap in the history": thing_changed(number=9),
    "a state that never was": thing_changed(state=7),
    "a tip that never was": thing_changed(tip=3),
    "words that are none": thing_changed(words="\x00"),
    "a day that is none": thing_changed(at="yesterday"),
    "a day without a zone": thing_changed(at="2026-11-20T08:00:00"),
    "an unknown way": thing_changed(way="magic"),
    "a document that was not there": thing_changed(document={"name": "somebody else"}),
    "something more in a revision": thing_changed(colour="black"),
}


def zipped(entries):
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as archive:
        for name, data in entries.items():
            archive.writestr(name, data)
    return out.getvalue()


def wrong_list(entries, **wrong):
    head = json.loads(entries["manifest.json"])
    head["entries"][0] |= wrong
    return zipped(entries | {"manifest.json": json.dumps(head).encode()})


@pytest.fixture(scope="module")
def master():
    return {}


@pytest.mark.parametrize("how", HOSTILE)
def test_a_file_that_is_not_right_is_refused_in_one_sentence(how, folder, open_room, master):
    other, choir = open_room(folder), made_once(master, folder, open_room)
    data = HOSTILE[how](unpacked(choir["data"]), choir)
    with pytest.raises(FileError) as said:
        import_file(other, data)
    assert len(str(said.value)) < 500 and str(said.value).startswith("That file cannot be taken in")
    assert whole(other) == {}
    import_file(other, choir["data"])
    before = whole(other)
    if how != "a file that is missing":  # it is there by now
        with pytest.raises(FileError):
            import_file(other, data)
    assert whole(other) == before


def made_once(master, folder, open_room):
    if not master:
        room = open_room(folder.parent / "master")
        ref = room.add_file(b"%PDF the dress", "dress.pdf", "application/pdf")
        old = room.add_file(b"%PDF the first try", "try.pdf", "application/pdf")
        body = room.add(Kind.BODY, BodyDoc("the alto"), "new")
        room.change(body.id, 1, [(("note",), "x")], "note")
        room.undo(body.id, 2)
        pattern = room.add(Kind.PATTERN, PatternDoc("Concert dress", old), "new")
        room.change(pattern.id, 1, [(("file",), {"sha": ref.sha, "name": "d", "kind": "k", "size": ref.size})], "file")
        make = room.add(Kind.MAKE, MakeDoc("Dress", body.id, "", pattern.id), "new")
        master |= {"data": export_all(room), "body": body.id, "make": make.id, "files": [ref.sha, old.sha]}
    return master


def test_every_flipped_byte_is_refused_or_makes_no_difference(folder, open_room, master):
    choir, other = made_once(master, folder, open_room), open_room(folder)
    import_file(other, choir["data"])
    before = whole(other)
    refused = 0
    for at in range(0, len(choir["data"]), 17):
        data = bytearray(choir["data"])
        data[at] ^= 0x41
        try:
            assert set(hows(import_file(other, bytes(data)))) <= {How.SAME}
        except ToilewrightError:
            refused += 1
    assert whole(other) == before and refused > 100
