"""The alterations screen: what a trial answers, what is refused, and that nothing is saved by looking."""


import pytest
from app.asking import script

from toilewright.app.altering import listed
from toilewright.app.changes import measured
from toilewright.app.choosing import SIDE, offered, slug, told, ways
from toilewright.app.site import create_app
from toilewright.app.words import catalogue
from toilewright.blocks.concert import concert_dress
from toilewright.errors import UnitError
from toilewright.fit.alterations import ALTERATIONS
from toilewright.fit.alterations.kinds import Option
from toilewright.units import show_length
from toilewright.workroom.documents import BodyDoc, Kind, MakeDoc, WishRow


@pytest.fixture(scope="module")
def room(choir):
    return choir


@pytest.fixture(scope="module")
def app(room):
    return create_app(room)


@pytest.fixture(scope="module")
def ask(app):
    return script(app).ask


@pytest.fixture
def make(room):
    """A make of its own, as the demo's."""
    return room.add(Kind.MAKE, room.things(Kind.MAKE)[-1].document, "begun")


@pytest.fixture
def attempt(ask, make):
    def attempt(*rows, **more):
        answer = ask("POST", f"/make/{make.id}/alter/try", json={"rows": list(rows), **more})
        assert answer.status_code == 200, answer.text
        return answer.json()
    return attempt


def row(key, name, amount=None, **more):
    return {"id": key, "name": name, "amount": amount, **more}


def test_a_trial_says_what_each_did_and_saves_nothing(attempt, make, room):
    found = attempt(row("a", "bust dart height"), row("b", "lengthen or shorten", 20, options={"piece": "skirt front"}))
    dart = found["rows"]["a"]
    assert dart["fate"] == "made" and dart["shown"] == "2.3 cm" and dart["reason"] and dart["spread"]
    assert dart["changed"] == ["bodice front"] and "skirt front" in found["rows"]["b"]["changed"]
    assert found["seams"]["off"] == [] and found["ease"]
    assert room.get(make.id).revision == make.revision


def test_what_cannot_be_made_says_so_and_the_others_are_shown(attempt):
    found = attempt(row("a", "bust dart height", 900), row("b", "high round back", 12), row("c", "forward shoulder",
                    {"length": "a bit", "unit": "cm"}))
    assert found["rows"]["a"]["fate"] == "refused" and "bust dart" in found["rows"]["a"]["why"]
    assert found["rows"]["b"]["fate"] == "made" and found["rows"]["b"]["changed"]
    assert found["rows"]["c"]["fate"] == "refused" and '"a bit"' in found["rows"]["c"]["why"]


@pytest.mark.parametrize("length, unit, sign, mm", [("1,5", "cm", 1, 15.0), ("5/8 in", "cm", 1, 15.875),
                                                    ("1.5", "cm", -1, -15.0), ("1/2", "in", 1, 12.7)])
def test_an_amount_is_read_as_she_writes_it(attempt, length, unit, sign, mm):
    amount = {"length": length, "unit": unit, "sign": sign}
    found = attempt(row("a", "waist in or out", amount))
    assert found["rows"]["a"]["amount"] == pytest.approx(mm, abs=0.001)


def test_only_changed_pieces_are_sent_again(attempt):
    first = attempt(row("a", "bust dart height", 10))["picture"]
    known = {p["name"]: p["version"] for p in first["pieces"]}
    again = attempt(row("a", "bust dart height", 15), known=known)["picture"]
    assert len(first["pieces"]) > 1 and changed(again, known) == ["bodice front"]
    assert [p["name"] for p in again["pieces"] if set(p) > {"name", "version", "at"}] == ["bodice front"]


def changed(picture, known):
    return [p["name"] for p in picture["pieces"] if known.get(p["name"]) != p["version"]]


def test_only_the_chosen_one_has_handles(attempt):
    rows = row("a", "bust dart height", 10), row("b", "high round back", 12)
    assert attempt(*rows)["handles"] is None
    found = attempt(*rows, chosen="a")["handles"]
    assert [h["piece"] for h in found] == ["bodice front"] and found[0]["amount"] == 10


def test_one_switched_off_is_not_made(attempt):
    assert "a" not in attempt(row("a", "bust dart height", 10, on=False))["rows"]


