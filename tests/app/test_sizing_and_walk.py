"""Size, ease and the walk: what the pages say, and what a change would do before it is made."""

import re
from dataclasses import replace
from html import unescape

import pytest
from app.asking import script

from toilewright.app.ease_pictures import Zone, lens_picture, moved, seam_picture, strip_picture, window_of
from toilewright.app.site import create_app
from toilewright.app.sizing import state_of, strips
from toilewright.app.steps import Place
from toilewright.app.table import NotReadYet
from toilewright.app.waiting import mended_in
from toilewright.app.walking import seam_rows
from toilewright.errors import AlterationError, InputError
from toilewright.make.keeping import pack_reading
from toilewright.make.outcome import make_up
from toilewright.workroom.documents import BodyDoc, Kind, MakeDoc, TapeSheet
from toilewright.workroom.recipes import reading_key

INCHES = {"cookie": "unit=in"}


@pytest.fixture(scope="module")
def room(choir):
    return choir


@pytest.fixture(scope="module")
def client(room):
    return script(create_app(room))


@pytest.fixture
def make(room):
    """A make of its own, as the demo's."""
    return room.add(Kind.MAKE, room.things(Kind.MAKE)[-1].document, "begun")


def body_with(room, **measures):
    return room.add(Kind.BODY, BodyDoc("a tenor", sheets=(TapeSheet("s1", "2026-11-01", measures),)), "measured").id


def ask(client, make, rows, way="would", **more):
    answer = client.post(f"/make/{make.id}/{way}", json={"set": rows, **more})
    assert answer.status_code == 200, answer.text
    return answer.json()


# -- the drawings --------------------------------------------------------------------------------------


def test_the_gap_is_as_wide_as_the_ease():
    window = window_of([-40.0, 60.0, 150.0])
    one, two = moved(window, 50.0), moved(window, 100.0)
    assert two["gap"] == pytest.approx(2 * one["gap"], abs=0.02)
    assert one["from"] == window.at(0.0) and one["end"] == pytest.approx(one["from"] + one["gap"], abs=0.02)
    lacking = moved(window, -30.0)
    assert lacking["end"] == lacking["from"] < window.at(0.0)


def test_a_size_beyond_the_drawing_runs_off_it_and_no_farther():
    window = window_of([0.0, 900.0])
    assert moved(window, 900.0)["end"] == 100.0 and not window.holds(900.0)


def strip(unit="cm", **more):
    given = {"ease": 71.0, "spread": 10.0, "zone": Zone(50.8, (76.2, 101.6)), "wanted": None, **more}
    nest = {"4": 27.0, "5": 71.0, "6": 116.0}
    window = window_of(nest.values())
    words = {"label": "bust", "body": "body <b>"}
    return window, strip_picture(window, 955.0, nest, "5", given["ease"], given["spread"], given["zone"],
                                 given["wanted"], unit, words)


def test_a_strip_shows_sizes_tape_body_and_how_sure():
    window, svg = strip()
    assert re.findall(r'data-size="(\d+)"', svg) == ["4", "5", "6"] and svg.count("size chosen") == 1
    assert f'class="soft" x="-{window.share(10.0)}%"' in svg
    assert 'class="least"' in svg and 'class="usual"' in svg and 'class="wanted"' not in svg
    assert ">100</text>" in svg and "&lt;b&gt;" in svg and "style=" not in svg


def test_the_tape_reads_in_inches_too():
    assert ">40</text>" in strip("in")[1] and ">100</text>" not in strip("in")[1]


def test_an_open_end_and_a_wish():
    window, svg = strip(zone=Zone(50.8, (50.8, None)), wanted=80.0)
    assert 'class="usual open"' in svg and 'class="least"' not in svg
    assert f'class="wanted" x="{window.at(80.0)}%"' in svg


def test_both_sides_of_a_seam_at_one_scale():
    svg = seam_picture(200.0, 250.0, 250.0, [(100.0, 100.0, True), (150.0, 190.0, False)], "side seam")
    assert 'class="side-a" x="0" y="8" width="80.0%"' in svg and 'class="side-b" x="0" y="30" width="100.0%"' in svg
    assert svg.count('class="notch off"') == 2 and svg.count('class="notch"') == 2
    gathered = seam_picture(200.0, 360.0, 200.0, [(100.0, 180.0, True)], "frill")
    assert 'side-b gathered" x="0" y="30" width="100.0%"' in gathered and gathered.count('x="50.00%"') == 2


def test_the_lens_shows_what_is_allowed():
    assert 'class="side-b off"' in lens_picture(9.0, (-1.0, 1.0), False, "end")
    assert 'class="side-b"' in lens_picture(8.0, (-1.0, 14.0), True, "end")


