"""Makes on the table, printing, cards, history: what the pages show, over a real store."""

import datetime
import io
import zipfile
from dataclasses import replace

import pytest
from app.asking import Client

from toilewright.app.differences import differences
from toilewright.app.making import begun, on_table, reminders
from toilewright.app.printing import Prints, as_zip, file_of, print_stamp, saved_name
from toilewright.app.screens.cards import shown
from toilewright.app.shelving import facts, fields
from toilewright.app.site import create_app
from toilewright.errors import NameUnknown
from toilewright.make.deliver import write_outcome
from toilewright.workroom.documents import BodyDoc, ClothDoc, DiaryRow, Kind, MakeDoc, TapeSheet, WishRow
from toilewright.workroom.store import Workroom

JSON = {"accept": "application/json"}
WISH = WishRow("w", "bust dart height", -20.0)
OLD = MakeDoc("spring dress", "b", pattern="p", size="6", ease={"bust": 80.0}, alterations=(WISH,), papers=("letter",),
              diary=(DiaryRow("d1", "2026-03-01", "change", "hem 2 cm longer"), DiaryRow("d2", "2026-03-02", "worn"),
                     DiaryRow("d3", "2026-03-05", "worked", "the collar")), settled={"size": "2026-02-01 abc"})


@pytest.fixture
def room(tmp_path):
    one = Workroom.open(tmp_path / "home")
    yield one
    one.close()


@pytest.fixture(scope="module")
def demo(choir):
    return choir


@pytest.fixture(scope="module")
def browser(demo):
    return Client(create_app(demo))


def add_make(room, make):
    return room.add(Kind.MAKE, make, "begun")


def test_from_last_time_takes_what_belongs_to_the_body_and_what_the_pattern_allows(room):
    last = add_make(room, OLD)
    same, other = begun("new", "b", "p", last), begun("new", "b", "q", last)
    assert same.alterations == other.alterations == (WISH,)
    assert (same.papers, same.ease, same.started_from) == (("letter",), {"bust": 80.0}, last.id)
    assert (same.size, other.size) == ("6", "auto")
    assert same.diary == () and same.settled == {}
    assert begun("new", "", "", None) == MakeDoc("new")


def test_what_she_wanted_to_change_comes_up_for_the_same_body_or_pattern(room):
    last = add_make(room, OLD)
    things = room.things(Kind.MAKE)
    assert [r.row.text for r in reminders(things, body="b")] == ["hem 2 cm longer"]
    assert [r.row.text for r in reminders(things, pattern="p")] == ["hem 2 cm longer"]
    assert reminders(things, "other", "another") == ()
    assert reminders(things, "b", "p", but=last.id) == ()


def test_a_make_lies_on_the_table_with_its_next_step_and_how_often_it_was_worn(room):
    body = room.add(Kind.BODY, BodyDoc("an alto", sheets=(TapeSheet("s", "2026-01-01"),)), "measured")
    add_make(room, replace(OLD, body=body.id, pattern=""))
    (one,) = on_table(room)
    assert (one.next.key, one.worn, one.place.body.name, one.place.pattern) == ("measure", 1, "an alto", None)
    room.remove(one.thing.id)
    assert on_table(room) == ()


def test_differences_are_told_in_words_and_in_her_unit():
    now = BodyDoc("the alto", sheets=(TapeSheet("s", "2026-11-20", {"bust girth": 955.0, "shoulder slope": 21.0}),),
                  alterations=(WISH,))
    then = BodyDoc("an alto", sheets=(TapeSheet("s", "2026-11-20", {"bust girth": 940.0}),))
    found = {d.where: (d.now, d.then) for d in differences(now, then, "cm", str)}
    assert found == {
        "name": ("the alto", "an alto"), "alteration": ("bust dart height, -2.0 cm, made", ""),
        "tape sheet, 2026-11-20, measures, bust girth": ("95.5 cm", "94.0 cm"),
        "tape sheet, 2026-11-20, measures, shoulder slope": ("21 degrees", "")}
    assert differences(now, now, "cm", str) == ()
    (one,) = differences(replace(OLD, body="b"), replace(OLD, body="c"), "in", {"b": "Ann", "c": "Bea"}.get)
    assert (one.now, one.then) == ("Ann", "Bea")
    (one,) = differences(OLD, replace(OLD, settled={}), "cm", str)
    assert one.now == "settled on 2026-02-01"


def test_cloth_in_a_few_words_in_both_units():
    cloth = ClothDoc("crepe", "viscose crepe", 1400.0, 2743.2, 169.5287, "fluid", True)
    assert facts(cloth, "cm") == ["viscose crepe", "140.0 cm wide", "2.74 m there", "170 g/m²", "fluid", "washed"]
    assert facts(cloth, "in")[1:4] == ["55 1/8 in wide", "3.00 yd there", "5.0 oz/yd²"]
    assert facts(ClothDoc("x", drape="drapey"), "cm") == ["drapey", "not washed yet"]
    assert {name: text for name, text in fields(cloth, "in").items() if text} == {
        "width": "55 1/8", "length": "3.00", "weight": "5.0"}


