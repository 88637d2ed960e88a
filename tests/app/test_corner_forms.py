"""Corners and notches on the cloth step: offered, set, told in words, left aside, taken out."""

import html
from dataclasses import replace

import pytest
from app.asking import script

from toilewright.app.corner_forms import corner_name, corner_offers, cut_words, same_corner
from toilewright.app.differences import differences
from toilewright.app.site import create_app
from toilewright.app.steps import part_stamps
from toilewright.app.table import Table
from toilewright.cutting.allowances import corners_of
from toilewright.pattern.parts import EdgeKind
from toilewright.workroom.documents import CornerRow, Kind, MakeDoc


@pytest.fixture
def ask(choir):
    return script(create_app(choir)).ask


@pytest.fixture
def make(choir):
    """A make whose corners and notches are as they were before, behind each test."""
    found = choir.things(Kind.MAKE)[0]
    yield found.id
    rows = [(("corners", row.id), None) for row in choir.get(found.id).document.corners]
    choir.change(found.id, choir.get(found.id).revision, [*rows, (("notches",), "")], "cleared")


@pytest.fixture
def hem(choir, make):
    """A corner at a hem, as the form offers it."""
    outcome = Table(choir).outcome(make)
    return next(one for one in corner_offers(outcome)
                if outcome.altered.garment.piece(one.piece).edge(one.after).kind is EdgeKind.HEM)


def page_of(ask, make):
    answer = ask("GET", f"/make/{make}/cloth", headers={"accept": "text/html"})
    assert answer.status_code == 200
    return html.unescape(answer.text)


def cut_at(choir, make, offer):
    """How that corner is cut, and which edge of it comes first."""
    piece = Table(choir).outcome(make).altered.garment.piece(offer.piece)
    corner = next(c for c in corners_of(piece) if (c.before, c.after) == (offer.before, offer.after))
    return corner.cut.value, corner.first


def put(ask, make, offer, cut, first="", turned=False):
    edges = (offer.after, offer.before) if turned else (offer.before, offer.after)
    return ask("POST", f"/make/{make}/extras/corner",
               json={"piece": offer.piece, "at": "/".join(edges), "cut": cut, "first": first})


def test_a_corner_is_set_told_set_again_left_aside_and_undone(choir, make, hem, ask):
    as_usual, before = cut_at(choir, make, hem), choir.get(make).document
    assert as_usual == ("folded", hem.after) and f"now folded back, {hem.after} turned" in hem.text
    assert put(ask, make, hem, "square", hem.before).status_code == 200
    row = choir.get(make).document.corners[0]
    assert cut_at(choir, make, hem) == ("square", hem.before)
    text = page_of(ask, make)
    assert f"{hem.piece}, {hem.before} and {hem.after}: square to {hem.before}" in text
    assert f"{hem.piece}, {hem.before} and {hem.after} – now square to {hem.before}" in text
    assert put(ask, make, hem, "mitred", hem.before, turned=True).status_code == 200
    again = choir.get(make).document.corners
    assert [(one.id, one.cut, one.first) for one in again] == [(row.id, "mitred", "")]
    assert cut_at(choir, make, hem) == ("mitred", "")
    for on, cut in ((False, as_usual), (True, ("mitred", ""))):
        said = ask("POST", f"/make/{make}/extras/aside", json={"among": "corners", "id": row.id, "on": on})
        assert said.status_code == 200 and cut_at(choir, make, hem) == cut
    for _ in range(4):
        assert ask("POST", f"/things/{make}/undo", json={"base": choir.get(make).revision}).status_code == 200
    assert choir.get(make).document == before
    assert put(ask, make, hem, "square").status_code == 200
    row = choir.get(make).document.corners[0]
    assert ask("POST", f"/make/{make}/extras/out", json={"among": "corners", "id": row.id}).status_code == 200
    assert cut_at(choir, make, hem) == as_usual


def test_notches_are_cut_as_she_says_and_as_the_pattern_has_them_again(choir, make, ask):
    def cuts():
        return {n.cut.value for p in Table(choir).outcome(make).altered.garment.pieces for n in p.notches}
    as_bought = cuts()
    for cut, words in (("outward", "stand out"), ("clipped", "clipped into")):
        assert ask("POST", f"/make/{make}/extras/notches", json={"cut": cut}).status_code == 200
        assert cuts() == {cut} and f"Notches: {words}" in page_of(ask, make).replace("small points that ", "")
    assert ask("POST", f"/make/{make}/extras/notches", json={"cut": ""}).status_code == 200
    assert cuts() == as_bought and "Notches: " not in page_of(ask, make)


