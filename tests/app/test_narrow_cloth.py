"""Cloth too narrow for a piece: told on the cloth step before a lay is looked for, and divided at one touch."""

import html
from dataclasses import replace

import pytest
from app.asking import script

from toilewright.app.narrow import own_joins, too_narrow
from toilewright.app.site import create_app
from toilewright.app.table import Table
from toilewright.workroom.documents import Kind, LayRow


@pytest.fixture
def ask(choir):
    return script(create_app(choir)).ask


@pytest.fixture
def make(choir):
    """A make of its own, cut from cloth that is sold 112 cm wide."""
    document = next(one.document for one in choir.things(Kind.MAKE) if not one.document.lays)
    return choir.add(Kind.MAKE, replace(document, lays=(LayRow("r1", "self", width=1120.0),), extras=()), "begun").id


def page_of(ask, make):
    return html.unescape(ask("GET", f"/make/{make}/cloth", headers={"accept": "text/html"}).text)


def test_it_is_told_divided_undone_and_told_again(choir, ask, make):
    (cloth,) = too_narrow(Table(choir), make, "cm")
    assert cloth.use == "self" and cloth.width == "110.0 cm" and len(cloth.joins) == 2
    text = page_of(ask, make)
    assert "110.0 cm between its selvedges" in text and "skirt tier in 2 parts" in text and "data-join-pieces" in text
    seen = choir.get(make).revision
    answer = ask("POST", f"/make/{make}/cloth/joins", json={})
    assert answer.status_code == 200
    rows = choir.get(make).document.extras
    assert [(row.kind, row.options) for row in rows] == [("join", {"piece": "skirt tier", "parts": "2"}),
                                                         ("join", {"piece": "waistband", "parts": "2"})]
    assert choir.get(make).revision == seen + 1  # one thing to undo
    text = page_of(ask, make)
    assert "data-join-pieces" not in text and "Sew the join before anything else" in text
    assert too_narrow(Table(choir), make, "cm") == ()
    again = ask("POST", f"/make/{make}/cloth/joins", json={})
    assert again.status_code >= 400 and "wide enough" in again.text and choir.get(make).revision == seen + 1


def test_allowances_are_said_of_the_whole_piece_and_its_parts_have_them(choir, ask, make):
    assert ask("POST", f"/make/{make}/cloth/joins", json={}).status_code == 200
    part = ask("POST", f"/make/{make}/extras/allowance", json={"edge": "waistband 1", "amount": "2"})
    assert part.status_code >= 400 and '"waistband 1" is a part of "waistband"' in part.json()["error"]["text"]
    for whole in ("waistband", "skirt tier"):
        assert ask("POST", f"/make/{make}/extras/allowance", json={"edge": whole, "amount": "2"}).status_code == 200
    garment = Table(choir).outcome(make).altered.garment
    band, tier = garment.piece("waistband 2"), garment.piece("skirt tier")
    assert band.edge("top").allowance == tier.edge("hem").allowance == 20.0 and band.edge("join").allowance == 15.0


def test_wide_cloth_and_a_make_that_cannot_be_worked_out_say_nothing(choir, ask, make):
    thing = choir.get(make)
    choir.change(make, thing.revision, [(("lays", "r1", "width"), 1500.0)], "wider")
    assert too_narrow(Table(choir), make, "cm") == () and own_joins(Table(choir), make, "cm") == ()
    assert "data-join-pieces" not in page_of(ask, make)
    thing = choir.get(make)
    choir.change(make, thing.revision, [(("lays", "r1", "width"), 1120.0), (("size",), "no such size")], "spoilt")
    assert too_narrow(Table(choir), make, "cm") == ()


def test_what_belongs_to_another_make_in_the_lay_is_told_but_not_divided_here(choir, make):
    other = choir.add(Kind.MAKE, choir.get(make).document, "begun too").id
    choir.change(make, choir.get(make).revision, [(("lay_with",), [other])], "together")
    (cloth,) = too_narrow(Table(choir), make, "cm")
    assert len(cloth.joins) == 4
    assert [join.piece for join in own_joins(Table(choir), make, "cm")] == ["skirt tier", "waistband"]
