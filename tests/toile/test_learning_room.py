"""What makes taught is kept with the body; what then stands changes no make that taught it."""

from dataclasses import replace

import pytest

from toilewright import demo
from toilewright.app.altering import listed
from toilewright.app.making import begun
from toilewright.errors import InputError
from toilewright.make.outcome import altered_of, size_up
from toilewright.workroom.documents import BodyDoc, Kind, MakeDoc, SeenRow, TapeSheet, ToileRow, WishRow
from toilewright.workroom.learning import learned_of, make_standing, teach
from toilewright.workroom.packing import export_make, import_file
from toilewright.workroom.recipes import body_for, recipe
from toilewright.workroom.store import Workroom
from toilewright.workroom.taking import reading_of, take_make

BELOW = SeenRow("s1", "dart ends below the bust point", 15.0)


@pytest.fixture(scope="module")
def taken(table, tmp_path_factory):
    """A room with the choir's dress in it, its pattern read."""
    room = Workroom.open(str(tmp_path_factory.mktemp("room")))
    take_make(room, table / demo.MAKE)
    yield room
    room.close()


@pytest.fixture
def room(taken):
    """The same with no makes but one that is new, and a body that has learned nothing."""
    first = taken.things(Kind.MAKE)[-1].document
    body = taken.get(first.body).document
    mine = taken.add(Kind.BODY, replace(body, alterations=(), learned=()), "new")
    taken.mine = mine.id
    taken.first = replace(first, body=mine.id, alterations=())
    return taken


def sewn(room, title, *rows, seen=(BELOW,), **more):
    """A make with one toile, and what was accepted of it."""
    make = replace(room.first, title=title, toiles=(ToileRow("t1", "2026-11-25", tuple(seen)),), **more,
                   alterations=tuple(WishRow(f"w{n}", name, amount, came_from="t1", spread=4.0)
                                     for n, (name, amount) in enumerate(rows)))
    return room.add(Kind.MAKE, make, "new").id


def made(room, make_id):
    """Every alteration of a make, by its name, as it is made now."""
    doc = room.get(make_id).document
    body, pattern = room.get(doc.body).document, room.get(doc.pattern).document
    sized = size_up(recipe(doc), body_for(doc, body), reading_of(room, pattern))
    totals = {}
    for done in altered_of(sized).done:
        totals[done.order.name] = totals.get(done.order.name, 0.0) + done.order.amount.value
    return totals


def test_two_makes_teach_what_then_always_stands(room):
    one = sewn(room, "first", ("high round back", 14.0), ("bust dart height", -15.0))
    other = sewn(room, "second", ("high round back", 12.0))
    teach(room, one)
    body = teach(room, other).document
    told = {(row.title, row.name): row.amount for row in body.learned}
    # The second one's toile could have asked for another dart, and did not.
    assert told == {("first", "high round back"): 14.0, ("first", "bust dart height"): -15.0,
                    ("second", "high round back"): 12.0, ("second", "bust dart height"): 0.0}
    [hump] = [one for one in learned_of(body) if one.standing]
    assert (hump.name, hump.makes) == ("high round back", 2) and 11.0 < hump.amount < 13.0
    before = [made(room, make) for make in (one, other)]
    standing = make_standing(room, room.mine, hump).document.alterations
    assert [(r.name, r.amount, r.makes) for r in standing] == [("high round back", round(hump.amount, 1), 2)]
    assert standing[0].spread == round(hump.spread, 1)
    assert [made(room, make) for make in (one, other)] == before
    fresh = room.add(Kind.MAKE, room.first, "new").id
    assert made(room, fresh)["high round back"] == pytest.approx(hump.amount, abs=0.06)


def test_what_stood_before_is_kept_where_it_was_made(room):
    body = room.get(room.mine)
    room.change(body.id, body.revision, [(("alterations", "+"), {"name": "high round back", "amount": 9.0})], "always")
    makes = [sewn(room, title, ("high round back", more)) for title, more in (("a", 5.0), ("b", 6.0))]
    for make in makes:
        body = teach(room, make)
    assert [row.amount for row in body.document.learned] == [14.0, 15.0]
    before = [made(room, make) for make in makes]
    assert [m["high round back"] for m in before] == [14.0, 15.0]
    now = make_standing(room, room.mine, learned_of(body.document)[0]).document
    assert len(now.alterations) == 1 and now.alterations[0].makes == 2
    assert [made(room, make) for make in makes] == before
    assert made(room, room.add(Kind.MAKE, room.first, "new").id)["high round back"] == now.alterations[0].amount
    # Learned once more, from a third make that has it standing already: the makes stay as they are again.
    third = sewn(room, "c", ("high round back", 2.0))
    total = made(room, third)["high round back"]
    again = teach(room, third).document
    assert again.learned[-1].amount == pytest.approx(total, abs=0.06)
    make_standing(room, room.mine, learned_of(again)[0])
    assert [made(room, make) for make in makes] == before
    assert made(room, third)["high round back"] == pytest.approx(total, abs=0.06)


