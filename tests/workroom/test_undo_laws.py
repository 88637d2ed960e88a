"""Undoing and redoing against the simplest model there is: a list and a place in it."""

from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, precondition, rule, run_state_machine_as_test

from toilewright.workroom.chain import is_chain
from toilewright.workroom.documents import ClothDoc, Kind
from toilewright.workroom.revisions import records_of

notes = st.sampled_from(["", "crisp", "soft", "for the altos"])


class Undoing(RuleBasedStateMachine):
    def __init__(self, room):
        super().__init__()
        self.room = room
        self.thing = room.add(Kind.CLOTH, ClothDoc("crêpe"), "new")
        self.stack, self.at = [("", "new")], 0
        self.all = [""]

    def happened(self, thing, note):
        self.thing = thing
        self.all.append(note)

    def put(self, thing, note, words):
        self.stack[self.at + 1:] = [(note, words)]
        self.at += 1
        self.happened(thing, note)

    @rule(note=notes)
    def change(self, note):
        words = f"note {len(self.all)}"
        thing = self.room.change(self.thing.id, self.thing.revision, [(("note",), note)], words)
        if note == self.all[-1]:
            assert thing == self.thing
        else:
            self.put(thing, note, words)

    @precondition(lambda self: self.at > 0)
    @rule()
    def undo(self):
        self.at -= 1
        self.happened(self.room.undo(self.thing.id, self.thing.revision), self.stack[self.at][0])

    @precondition(lambda self: self.at + 1 < len(self.stack))
    @rule()
    def redo(self):
        self.at += 1
        self.happened(self.room.redo(self.thing.id, self.thing.revision), self.stack[self.at][0])

    @rule(data=st.data())
    def go_back(self, data):
        number = data.draw(st.integers(1, len(self.all)))
        words = self.room.history(self.thing.id)[-number].words
        self.put(self.room.go_back(self.thing.id, self.thing.revision, number), self.all[number - 1], words)

    @rule()
    def remove_and_bring_back(self):
        for thing in (self.room.remove(self.thing.id), self.room.bring_back(self.thing.id)):
            self.happened(thing, self.all[-1])

    @invariant()
    def is_as_in_the_model(self):
        note, words = self.stack[self.at]
        above = self.stack[self.at + 1:]
        assert self.thing == self.room.get(self.thing.id)
        assert (self.thing.revision, self.thing.document.note) == (len(self.all), note)
        assert self.thing.undo == (words if self.at else None)
        assert self.thing.redo == (above[0][1] if above else None)

    def teardown(self):
        with self.room.database.reading() as connection:
            _, records = records_of(connection, self.thing.id)
        assert [record.document.note for record in records] == self.all
        assert is_chain(records)


def test_undo_and_redo_follow_the_model(room):
    run_state_machine_as_test(lambda: Undoing(room), settings=settings(max_examples=25, stateful_step_count=25))