def test_the_pages_answer_before_there_is_anything(room):
    page = Client(create_app(room))
    for address in ("/", "/shelf", "/keeping", "/help"):
        assert page.get(address).status_code == 200, address
    made = page.post("/makes", json={"title": " ", "new_body": "a soprano"}).json()["id"]
    make = room.get(made).document
    assert make.title == "A new make" and room.get(make.body).document.name == "a soprano"
    for step in ("print", "cards"):
        answer = page.get(f"/make/{made}/{step}")
        assert answer.status_code == 200 and "has no pattern yet" in answer.text
    assert page.get(f"/make/{made}/picture").text == ""
    assert page.post("/makes", json={"title": "x", "body": "nobody"}, headers=JSON).status_code == 404


def test_the_day_of_measuring_is_on_the_printed_files(demo, browser):
    place = browser.app.state.table.place(demo.things(Kind.MAKE)[0].id, "print")
    (sheet,) = place.body.sheets
    later = replace(place, body=replace(place.body, sheets=(replace(sheet, date="2026-12-01"),)))
    assert print_stamp(later, "cm") != print_stamp(place, "cm") != print_stamp(place, "in")


def test_a_look_that_is_none_is_refused_in_a_sentence(browser):
    for sent in ({"unit": "ell"}, {"unit": 3}, [], "unit"):
        answer = browser.post("/look", json=sent, headers=JSON)
        assert answer.status_code == 422 and answer.json()["error"]["text"]


def test_files_are_there_until_something_changes_and_a_stop_leaves_none(demo, browser):
    table, (make,) = browser.app.state.table, demo.things(Kind.MAKE)
    outcome = table.outcome(make.id)
    prints, seen = Prints(), []
    made = prints.write(make.id, "now", outcome, lambda words="", done=0, of=0: seen.append((words, done, of)))
    assert prints.of(make.id, "now") is made and prints.of(make.id, "later") is None
    assert [done for _, done, _ in seen] == list(range(len(made.files)))
    assert ("Pieces on A4 sheets", 1, len(made.files)) in seen
    names = zipfile.ZipFile(io.BytesIO(as_zip(made, "My dress"))).namelist()
    assert "my-dress-pieces-a4.pdf" in names and len(names) == len(made.files)
    with pytest.raises(NameUnknown, match="make the files again"):
        file_of(made, "../secret")
    again = prints.write(make.id, "later", outcome, lambda *a, **k: None)
    assert not made.folder.exists() and again.folder.exists()


def test_a_stop_while_writing_leaves_nothing(demo, browser, tmp_path):
    class Enough(BaseException):
        pass

    def tell(done, of, name):
        if done == 2:
            raise Enough

    (make,) = demo.things(Kind.MAKE)
    with pytest.raises(Enough):
        write_outcome(browser.app.state.table.outcome(make.id), tmp_path / "out", tell)
    assert not (tmp_path / "out").exists() or list((tmp_path / "out").iterdir()) == []


def test_how_the_sheets_lie(demo, browser):
    (make,) = demo.things(Kind.MAKE)
    a4 = browser.get(f"/make/{make.id}/print/plan/a4").text
    assert "55 sheets" in a4 and a4.count('class="page-name"') == 54
    assert "projector" not in a4 and "13 pieces" in browser.get(f"/make/{make.id}/print/plan/projector").text
    assert browser.get(f"/make/{make.id}/print/plan/vellum").status_code == 404


def test_a_card_is_shown_in_her_unit_and_forgets_its_ticks_when_it_changes(demo, browser):
    (make,) = demo.things(Kind.MAKE)
    card = browser.app.state.table.outcome(make.id).altered.done[0].card
    cm, inches = shown(card, "cm"), shown(card, "in")
    assert "mm}" not in " ".join((*cm.steps, *cm.check, *(p for p, _ in cm.pictures)))
    assert cm.steps != inches.steps and cm.key != inches.key and shown(card, "cm").key == cm.key
    assert browser.get(f"/make/{make.id}/cards.pdf").content.startswith(b"%PDF")


def test_pictures_are_known_by_their_bytes(demo, browser):
    png = b"\x89PNG\r\n\x1a\n" + bytes(20)
    ref = browser.post("/pictures", files={"file": ("collar.txt", png)}).json()
    assert (ref["name"], ref["kind"]) == ("collar.txt", "image/png")
    assert browser.get(f"/pictures/{ref['sha']}").content == png
    wrong = browser.post("/pictures", files={"file": ("collar.png", b"<svg onload=x>")}, headers=JSON)
    assert wrong.status_code == 422 and "no picture that can be shown" in wrong.json()["error"]["text"]
    pattern = demo.things(Kind.PATTERN)[0].document.file.sha
    assert browser.get(f"/pictures/{pattern}").status_code == 422


def test_names_of_saved_files_are_plain():
    assert saved_name("Kleid für Änne / 2", "cards.pdf") == "kleid-fur-anne-2-cards.pdf"
    assert saved_name("コンサート", "a.pdf") == "a.pdf"
    assert len(saved_name("x" * 500, "cards.pdf")) <= 120


def test_history_shows_what_would_differ_and_who_did_it(room):
    thing = add_make(room, OLD)
    room.change(thing.id, 1, [(("title",), "summer dress")], "renamed", by="phone at the machine")
    page = Client(create_app(room))
    text = page.get(f"/thing/{thing.id}/history?at=1").text
    assert "renamed" in text and "phone at the machine" in text
    assert "summer dress" in text and "spring dress" in text
    assert page.get(f"/thing/{thing.id}/history?at=none").status_code == 422
    assert datetime.date.today().isoformat() in text