def test_states_of_ease():
    usual = (76.2, 101.6)
    assert [state_of(e, 50.8, usual) for e in (30.0, 60.0, 90.0, 120.0)] == ["short", "close", "usual", "roomy"]
    assert state_of(500.0, 50.8, (50.8, None)) == "usual" and state_of(10.0, None, None) == "unknown"


# -- size and ease -------------------------------------------------------------------------------------


def test_the_page_says_size_ease_and_why(client, make):
    text = client.get(f"/make/{make.id}/size").text
    assert "Cut the straight size 5." in text and "7.1 cm" in text and "give or take 1.0 cm" in text
    assert "The handbooks ask 5.1 cm at least; 7.6 cm to 10.2 cm is usual." in text
    assert "New Mexico State University" in text and "by tape" in text
    assert text.count('class="strip-picture"') == 4
    inches = client.get(f"/make/{make.id}/size", headers=INCHES).text
    assert "2 3/4 in" in inches and "nearest to size 5 (35 in)" in inches


def test_every_size_is_at_hand_for_stepping(client, room, make):
    found = {s.row.place: s for s in strips(client.app.state.table.sized(make.id))}
    assert set(found) == {"bust", "waist", "hip", "upper arm"}
    assert list(found["waist"].choices) == [str(n) for n in range(1, 11)]
    four = found["waist"].choices["4"]
    assert four["state"] == "short" and four["lacking"] and "1.8 cm is lacking" in four["sentence"]
    ends = [c["end"] for c in found["hip"].choices.values()]
    assert ends == sorted(ends)


def test_another_size_is_looked_at_and_nothing_is_saved(client, room, make):
    seen = ask(client, make, [[["size"], "6"]], "size/look")
    assert seen["size"] == "6" and "11.6 cm" in seen["strips"]["bust"]
    text = " ".join(d["text"] for d in seen["differences"])
    assert "The size to cut is 6 instead of 5." in text and "Bust dart height" in text
    assert room.get(make.id).document == make.document


def test_a_blend_is_looked_at(client, make):
    rows = [[["size"], ""], *([["sizes", p], s] for p, s in (("bust", "5"), ("waist", "6"), ("hip", "6")))]
    seen = ask(client, make, rows, "size/look")
    assert seen["cut"] == {"bust": "5", "waist": "6", "hip": "6"} and seen["size"] == "bust 5, waist 6, hip 6"
    assert any("skirt front" in d["text"] for d in seen["differences"] if d["kind"] == "pieces")


def test_a_wish_for_more_ease_is_read_in_her_unit_and_shown_on_the_tape(client, make):
    seen = ask(client, make, [[["ease", "waist"], {"length": "7 1/2", "unit": "cm"}]], "size/look")
    assert "you want 7.5 cm" in seen["strips"]["waist"] and 'class="wanted"' in seen["strips"]["waist"]
    # 3 cm are there in size 5: so much more room is only in the next size, which the advice takes at the waist.
    assert seen["cut"] == {"bust": "5", "waist": "6", "hip": "5"}
    bad = client.post(f"/make/{make.id}/size/look",
                      json={"set": [[["ease", "waist"], {"length": "roomy", "unit": "cm"}]]})
    assert bad.status_code == 422 and "cannot be read as a length" in bad.json()["error"]["text"]


def test_what_a_change_of_the_body_would_do(client, room, make):
    sheet = room.get(make.document.body).document.sheets[-1]
    rows = [[["sheets", sheet.id, "measures", "waist girth"], {"length": "82", "unit": "cm"}]]
    found = ask(client, make, rows, thing=make.document.body)["differences"]
    waist = next(d for d in found if d["about"] == ["waist"])
    assert "instead of 3.0 cm" in waist["text"]
    assert ask(client, make, [])["differences"] == []
    other = body_with(room, **{"waist girth": 800.0})
    refused = client.post(f"/make/{make.id}/would", json={"set": [], "thing": other})
    assert refused.status_code == 422 and "only with its body" in refused.json()["error"]["text"]


def test_what_cannot_be_worked_out_is_said_calmly(client, room, make):
    gone = ask(client, make, [[["size"], "22"]])
    assert gone["stuck"] and '"22"' in gone["remark"] and gone["differences"] == []
    stuck = room.add(Kind.MAKE, replace(make.document, size="22"), "x")
    answer = ask(client, stuck, [[["size"], "5"]])
    assert not answer["stuck"] and "with this they can" in answer["remark"]
    assert "seen when they are reached" in ask(client, stuck, [[["size"], "23"]])["remark"]


def test_what_is_missing_is_named_with_the_way_there(client, room, make):
    def page(**more):
        return room.add(Kind.MAKE, replace(make.document, **more), "x").id

    def size(make_id):
        return unescape(client.get(f"/make/{make_id}/size").text)

    one = page(body="")
    assert "no body yet" in size(one) and f'href="/make/{one}/measure"' in size(one)
    one = page(pattern="")
    assert "no pattern yet" in size(one) and f'href="/make/{one}/pattern"' in size(one)
    one = page(body=body_with(room, **{"wrist girth": 160.0}))
    assert "No size can be chosen for a tenor" in size(one) and f'href="/make/{one}/measure"' in size(one)
    one = page(body=body_with(room, **{"bust girth": 950.0}))
    assert 'no "hip girth", so the ease at the hip cannot be told' in size(one)
    assert "Before the seams can be walked" in client.get(f"/make/{page(body='')}/walk").text


