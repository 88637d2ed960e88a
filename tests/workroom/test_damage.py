"""A store that is damaged is reported and never written over; the last good back-up is offered and put back."""

import random
import shutil
import sqlite3
from contextlib import closing

import pytest
from sqlalchemy import event

from toilewright.errors import FileError, ToilewrightError
from toilewright.workroom.backups import DamagedStore, back_up, backups, is_sound, restore
from toilewright.workroom.database import StoreError
from toilewright.workroom.documents import BodyDoc, ClothDoc, Kind, PatternDoc
from toilewright.workroom.store import Workroom


def fill(room, rows=30):
    ref = room.add_file(b"%PDF " + bytes(range(256)) * 40, "dress.pdf", "application/pdf")
    ids = [room.add(Kind.PATTERN, PatternDoc("dress", ref), "new").id]
    for n in range(rows):
        thing = room.add(Kind.BODY, BodyDoc(f"alto {n}"), "new")
        ids.append(room.change(thing.id, 1, [(("note",), f"note {n} " * 20)], "note").id)
    return ids


def everything(room):
    things = [t for kind in Kind for t in room.things(kind)]
    return ([(t, room.history(t.id)) for t in things],
            [room.file(t.document.file.sha) for t in things if t.kind is Kind.PATTERN])


@pytest.fixture
def kept(folder, open_room):
    """A store with a back-up that is as new as the store; closed, as one file."""
    room = open_room(folder)
    fill(room)
    back_up(room)
    whole = everything(room)
    room.close()
    assert not (folder / "workroom.db-wal").exists()
    return whole


