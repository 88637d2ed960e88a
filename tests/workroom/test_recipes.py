"""What is kept is worked out as the same written down in files would be."""

from dataclasses import replace

import msgspec
import pytest

from toilewright.body.tape import Wish, read_tape
from toilewright.demo import TAPE_SHEET
from toilewright.errors import InputError
from toilewright.make.outcome import NAMES
from toilewright.make.recipe import Make, wishes
from toilewright.make.recipe_allowances import CornerWish
from toilewright.pattern.parts import CornerCut, NotchCut
from toilewright.workroom.documents import (
    AllowanceRow,
    BodyDoc,
    CornerRow,
    ExtraRow,
    FileRef,
    Kind,
    MakeDoc,
    PatternDoc,
    TapeSheet,
    WishRow,
)
from toilewright.workroom.recipes import body_for, body_of, reading_key, recipe

OLD = TapeSheet("s1", "2025-03-01", {"bust girth": 930.0}, waist_place="natural")
NEW = TapeSheet("s2", "2026-11-20", {"bust girth": 955.0, "waist girth": 785.0}, {"shoulder slope": 21.5},
                {"shoulder slope": 23.0}, "natural")
ALTO = BodyDoc("the alto", "in", ("low bust points",), (OLD, NEW),
               (WishRow("a1", "high round back"), WishRow("a2", "forward shoulder", 12.0, {"side": "left"}),
                WishRow("a3", "sway back", on=False)))


def test_the_choirs_alto_is_the_same_body_kept_and_written(tmp_path):
    path = tmp_path / "alto.toml"
    path.write_text(TAPE_SHEET, encoding="utf-8")
    written = read_tape(path)
    kept = BodyDoc(written.name, written.unit, written.posture,
                   (TapeSheet("s", written.date, dict(written.measures), waist_place=written.waist_place),),
                   tuple(WishRow(str(n), w.name, w.amount, dict(w.options)) for n, w in enumerate(written.alterations)))
    found = body_of(kept)
    assert dict(found.measures) == pytest.approx(dict(written.measures))
    assert (found.name, found.unit, found.date, found.waist_place, found.posture, found.alterations) == (
        written.name, written.unit, written.date, written.waist_place, written.posture, written.alterations)


def test_the_newest_sheet_unless_another_is_asked_for():
    assert body_of(ALTO).get("bust girth").value == 955.0
    assert body_of(ALTO, "s1").get("bust girth").value == 930.0
    assert body_of(ALTO).on_side("shoulder slope", "right").value == 23.0
    with pytest.raises(InputError, match="not among those of the alto"):
        body_of(ALTO, "s9")


def test_alterations_that_are_off_or_left_out_are_not_made():
    assert body_of(ALTO).alterations == (Wish("high round back"), Wish("forward shoulder", 12.0, {"side": "left"}))
    assert [w.name for w in body_of(ALTO, without=("high round back",)).alterations] == ["forward shoulder"]


def test_a_row_of_the_makes_own_that_is_off_takes_the_standing_one_with_it():
    def made(*rows, **more):
        make = MakeDoc("dress", alterations=rows, **more)
        return [(w.name, w.amount) for w in wishes(recipe(make), body_for(make, ALTO), NAMES)]

    own = WishRow("m1", "forward shoulder", 8.0, {"side": "left"})
    assert made() == [("high round back", None), ("forward shoulder", 12.0)]
    assert made(own) == [("high round back", None), ("forward shoulder", 8.0)]
    assert made(replace(own, on=False)) == [("high round back", None)]
    assert made(replace(own, on=False), without=("high round back",)) == []
    assert body_for(MakeDoc("dress", sheet="s1"), ALTO).date == "2025-03-01"


def test_contradictions_are_kept_and_said_when_something_is_worked_out(room):
    sheet = TapeSheet("s", "2026-11-20", {"bust girth": 800.0, "under-bust girth": 990.0})
    wrong = BodyDoc("the alto", sheets=(sheet,))
    thing = room.add(Kind.BODY, wrong, "measured")
    with pytest.raises(InputError, match="measure both again"):
        body_of(room.get(thing.id).document)