@pytest.mark.parametrize(("here", "body", "pattern", "problem", "step"), [
    ("walk", "", "p", InputError("x"), "measure"),
    ("size", "b", "p", InputError("x"), "measure"),
    ("cards", "b", "", InputError("x"), "pattern"),
    ("size", "b", "p", NotReadYet("x"), "pattern"),
    ("print", "b", "p", AlterationError("x"), "alter"),
    ("alter", "b", "p", AlterationError("x"), "size"),
    ("print", "b", "p", InputError("x"), "size")])
def test_what_stops_a_step_is_put_right_in_one_before_it(here, body, pattern, problem, step):
    place = Place("m", MakeDoc("dress", body, pattern=pattern), here)
    assert mended_in(place, problem) == step


def test_a_pattern_without_a_chart_says_where_to_type_it_in(client, room, make):
    reading = client.app.state.table.reading(make.document.pattern)
    doc = replace(room.get(make.document.pattern).document, labels={"another": "naming"})
    room.keep(reading_key(doc), pack_reading(replace(reading, pattern=replace(reading.pattern, chart=None))))
    pattern = room.add(Kind.PATTERN, doc, "without its chart")
    bare = room.add(Kind.MAKE, replace(make.document, pattern=pattern.id), "begun")
    text = client.get(f"/make/{bare.id}/size").text
    assert "No body chart is known" in text and f'href="/pattern/{pattern.id}"' in text
    assert "Without a chart for the bust, the pieces decide" in text


# -- the walk --------------------------------------------------------------------------------------------


def test_every_seam_is_shown_with_both_lengths(client, room, make):
    text = client.get(f"/make/{make.id}/walk").text
    outcome = client.app.state.table.outcome(make.id)
    assert f"All {len(outcome.walks)} seams sew" in text and "It may be printed." in text
    assert text.count('class="seam-picture"') == text.count('class="lens-picture"') == len(outcome.walks)
    assert "gathered onto the first, 1.8 to 1" in text and "8 mm longer and is eased in" in text
    assert 'data-settle="walk"' in text


def broken(outcome, **seams):
    walks = tuple(replace(w, **seams[w.seam.replace(" ", "_")]) if w.seam.replace(" ", "_") in seams else w
                  for w in outcome.walks)
    return replace(outcome, walks=walks)


def test_seams_that_do_not_sew_come_first_with_what_to_do_and_where(client, make):
    outcome = make_up(client.app.state.table.sized(make.id))
    off = broken(outcome, shoulder={"difference": 19.0, "sews": False}, armhole={"note": "a corner"})
    rows = seam_rows(off, make.id)
    assert [r.state for r in rows[:3]] == ["stop", "look", "sews"]
    assert rows[0].how == ("The second side is 6 mm too long: take that much out of the bodice back shoulder, or let "
                           "the bodice front shoulder out as much.")
    assert f"/make/{make.id}/alter#forward%20shoulder" in [c.address for c in rows[0].causes]
    assert all(c.address.startswith(f"/make/{make.id}/alter#") for c in rows[0].causes)
    assert any(c.text.startswith("Forward shoulder changed bodice front") for c in rows[0].causes)
    assert 'class="side-b off"' in rows[0].lens


def test_a_seam_bought_so_leads_to_its_names(client, make):
    outcome = make_up(client.app.state.table.sized(make.id))
    off = broken(outcome, shoulder={"difference": -5.0, "sews": False})
    off = replace(off, walks_before=tuple(replace(w, sews=False) if w.seam == "shoulder" else w
                                          for w in off.walks_before))
    (cause,) = seam_rows(off, make.id)[0].causes
    assert cause.address == f"/make/{make.id}/pattern" and "wrong name" in cause.text


def test_notches_that_do_not_meet_say_by_how_much(client, make):
    outcome = make_up(client.app.state.table.sized(make.id))
    pairs = next(w for w in outcome.walks if w.seam == "side seam").notches
    off = broken(outcome, side_seam={"notches": (replace(pairs[0], offset=7.0),)})
    row = seam_rows(off, make.id)[0]
    assert (row.name, row.state) == ("side seam", "look") and [n.words for n in row.notches] == ["off by 7 mm"]
    assert not row.causes and row.angles


def test_an_empty_make_waits(client, room):
    empty = room.add(Kind.MAKE, MakeDoc("Nothing yet"), "x")
    for step in ("size", "walk"):
        assert "no body yet" in client.get(f"/make/{empty.id}/{step}").text
