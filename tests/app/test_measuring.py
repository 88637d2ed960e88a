"""What the measuring page shows of a body's sheets."""

from toilewright.app.measuring import FOR_SIZE, asked, before, copied, count_words, groups, sheet_of, state
from toilewright.body.measures import all_measures
from toilewright.fit.alterations import ALTERATIONS
from toilewright.fit.amounts import USES
from toilewright.workroom.documents import BodyDoc, TapeSheet

FIRST = TapeSheet("a", "2025-01-10", {"bust girth": 950.0, "stature": 1660.0}, waist_place="natural")
SECOND = TapeSheet("b", "2026-11-20", {"bust girth": 955.0, "stature": 1660.0, "shoulder slope": 21.0},
                   right={"upper arm girth": 300.0}, waist_place="natural")
DOC = BodyDoc("the alto", sheets=(FIRST, SECOND))


def rows(*more, unit="cm", wanted=()):
    return {r.measure.name: r for g in groups(*(more or (DOC, SECOND)), unit, wanted) for r in g.rows}


def test_every_measure_stands_in_one_group():
    for wanted in ((), ("full bust", "high round back"), tuple(USES)):
        names = [r.measure.name for g in groups(DOC, SECOND, "cm", wanted) for r in g.rows]
        assert sorted(names) == sorted(m.name for m in all_measures())
        assert names[:len(FOR_SIZE)] == list(FOR_SIZE)


def test_alterations_bring_their_measures_to_the_front_and_say_so():
    found = groups(DOC, SECOND, "cm", ("high round back", "full bust"))
    assert [r.measure.name for r in found[1].rows] == ["back neck point to waist", "neck shoulder point to waist back"]
    assert found[0].rows[0].uses == ("the size", "full bust")
    assert "back neck point to waist (high round back)" in count_words(found[1])
    assert set(USES) <= {a.name for a in ALTERATIONS}


def test_last_time_and_the_difference():
    bust, height = (rows()[n] for n in ("bust girth", "stature"))
    assert (bust.values[""], bust.last, bust.difference) == ("95.5", "95.0 cm", "+0.5 cm")
    assert height.difference == "as last time"
    assert rows(DOC, FIRST)["bust girth"].last == ""
    assert rows(BodyDoc("x", sheets=(SECOND, FIRST)), FIRST)["bust girth"].difference == "−0.5 cm"
    inches = rows(unit="in")["bust girth"]
    assert (inches.values[""], inches.unit, inches.last) == ("37 5/8", "in", "37 3/8 in")
    slope = rows()["shoulder slope"]
    assert (slope.values[""], slope.unit, slope.last) == ("21", "degrees", "")
    arm = rows()["upper arm girth"]
    assert arm.taken and arm.sided and arm.values == {"": "", "left": "", "right": "30.0"}


def test_which_sheet():
    assert sheet_of(DOC) is SECOND and sheet_of(DOC, "a") is FIRST and sheet_of(DOC, "gone") is SECOND
    assert before(DOC, SECOND) is FIRST and before(DOC, FIRST) is None
    assert sheet_of(BodyDoc("x")).measures == {} and before(BodyDoc("x"), sheet_of(BodyDoc("x"))) is None
    fresh = copied(SECOND, "2026-11-25")
    assert fresh["date"] == "2026-11-25" and fresh["measures"] == SECOND.measures and "id" not in fresh


def test_a_question_that_was_answered_is_asked_no_more_until_the_number_changes():
    wrong = TapeSheet("b", "2026-11-20", {"arm length": 850.0})
    (found,) = asked(BodyDoc("x", sheets=(wrong,)), wrong, "cm", "2026-11-25")
    sure = TapeSheet("b", "2026-11-20", {"arm length": 850.0}, sure={found.key: "2026-11-25"})
    assert asked(BodyDoc("x", sheets=(sure,)), sure, "cm", "2026-11-25") == ()
    again = TapeSheet("b", "2026-11-20", {"arm length": 860.0}, sure=sure.sure)
    assert len(asked(BodyDoc("x", sheets=(again,)), again, "cm", "2026-11-25")) == 1


def test_only_the_newest_sheet_is_called_old():
    assert asked(DOC, FIRST, "cm", "2026-11-25") == ()
    old = BodyDoc("x", sheets=(FIRST,))
    assert [q.code for q in asked(old, FIRST, "cm", "2026-11-25")] == ["old-sheet"]


def test_the_state_is_plain():
    plain = state(DOC, SECOND, "cm", ("full bust",), "2026-11-25")
    assert plain["rows"]["bust girth"] == {"values": {"": "95.5", "left": "", "right": ""}, "difference": "+0.5 cm"}
    assert plain["counts"]["for_size"].startswith("2 of 6 taken. Still wanted: upper bust girth (the size, full bust)")
    assert plain["questions"] == []
