"""The program is killed at any moment: everything that was acknowledged is there, and the store is sound."""

import multiprocessing
import os
import random
import signal
import time

from workroom.writer import write

from toilewright.workroom.backups import backups, is_sound
from toilewright.workroom.chain import is_chain
from toilewright.workroom.documents import Kind
from toilewright.workroom.revisions import ids_of_all, records_of
from toilewright.workroom.store import Workroom

processes = multiprocessing.get_context("forkserver")
processes.set_forkserver_preload(["workroom.writer", "sqlalchemy.dialects.sqlite"])


class Writer:
    """A program that saves without end."""

    def __init__(self, folder, number):
        self.here, there = processes.Pipe(duplex=False)
        self.process = processes.Process(target=write, args=(folder, there, number))
        self.process.start()
        there.close()
        self.told = []

    def wait(self, saves):
        """Until so many saves were told; seconds that the last one took."""
        begun = time.monotonic()
        for _ in range(saves):
            begun = time.monotonic()
            self.told.append(self.here.recv())
        return time.monotonic() - begun

    def kill(self):
        """Without any warning; everything that was told, once it is dead."""
        assert self.process.exitcode is None
        os.kill(self.process.pid, signal.SIGKILL)
        try:
            while True:
                self.told.append(self.here.recv())
        except EOFError:
            pass
        self.process.join()
        self.process.close()
        self.here.close()
        return self.told


def test_nothing_acknowledged_is_lost_at_200_moments(folder):
    draw, saved, newest = random.Random(9), {}, {}
    for number in range(200):
        writer = Writer(folder, number)
        writer.wait(1)
        one_save = writer.wait(draw.randrange(1, 5))
        time.sleep(draw.uniform(0, 1.5 * one_save))
        for thing in writer.kill()[1:]:
            saved[thing.id, thing.revision] = thing.document
            newest[thing.id] = thing
        now = newest_in(folder)
        untold = [thing for thing in now.values() if thing != newest.get(thing.id)]
        assert set(newest) <= set(now) and len(untold) <= 1
        for thing in untold:  # the last save may not have been told any more
            assert thing.revision == (newest[thing.id].revision if thing.id in newest else 0) + 1
        newest = now
    all_is_there(folder, saved)
    assert len(saved) >= 400


def newest_in(folder):
    room = Workroom.open(folder)
    try:
        return {thing.id: thing for kind in Kind for gone in (True, False) for thing in room.things(kind, removed=gone)}
    finally:
        room.close()


def all_is_there(folder, saved):
    room = Workroom.open(folder)
    assert is_sound(folder / "workroom.db")
    with room.database.reading() as connection:
        there = {thing_id: records_of(connection, thing_id)[1] for thing_id in ids_of_all(connection)}
    assert all(is_chain(records) for records in there.values())
    for (thing_id, revision), document in saved.items():
        assert there[thing_id][revision - 1].document == document
    for thing in room.things(Kind.PATTERN):
        room.file(thing.document.file.sha)
    assert backups(folder) and all(is_sound(one.path) for one in backups(folder))
    room.close()


def test_a_store_is_made_whole_or_not_at_all(tmp_path):
    whole = Writer(tmp_path / "whole", 0)
    pause = whole.wait(1)
    whole.kill()
    draw, made = random.Random(3), []
    for number in range(25):
        folder = tmp_path / str(number)
        writer = Writer(folder, number)
        time.sleep(draw.uniform(0.5, 1) * pause)
        writer.kill()
        made.append((folder / "workroom.db").exists())
        pause *= 0.7 if made[-1] else 1.4  # a busy machine is slower by turns: keep close to the moment itself
        assert set(newest_in(folder)) >= {thing.id for thing in writer.told[1:]}
    assert set(made) == {True, False}