def test_the_trial_of_what_is_kept_gives_the_list_too(ask, make):
    found = ask("POST", f"/make/{make.id}/alter/try", json={"rows": None}).json()
    assert [(one["name"], one["standing"]) for one in found["list"]][:2] == [
        ("high round back", True), ("forward shoulder", True)]
    assert set(found["rows"]) == {one["id"] for one in found["list"]}


def test_a_standing_one_changed_for_this_make_is_listed_once():
    body = BodyDoc("alto", alterations=(WishRow("s", "high round back"), WishRow("t", "forward shoulder")))
    make = MakeDoc("dress", alterations=(WishRow("m", "high round back", 9.0),), without=("forward shoulder",))
    assert [(one.id, one.standing, one.always, one.row.on) for one in listed(make, body)] == [
        ("t", True, False, False), ("m", False, True, True)]


def test_an_earlier_make_offers_what_it_had_and_what_to_change(ask, room, make):
    doc = make.document
    answer = ask("POST", f"/things/{make.id}/change", json={"base": make.revision, "words": "diary", "set": [
        [["diary", "+"], {"date": "2026-11-02", "kind": "change", "text": "2 cm longer next time"}]]})
    assert answer.status_code == 200, answer.text
    fresh = room.add(Kind.MAKE, MakeDoc("Second dress", body=doc.body, pattern=doc.pattern), "begun")
    page = ask("GET", f"/make/{fresh.id}/alter").text
    assert "2 cm longer next time" in page and "data-take-all" in page
    assert '"touched": ["Concert dress for the alto"' in page


def test_a_make_without_a_body_says_where_to_begin(ask, room):
    bare = room.add(Kind.MAKE, MakeDoc("Nothing yet"), "begun")
    page = ask("GET", f"/make/{bare.id}/alter")
    assert page.status_code == 200 and f"/make/{bare.id}/measure" in page.text


@pytest.mark.parametrize("unit", ["cm", "in"])
def test_what_is_shown_are_the_numbers_of_the_whole_make(ask, app, room, make, unit):
    answer = ask("POST", "/look", json={"unit": unit})
    assert answer.status_code == 200, answer.text
    try:
        found = ask("POST", f"/make/{make.id}/alter/try", json={"rows": None}).json()
    finally:
        ask("POST", "/look", json={"unit": "cm"})
    outcome = app.state.table.outcome(make.id, unit=unit)
    names = {one["id"]: one["name"] for one in found["list"]}
    made = {names[key]: one["amount"] for key, one in found["rows"].items() if one["fate"] == "made"}
    assert made == {d.order.name: pytest.approx(d.order.amount.value, abs=0.001) for d in outcome.altered.done}
    small = {names[key] for key, one in found["rows"].items() if one["fate"] == "too small"}
    assert small == {name for name, _ in outcome.skipped}
    assert {one["place"]: one["ease"] for one in found["ease"]} == {
        e.place: show_length(e.ease.value, unit) for e in outcome.ease if e.ease is not None}
    assert found["seams"] == {"all": len(outcome.walks), "off": [
        {"name": w.seam, "note": w.note} for w in outcome.walks if not w.sews]}
    assert found["picture"]["unit"] == unit


def test_every_alteration_says_what_she_sees_and_which_ways_it_goes():
    seen = {one.name: one for room in offered(concert_dress().at("4")) for one in room.offers}
    assert set(seen) == set(ways()) == {one.name for one in ALTERATIONS}
    assert len({one.see for one in seen.values()}) == len(seen)
    for one in ALTERATIONS:
        words = ways()[one.name]
        assert words["plus"] and bool(words["minus"]) == (one.sane[0] < 0) and words["plus"] != words["minus"]


def test_one_left_out_of_this_make_keeps_its_row_and_comes_back(ask, make):
    def change(without, base):
        answer = ask("POST", f"/things/{make.id}/change", json={
            "base": base, "words": "left out", "set": [[["without"], without]]})
        assert answer.status_code == 200, answer.text
        found = ask("POST", f"/make/{make.id}/alter/try", json={"rows": None}).json()
        first = next(one for one in found["list"] if one["name"] == "high round back")
        return answer.json()["revision"], first, found["rows"].get(first["id"])

    revision, first, fate = change(["high round back"], make.revision)
    assert (first["standing"], first["on"], fate) == (True, False, None)
    _, first, fate = change([], revision)
    assert first["on"] and fate["fate"] == "made"