def test_what_cannot_be_used_is_refused_in_one_sentence_and_changes_nothing(choir, make, hem, ask):
    before = choir.get(make).revision
    for said, names in (({"piece": ""}, "Choose a corner"), ({"at": ""}, "Choose a corner"), ({"cut": ""}, "how it is"),
                        ({"cut": "round"}, "round"), ({"at": hem.before}, "two edges"), ({"piece": "cape"}, "cape"),
                        ({"at": f"{hem.before}/nowhere"}, "nowhere"), ({"first": "nowhere"}, "nowhere")):
        asked = {"piece": hem.piece, "at": f"{hem.before}/{hem.after}", "cut": "square"} | said
        answer = ask("POST", f"/make/{make}/extras/corner", json=asked)
        assert 400 <= answer.status_code < 500 and names in answer.json()["error"]["text"], answer.text
    answer = ask("POST", f"/make/{make}/extras/notches", json={"cut": "torn"})
    assert 400 <= answer.status_code < 500 and "torn" in answer.json()["error"]["text"]
    assert choir.get(make).revision == before


def test_every_corner_that_is_offered_can_be_cut_in_every_way(choir, make):
    table = Table(choir)
    garment = table.outcome(make).altered.garment
    offers = corner_offers(table.outcome(make))
    assert len({(one.piece, one.before, one.after) for one in offers}) == len(offers) > 10
    for one in offers:
        assert EdgeKind.FOLD not in {garment.piece(one.piece).edge(name).kind for name in (one.before, one.after)}
    document = choir.get(make).document
    for cut in ("square", "folded", "mitred"):
        rows = tuple(CornerRow(str(n), one.piece, f"{one.before}/{one.after}", cut) for n, one in enumerate(offers))
        found = table.outcome(make, replace(document, corners=rows)).altered.garment
        for one in offers:
            said = next(c for c in corners_of(found.piece(one.piece)) if (c.before, c.after) == (one.before, one.after))
            assert said.cut.value == cut


def test_a_corner_that_is_no_more_can_be_taken_out_where_the_step_waits(choir, make, ask):
    lost = {"piece": "cape", "at": "hem/front", "cut": "square"}
    choir.change(make, choir.get(make).revision, [(("corners", "+"), lost)], "as if the pattern had changed")
    row = choir.get(make).document.corners[0]
    text = page_of(ask, make)
    assert "cape, hem and front: square" in text and "add-corner" not in text
    assert ask("POST", f"/make/{make}/extras/out", json={"among": "corners", "id": row.id}).status_code == 200
    assert "add-corner" in page_of(ask, make)


def test_what_was_settled_before_corners_were_kept_stays_settled_until_one_is_said(choir, make, hem):
    document = choir.get(make).document
    row = CornerRow("c", hem.piece, f"{hem.before}/{hem.after}", "square")
    with_row, aside = (replace(document, corners=(replace(row, on=on),)) for on in (True, False))
    plain = part_stamps(document, None, None)["finish"]
    assert part_stamps(MakeDoc("dress"), None, None)["finish"] == "a683096011db"
    assert part_stamps(aside, None, None)["finish"] == plain != part_stamps(with_row, None, None)["finish"]
    assert part_stamps(replace(document, notches="outward"), None, None)["finish"] != plain


def test_a_corner_is_told_in_words():
    assert corner_name("sleeve", "hem / underarm") == "sleeve, hem and underarm"
    assert cut_words("folded", "hem") == "folded back, hem turned" and cut_words("mitred", "hem") == "mitred"
    row = CornerRow("c", "sleeve", "hem/underarm", "square")
    assert same_corner(row, "Sleeve", "underarm/hem") and not same_corner(row, "sleeve", "hem/cap")
    then, now = MakeDoc("dress", corners=(row,)), MakeDoc("dress", corners=(replace(row, cut="mitred"),))
    assert [(d.where, d.now, d.then) for d in differences(now, then, "cm", str)] == [
        ("corner, sleeve, hem/underarm, how it is cut", "mitred", "square")]