@pytest.mark.parametrize("body", [BodyDoc("the alto"), BodyDoc("the alto", sheets=(TapeSheet("s", "2026-11-20"),))])
def test_nothing_measured_yet_is_said(body):
    with pytest.raises(InputError, match="yet"):
        body_of(body)


def test_a_recipe():
    make = MakeDoc("Dress", "b", pattern="p", ease={"hip": 40.0, "bust": 80.0}, standing=False, papers=("sheet", "a4"),
                   alterations=(WishRow("1", "bust dart height", -20.0), WishRow("2", "full bust", on=False),
                                WishRow("3", "lengthen or shorten", None, {"piece": "skirt front"})))
    assert recipe(make) == Make(
        "Dress", ease=(("bust", 80.0), ("hip", 40.0)), standing=False, papers=("a4", "sheet"),
        alterations=(Wish("bust dart height", -20.0), Wish("lengthen or shorten", None, {"piece": "skirt front"})))


@pytest.mark.parametrize(("size", "sizes", "said"), [
    ("auto", {}, ("auto", ())), ("5", {}, ("5", ())), ("5", {"bust": "4"}, ("5", ())), ("", {}, ("auto", ())),
    ("", {"hip": "6", "bust": "4"}, ("", (("bust", "4"), ("hip", "6")))), ("", {"bust": ""}, ("auto", ()))])
def test_the_size_of_a_recipe(size, sizes, said):
    made = recipe(MakeDoc("Dress", size=size, sizes=sizes))
    assert (made.size, made.sizes) == said


def test_a_reading_is_another_as_soon_as_file_or_names_change():
    file = FileRef("0" * 64, "dress.pdf", "application/pdf", 7)
    docs = [PatternDoc("a", file), PatternDoc("b", FileRef("1" * 64, "dress.pdf", "application/pdf", 7)),
            PatternDoc("a", file, {"name": "x"}), PatternDoc("a", file, {"name": "y"})]
    assert len({reading_key(doc) for doc in docs}) == 4
    assert reading_key(docs[0]) == reading_key(PatternDoc("another name", file, note="x"))
    with pytest.raises(InputError, match="no file yet"):
        reading_key(PatternDoc("a"))


def test_what_is_left_aside_is_not_in_the_recipe_and_the_rest_is_counted_without_it():
    make = MakeDoc("dress", allowances=(AllowanceRow("a", "hem", 40.0, on=False), AllowanceRow("b", "all", 10.0)),
                   extras=(ExtraRow("x", "tie", {"edge": "hem", "length": "ten"}, on=False),
                           ExtraRow("y", "frill", {"edge": "hem", "depth": "8 cm"})))
    found = recipe(make)
    assert [(wish.at, wish.amount) for wish in found.allowances] == [("all", 10.0)]
    assert [wish.kind for wish in found.extras] == ["frill"]
    bad = replace(make, extras=(make.extras[0], replace(make.extras[1], options={"edge": "hem", "depth": "deep"})))
    with pytest.raises(InputError, match="extra piece 1"):
        recipe(bad)


def test_an_allowance_kept_by_an_earlier_program_is_cut():
    kept = msgspec.convert({"title": "dress", "allowances": [{"id": "a", "edge": "hem", "amount": 40.0}]}, MakeDoc)
    assert [wish.amount for wish in recipe(kept).allowances] == [40.0]


def test_corners_and_notches_are_those_of_a_make_file():
    row = CornerRow("c", "sleeve", "hem/underarm", "square", "underarm")
    found = recipe(MakeDoc("dress", corners=(replace(row, piece="cape", on=False), row), notches="outward"))
    assert found.corners == (CornerWish("sleeve", ("hem", "underarm"), CornerCut.SQUARE, "underarm"),)
    assert found.notches is NotchCut.OUTWARD
    assert recipe(MakeDoc("dress")).corners == () and recipe(MakeDoc("dress")).notches is None
    with pytest.raises(InputError, match="corner 1 of the make"):
        recipe(MakeDoc("dress", corners=(replace(row, at="hem"),)))
