"""How far she has come, and what wants another look."""

from dataclasses import replace

from toilewright.app.steps import STEPS, State, changed_parts, settled_value, states_of
from toilewright.workroom.documents import BodyDoc, MakeDoc, PatternDoc, TapeSheet, WishRow

BODY = BodyDoc("an alto", sheets=(TapeSheet("s", "2026-11-20", {"bust girth": 955.0}),))
PATTERN = PatternDoc("concert dress")
MAKE = MakeDoc("concert dress", "b", pattern="p")


def settle(make, *keys):
    return replace(make, settled={k: settled_value(k, "2026-11-25", make, BODY, PATTERN) for k in keys})


def test_the_first_step_is_next_and_the_others_are_open():
    states = states_of(MAKE, BODY, PATTERN)
    assert [states[s.key] for s in STEPS] == [State.NEXT] + [State.OPEN] * 8


def test_settled_steps_stay_so_while_nothing_changes():
    states = states_of(settle(MAKE, "measure", "pattern"), BODY, PATTERN)
    assert states["measure"] is states["pattern"] is State.SETTLED
    assert states["size"] is State.NEXT


def test_another_size_asks_for_a_look_at_everything_after_it_and_nothing_before():
    make = replace(settle(MAKE, *(s.key for s in STEPS)), size="5")
    states = states_of(make, BODY, PATTERN)
    assert {k for k, v in states.items() if v is State.SETTLED} == {"measure", "pattern"}
    assert {k for k, v in states.items() if v is State.AGAIN} == {
        "size", "alter", "walk", "print", "cards", "toile", "cloth"}


def test_a_new_measure_and_a_standing_alteration_reach_as_far_as_they_matter():
    make = settle(MAKE, *(s.key for s in STEPS))
    measured = replace(BODY, sheets=(TapeSheet("s", "2026-11-20", {"bust girth": 960.0}),))
    assert states_of(make, measured, PATTERN)["measure"] is State.AGAIN
    wish = replace(BODY, alterations=(WishRow("w", "high round back"),))
    states = states_of(make, wish, PATTERN)
    assert (states["size"], states["alter"]) == (State.SETTLED, State.AGAIN)


def test_words_in_a_note_ask_for_nothing():
    make = replace(settle(MAKE, *(s.key for s in STEPS)), note="thin thread", title="another title")
    assert set(states_of(make, BODY, PATTERN).values()) == {State.SETTLED}


def test_a_step_knows_which_part_was_changed():
    make = settle(MAKE, *(s.key for s in STEPS))
    other = replace(make, size="5", papers=("a0",))
    assert changed_parts("walk", other, BODY, PATTERN) == ("size",)
    assert changed_parts("print", other, BODY, PATTERN) == ("size", "papers")
    assert changed_parts("pattern", other, BODY, PATTERN) == ()


def test_a_step_settled_without_its_parts_asks_for_another_look():
    make = replace(MAKE, settled={"size": "2026-11-25 0123456789ab"})
    assert states_of(make, BODY, PATTERN)["size"] is State.AGAIN
    assert changed_parts("size", make, BODY, PATTERN) is None
