"""Back-ups that are made by themselves."""

import os
import sqlite3
import stat

import pytest

from toilewright.errors import FileError, NameUnknown
from toilewright.workroom.backups import back_up, backups, is_sound, restore
from toilewright.workroom.documents import ClothDoc, Kind
from toilewright.workroom.packing import import_file

BOLT = ClothDoc("a bolt of crêpe")


def days(folder):
    return [f"{one.made:%m-%d}" for one in backups(folder)]


def test_a_new_store_is_hers_alone(on_disk, folder):
    on_disk.add(Kind.CLOTH, BOLT, "new")
    back_up(on_disk)
    for place in (folder, folder / "backups"):
        assert stat.S_IMODE(place.stat().st_mode) == 0o700


def test_one_at_the_first_change_of_each_day(on_disk, folder, clock):
    thing = on_disk.add(Kind.CLOTH, BOLT, "new")
    for n in range(6):
        thing = on_disk.change(thing.id, thing.revision, [(("note",), str(n))], "note")
        clock.turn(hours=9)
    assert days(folder) == ["11-22", "11-21", "11-20"]


def test_it_holds_what_was_there_before_the_change(on_disk, folder, clock, open_room):
    thing = on_disk.add(Kind.CLOTH, BOLT, "new")
    clock.turn(days=1)
    on_disk.change(thing.id, 1, [(("note",), "today's")], "note")
    old = backups(folder)[0]
    restore(folder, old.name, clock())
    assert open_room(folder).get(thing.id).document == BOLT


def test_one_on_opening_when_the_last_is_older_than_a_day(on_disk, folder, clock, open_room):
    on_disk.add(Kind.CLOTH, BOLT, "new")
    back_up(on_disk)
    clock.turn(hours=23)
    open_room(folder)
    assert len(backups(folder)) == 1
    clock.turn(hours=2)
    open_room(folder)
    assert len(backups(folder)) == 2


def test_an_empty_store_needs_none(on_disk, folder, open_room, clock):
    clock.turn(days=3)
    open_room(folder)
    on_disk.set_setting("a", "b")
    assert backups(folder) == ()


def test_they_are_thinned_to_ten_and_one_for_each_month_of_a_year(on_disk, folder, clock):
    thing = on_disk.add(Kind.CLOTH, BOLT, "new")
    made = []
    for n in range(140):
        clock.turn(days=3)
        thing = on_disk.change(thing.id, thing.revision, [(("note",), str(n))], "note")
        made.append(clock.time.date())
    left = [one.made.date() for one in backups(folder)]
    assert left[:10] == made[:-11:-1]
    months = {}
    for day in made:
        months[day.year, day.month] = day
    wanted = {*made[-10:], *(months[m] for m in sorted(months)[-12:])}
    assert sorted(left) == sorted(wanted) and len(left) < 22


def test_each_is_one_whole_file_without_what_can_be_computed_again(on_disk, folder):
    on_disk.keep("reading", os.urandom(400_000))
    on_disk.add(Kind.CLOTH, BOLT, "new")
    made = back_up(on_disk)
    assert is_sound(made.path) and made.size == made.path.stat().st_size < 200_000
    assert [p.name for p in (folder / "backups").iterdir()] == [made.name]
    with sqlite3.connect(made.path) as connection:
        assert connection.execute("SELECT count(*) FROM kept").fetchone() == (0,)
    connection.close()
    assert on_disk.kept("reading") is not None


def test_putting_one_back_sets_the_present_store_aside(on_disk, folder, clock, open_room):
    thing = on_disk.add(Kind.CLOTH, BOLT, "new")
    made = back_up(on_disk)
    late = on_disk.change(thing.id, 1, [(("note",), "after the back-up")], "note")
    on_disk.close()
    aside = restore(folder, made.name, clock())
    again = restore(folder, made.name, clock.time)
    assert aside != again and len(list(folder.glob("workroom-set-aside-*.db"))) == 2
    assert open_room(folder).get(thing.id).document == BOLT
    os.rename(aside, folder / "workroom.db")
    assert open_room(folder).get(thing.id) == late


def test_running_programs_go_on_with_the_one_put_back(on_disk, folder, clock, open_room):
    """Its log file goes aside with the old store, and nothing of it gets into the new one."""
    thing = on_disk.add(Kind.CLOTH, BOLT, "new")
    made = back_up(on_disk)
    other = open_room(folder)
    late = other.change(thing.id, 1, [(("note",), "late " * 2000)], "note")
    assert (folder / "workroom.db-wal").exists()
    aside = restore(folder, made.name, clock())
    assert on_disk.get(thing.id).document == BOLT
    changed = on_disk.change(thing.id, 1, [(("note",), "anew")], "note")
    changed = other.change(thing.id, 2, [(("note",), "and again")], "note")
    assert on_disk.get(thing.id) == changed and is_sound(folder / "workroom.db")
    with sqlite3.connect(aside) as connection:
        numbers = connection.execute("SELECT max(number) FROM revision").fetchone()
    connection.close()
    assert numbers == (late.revision,)


def test_an_unknown_one_is_said(on_disk, folder):
    on_disk.add(Kind.CLOTH, BOLT, "new")
    back_up(on_disk)
    with pytest.raises(NameUnknown):
        restore(folder, "../workroom.db")


def test_a_disk_that_takes_no_backup_does_not_keep_her_from_saving(on_disk, folder, clock):
    thing = on_disk.add(Kind.CLOTH, BOLT, "new")
    (folder / "backups").write_text("something stands in the way")
    assert on_disk.change(thing.id, 1, [(("note",), "saved")], "note").document.note == "saved"
    assert "No back-up" in on_disk.trouble
    with pytest.raises(FileError):
        back_up(on_disk)
    (folder / "backups").unlink()
    clock.turn(days=1)
    on_disk.change(thing.id, 2, [(("note",), "again")], "note")
    assert on_disk.trouble == "" and len(backups(folder)) == 1


def test_a_clock_that_was_wrong_once_does_not_stop_them(on_disk, folder, clock):
    thing = on_disk.add(Kind.CLOTH, BOLT, "new")
    clock.turn(days=800)
    thing = on_disk.change(thing.id, 1, [(("note",), "in a wrong year")], "note")
    clock.turn(days=-795)
    on_disk.change(thing.id, 2, [(("note",), "in the right one")], "note")
    assert days(folder) == ["01-28", "11-25"]


def test_what_a_broken_off_one_left_is_taken_away(on_disk, folder, open_room):
    on_disk.add(Kind.CLOTH, BOLT, "new")
    back_up(on_disk)
    old, new = folder / "backups" / ".workroom-old.db.x", folder / "backups" / ".workroom-new.db.x"
    for path in (old, new):
        path.write_bytes(b"half")
    os.utime(old, (0, 0))
    back_up(on_disk)
    assert new.exists() and not old.exists()
    half = folder / ".new-half"
    half.mkdir()
    os.utime(half, (0, 0))
    open_room(folder)
    assert not half.exists()


def test_of_a_store_on_a_server_it_is_what_is_exported(postgres, open_room, tmp_path):
    room = open_room(postgres.new_database())
    thing = room.add(Kind.CLOTH, BOLT, "new")
    with pytest.raises(FileError, match="name one"):
        back_up(room)
    made = back_up(room, tmp_path)
    other = open_room(tmp_path / "other")
    import_file(other, made.path.read_bytes())
    assert other.get(thing.id) == thing and backups(tmp_path) == (made,)