def test_pieces_and_lines_to_choose_from_are_those_that_can_be_altered(ask, make):
    found = ask("GET", f"/make/{make.id}/alter/choices", params={"name": "lengthen or shorten"}).json()
    rows = {row["key"]: [value for value, _ in row["words"]] for row in found}
    assert {"bodice front", "skirt front", "sleeve"} <= set(rows["piece"]) and rows["line"]
    assert rows["side"] == ["left", "right"] and next(row for row in found if row["key"] == "up")["field"]
    forward = ask("GET", f"/make/{make.id}/alter/choices", params={"name": "forward shoulder"}).json()
    assert [row["key"] for row in forward if row["words"]] == ["neck", "side"]
    unknown = ask("GET", f"/make/{make.id}/alter/choices", params={"name": "full busts"})
    assert unknown.status_code == 404 and "full bust" in unknown.json()["error"]["text"]


def test_her_bust_point_stays_where_the_tape_puts_it_while_the_dart_moves(attempt):
    aims = [attempt(row("a", "bust dart height", mm))["aim"] for mm in (-10, 5, 30)]
    assert {aim["piece"] for aim in aims} == {"bodice front"}
    for aim in aims[1:]:
        assert aim["at"] == pytest.approx(aims[0]["at"], abs=0.05)
    right = attempt(row("a", "bust dart height"))
    point = next(p for piece in right["picture"]["pieces"] if piece["name"] == "bodice front"
                 for p in piece["points"] if p["name"] == "bust point")
    assert point["at"] == pytest.approx(aims[0]["at"], abs=0.05)
    assert "points at the height" in right["dart"]


def test_an_amount_is_saved_as_she_wrote_it():
    assert measured({"length": "1,5", "unit": "cm", "sign": -1}) == -15.0
    assert measured({"name": "full bust", "amount": {"length": "1/2", "unit": "in", "sign": 1}})["amount"] == 12.7
    assert measured({"name": "full bust", "amount": None})["amount"] is None
    with pytest.raises(UnitError, match="much"):
        measured({"length": "much", "unit": "cm", "sign": 1})


def test_an_alteration_that_finds_no_place_says_what_it_needs_and_is_still_found():
    dress = concert_dress().at("4")
    trousers = next(room for room in offered(dress) if room.name == "trousers")
    assert not trousers.can and all("needs" in one.why for one in trousers.cannot)
    bust = next(room for room in offered(dress) if "bust" in room.name)
    dart = next(one for one in bust.can if one.name == "bust dart height")
    assert "dart ends below the bust point" in dart.words, "what the toile shows leads there too"


def test_every_option_has_words_for_the_page():
    options = {o for one in ALTERATIONS for o in (*one.options, SIDE) if isinstance(o, Option)}
    assert {o for o in options if f"options.name_{slug(o)}" not in catalogue()} == set()
    assert told({"side": "both", "piece": "sleeve", "up": "10 cm"}) == "sleeve, 10 cm up"


def test_what_her_body_asks_for_is_ranked_with_amount_reason_and_what_waits(ask, make):
    found = ask("GET", f"/make/{make.id}/alter/prescribed").json()
    rows = {row["name"]: row for row in found["rows"]}
    dart = rows["bust dart height"]
    assert dart["worth"] and not dart["aside"] and dart["shown"].startswith(show_length(dart["amount"]))
    assert "±" in dart["shown"] and "bust point" in dart["reason"]
    worth = [row["worth"] for row in found["rows"]]
    assert worth == sorted(worth, reverse=True)
    waiting = {name for row in found["rows"] for name in row["needs"]}
    assert found["next"] in waiting
    changed = ask("POST", f"/things/{make.id}/change", json={
        "base": make.revision, "words": "aside", "set": [[["aside"], [dart["key"]]]]})
    assert changed.status_code == 200, changed.text
    again = ask("GET", f"/make/{make.id}/alter/prescribed").json()
    assert [row["name"] for row in again["rows"] if row["aside"]] == ["bust dart height"]