def test_a_make_taught_again_is_taught_once(room):
    make = sewn(room, "first", ("high round back", 14.0))
    teach(room, make)
    thing = room.get(make)
    room.change(make, thing.revision, [(("alterations", "w0", "amount"), 10.0)], "less")
    assert [row.amount for row in teach(room, make).document.learned] == [10.0]


def test_a_body_measured_again_keeps_what_was_learned(room):
    teach(room, sewn(room, "first", ("high round back", 14.0)))
    body = room.get(room.mine)
    sheet = {"date": "2027-05-01", "measures": {"bust girth": 970.0}}
    now = room.change(body.id, body.revision, [(("sheets", "+"), sheet)], "measured again").document
    assert len(now.sheets) == len(body.document.sheets) + 1 and now.learned == body.document.learned
    assert learned_of(now)[0].lessons[0].amount == 14.0


def test_a_make_without_a_toile_teaches_nothing(room):
    bare = room.add(Kind.MAKE, room.first, "new").id
    with pytest.raises(InputError, match="no toile yet"):
        teach(room, bare)
    with pytest.raises(InputError, match="no body or no pattern"):
        teach(room, room.add(Kind.MAKE, MakeDoc("x", toiles=(ToileRow("t", "2026-11-25"),)), "new").id)


def test_a_toiles_reading_switched_off_leaves_the_standing_one():
    body = BodyDoc("alto", sheets=(TapeSheet("s", "2026-11-20", {"bust girth": 955.0}),),
                   alterations=(WishRow("a", "high round back", 9.0),))
    make = MakeDoc("dress", alterations=(WishRow("w", "high round back", 5.0, on=False, came_from="t1"),))
    assert [w.amount for w in body_for(make, body).alterations] == [9.0] and recipe(make).alterations == ()


def test_make_file_store_and_packed_file_tell_the_same(table, tmp_path):
    path = table / "with-toiles.toml"
    path.write_text((table / demo.MAKE).read_text(encoding="utf-8") + """
[[toile]]
date = "2026-11-25"
saw = ["dart ends 1.5 cm below the bust point", "armhole gapes on the left, pinched 8 mm"]

[[alteration]]
name = "bust dart height"
amount = "-1.5 cm"
plus_minus = "4 mm"
from = "toile 1"

[print]
toile = true
""", encoding="utf-8")
    from toilewright.make.outcome import NAMES
    from toilewright.make.recipe import read_make

    room, other = (Workroom.open(str(tmp_path / name)) for name in ("one", "two"))
    make = take_make(room, path)
    written, kept = read_make(path, NAMES), recipe(make.document)
    for entry in ("toiles", "alterations", "print_toile", "ease", "sizes"):
        assert getattr(kept, entry) == getattr(written, entry), entry
    assert kept.alterations[-1].came_from == "toile 1" and kept.alterations[-1].spread == 4.0
    import_file(other, export_make(room, make.id))
    assert other.get(make.id).document == make.document
    room.close()
    other.close()


def test_the_shell_learns_and_makes_always_what_several_makes_agree_on(taken, room, capsys):
    from toilewright.cli import main

    for title in ("one", "two"):
        sewn(room, f"{title} of the shell", ("high round back", 13.0))
    for words in (["learn", "one of the shell"], ["learn", "two of the shell", "--always"]):
        with pytest.raises(SystemExit) as end:
            main(["workroom", *words, "--store", str(taken.folder)])
        assert not end.value.code
    told = capsys.readouterr().out
    assert "2 makes asked for 1.3 cm, 1.3 cm" in told and "worth making always" in told
    assert [row.makes for row in room.get(room.mine).document.alterations] == [2]


def test_on_the_worktable_a_toiles_reading_stands_beside_the_standing_one():
    body = BodyDoc("alto", alterations=(WishRow("s", "high round back", 9.0),))
    make = MakeDoc("dress", alterations=(WishRow("w", "high round back", 5.0, came_from="t1"),))
    assert [(one.id, one.standing, one.always) for one in listed(make, body)] == [("s", True, False),
                                                                                 ("w", False, False)]
    own = MakeDoc("dress", alterations=(WishRow("w", "high round back", 5.0),))
    assert [(one.id, one.always) for one in listed(own, body)] == [("w", True)]


@pytest.mark.parametrize(("pattern", "kept"), [("p", ["w", "t"]), ("q", ["w"])])
def test_a_new_make_takes_over_toile_readings_of_the_same_pattern_only(room, pattern, kept):
    rows = (WishRow("w", "bust dart height", 8.0), WishRow("t", "high round back", 5.0, came_from="t1"))
    last = room.add(Kind.MAKE, MakeDoc("old", room.mine, pattern="p", alterations=rows), "new")
    assert [row.id for row in begun("new", room.mine, pattern, last).alterations] == kept
