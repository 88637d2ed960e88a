"""Saves without end until it is killed, and tells of every save once it has come back."""

import datetime
import random

from toilewright.workroom.documents import BodyDoc, Kind, PatternDoc
from toilewright.workroom.store import Workroom


class Days:
    """A new day every so often, so that back-ups are made in between."""

    def __init__(self, start):
        self.time, self.looks = start, 0

    def __call__(self):
        self.looks += 1
        self.time += datetime.timedelta(hours=1) if self.looks % 12 == 0 else datetime.timedelta(milliseconds=1)
        return self.time


def write(folder, tell, number):
    """Tell every thing that was saved, as it is then, in the order in which it was."""
    draw = random.Random(number)
    start = datetime.datetime(2026, 1, 1, tzinfo=datetime.UTC) + datetime.timedelta(hours=5 * number)
    room = Workroom.open(folder, clock=Days(start))
    tell.send("open")
    things = [thing for kind in Kind for thing in room.things(kind)][:20]
    while True:
        thing = save(room, draw, things)
        things[:] = [thing, *(t for t in things if t.id != thing.id)][:20]
        tell.send(thing)


def save(room, draw, things):
    """One save of some kind."""
    what = draw.random()
    thing = draw.choice(things) if things else None
    if thing is None or what < 0.1:
        return room.add(Kind.BODY, BodyDoc(f"alto {draw.randrange(10**6)}"), "new")
    if what < 0.15:
        ref = room.add_file(draw.randbytes(draw.randrange(30_000)), "dress.pdf", "application/pdf")
        return room.add(Kind.PATTERN, PatternDoc("dress", ref), "new")
    if thing.removed:
        return room.bring_back(thing.id)
    if what < 0.2:
        return room.remove(thing.id)
    if what < 0.35 and thing.undo:
        return room.undo(thing.id, thing.revision)
    if what < 0.45 and thing.redo:
        return room.redo(thing.id, thing.revision)
    if what < 0.5:
        room.keep("reading", draw.randbytes(20_000))
    note = str(draw.random()) * draw.randrange(1, 200)
    return room.change(thing.id, thing.revision, [(("note",), note)], "note")