DAMAGE = {
    "empty": lambda data: b"",
    "a text": lambda data: b"Dear diary, today the altos came for their fittings.\n" * 40,
    "half of it": lambda data: data[:len(data) // 2],
    "the head only": lambda data: data[:100],
    "a page missing": lambda data: data[:-4096],
    "zeros in the middle": lambda data: data[:8192] + bytes(8192) + data[16384:],
    "its first page overwritten": lambda data: data[:16] + bytes(4080) + data[4096:],
    "another database": lambda data: foreign(),
}


def foreign():
    with sqlite3.connect(":memory:") as connection:
        connection.execute("CREATE TABLE recipes (soup)")
        connection.commit()
        data = connection.serialize()
    connection.close()
    return data


@pytest.mark.parametrize("how", DAMAGE)
def test_damage_is_reported_and_the_backup_offered_and_put_back(folder, kept, open_room, how, clock):
    path = folder / "workroom.db"
    broken = DAMAGE[how](path.read_bytes())
    path.write_bytes(broken)
    with pytest.raises(DamagedStore) as said:
        open_room(folder)
    assert "back-up" in str(said.value) and said.value.folder == folder
    assert path.read_bytes() == broken
    aside = restore(folder, said.value.backup.name, clock())
    assert aside.read_bytes() == broken
    assert everything(open_room(folder)) == kept


def test_a_store_that_is_gone_from_beside_its_backups_is_not_begun_anew(folder, kept, open_room):
    (folder / "workroom.db").unlink()
    with pytest.raises(DamagedStore, match="is gone") as said:
        open_room(folder)
    assert not (folder / "workroom.db").exists()
    assert restore(folder, said.value.backup.name) is None
    assert everything(open_room(folder)) == kept


def test_flipped_bytes_are_noticed_or_make_no_difference(folder, kept, open_room):
    """Whatever is changed in the file: never another content than was saved, never a bare error."""
    path, whole = folder / "workroom.db", (folder / "workroom.db").read_bytes()
    draw, noticed = random.Random(4), 0
    for _ in range(200):
        data = bytearray(whole)
        for _ in range(draw.choice((1, 1, 8, 64))):
            data[draw.randrange(len(data))] ^= 1 << draw.randrange(8)
        path.write_bytes(data)
        try:
            room = Workroom.open(folder)
            try:
                found = everything(room)
            finally:
                room.close()
        except ToilewrightError as said:
            assert isinstance(said, FileError)
            noticed += 1
        else:
            assert found == kept
    assert noticed > 40


def test_damage_under_a_running_program_is_said(folder, kept, open_room):
    room = open_room(folder)
    data = bytearray((folder / "workroom.db").read_bytes())
    at = data.index(b"note 7 note 7")
    data[at:at + 4] = b"NOTE"
    (folder / "workroom.db").write_bytes(data)
    with pytest.raises(DamagedStore) as said:
        room.things(Kind.BODY)
    assert said.value.backup.name == backups(folder)[0].name


def test_a_damaged_backup_is_passed_over(folder, kept, open_room, clock):
    room = open_room(folder)
    clock.turn(hours=1)
    newest = back_up(room)
    room.close()
    older = backups(folder)[1]
    newest.path.write_bytes(newest.path.read_bytes()[:9000])
    (folder / "workroom.db").write_bytes(b"")
    with pytest.raises(DamagedStore) as said:
        open_room(folder)
    assert said.value.backup == older
    with pytest.raises(FileError, match="damaged too"):
        restore(folder, newest.name)
    assert (folder / "workroom.db").read_bytes() == b""


def test_with_no_backup_it_is_said_so(folder, open_room):
    folder.mkdir()
    (folder / "workroom.db").write_bytes(b"a shopping list")
    with pytest.raises(DamagedStore, match="no back-up") as said:
        open_room(folder)
    assert said.value.backup is None and (folder / "workroom.db").read_bytes() == b"a shopping list"


def test_no_backup_is_made_of_a_damaged_store(folder, kept, open_room, clock):
    room = open_room(folder)
    data = bytearray((folder / "workroom.db").read_bytes())
    data[data.index(b"note 7 note 7")] ^= 1
    (folder / "workroom.db").write_bytes(data)
    before = backups(folder)
    clock.turn(days=1)
    with pytest.raises(DamagedStore):
        room.add(Kind.CLOTH, ClothDoc("crêpe"), "new")
    assert backups(folder) == before and all(is_sound(one.path) for one in before)


def test_a_store_of_a_newer_program_is_left_alone(folder, kept, open_room):
    path = folder / "workroom.db"
    with sqlite3.connect(path) as connection:
        connection.execute("UPDATE alembic_version SET version_num = '0999'")
    connection.close()
    before = path.read_bytes()
    with pytest.raises(FileError, match="newer toilewright") as said:
        open_room(folder)
    assert not isinstance(said.value, DamagedStore) and path.read_bytes() == before


def test_a_folder_that_cannot_be_one_is_said(tmp_path):
    (tmp_path / "file").write_text("x")
    with pytest.raises(FileError, match="another folder"):
        Workroom.open(tmp_path / "file" / "home")


def test_a_disk_that_is_full_is_said_and_nothing_is_changed(folder, kept, open_room):
    room = open_room(folder)
    event.listen(room.database.engine, "connect", lambda connection, _: connection.execute("PRAGMA max_page_count = 1"))
    for save in (lambda: room.add_file(bytes(500_000), "large.pdf", "application/pdf"),
                 lambda: room.add(Kind.CLOTH, ClothDoc("crêpe", note="x" * 20_000), "new")):
        with pytest.raises(StoreError, match="no more room"):
            save()
    assert everything(room) == kept


def test_another_program_that_writes_too_long_is_said(folder, kept, open_room, monkeypatch):
    monkeypatch.setattr("toilewright.workroom.database.PATIENCE", 0.05)
    room = open_room(folder)
    with closing(sqlite3.connect(folder / "workroom.db", isolation_level=None)) as other:
        other.execute("BEGIN IMMEDIATE")
        with pytest.raises(StoreError, match="another program"):
            room.set_setting("a", "b")
        assert everything(room) == kept
        other.execute("ROLLBACK")
    room.set_setting("a", "b")
    assert room.setting("a") == "b"


def test_a_store_that_is_deleted_under_a_running_program_is_not_begun_anew(folder, kept, open_room, clock):
    room = open_room(folder)
    (folder / "workroom.db").unlink()
    clock.turn(days=2)
    with pytest.raises(FileError):
        room.add(Kind.CLOTH, ClothDoc("crêpe"), "new")
    assert not (folder / "workroom.db").exists()


def test_a_folder_moved_away_under_a_running_program_is_said(folder, kept, open_room):
    room = open_room(folder)
    shutil.move(folder, folder.parent / "elsewhere")
    with pytest.raises(ToilewrightError):
        room.add(Kind.CLOTH, ClothDoc("crêpe"), "new")
