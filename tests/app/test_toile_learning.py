"""The toile's last buttons over a real store: "This one fits: learn from it", and "Make it always"."""

import html
import json
import re
from dataclasses import replace

import pytest
from app.asking import script

from toilewright.app.site import create_app
from toilewright.workroom.documents import Kind, SeenRow, ToileRow, WishRow


@pytest.fixture
def ask(choir):
    return script(create_app(choir)).ask


@pytest.fixture
def makes(choir):
    """Two makes of one body; each took a rounder back from its toile."""
    first = choir.things(Kind.MAKE)[0].document
    body = choir.add(Kind.BODY, replace(choir.get(first.body).document, alterations=(), learned=()), "new")
    toile = ToileRow("t1", "2026-11-25", (SeenRow("s1", "dart ends below the bust point", 15.0),))
    return [choir.add(Kind.MAKE, replace(first, title=title, body=body.id, toiles=(toile,), alterations=(
        WishRow("w1", "high round back", amount, came_from="t1", spread=4.0),)), "new").id
        for title, amount in (("First", 14.0), ("Second", 12.0))]


def page(ask, make):
    found = ask("GET", f"/make/{make}/toile", headers={"accept": "text/html"})
    assert found.status_code == 200
    return found.text


def test_what_two_makes_taught_is_made_always_at_one_touch(choir, ask, makes):
    one, other = makes
    body = choir.get(one).document.body
    assert "This one fits: learn from it" in page(ask, one) and "data-always" not in page(ask, one)
    for make in (one, one, other):
        said = ask("POST", f"/make/{make}/toile/learn")
        assert said.status_code == 200, said.text
    assert [(row.title, row.amount) for row in choir.get(body).document.learned if row.name == "high round back"] == [
        ("First", 14.0), ("Second", 12.0)]
    shown = page(ask, other)
    assert "The toiles of 2 makes asked for 1.4 cm, 1.2 cm" in shown and "made always" not in shown
    button = json.loads(html.unescape(re.search(r'data-always="([^"]+)"', shown)[1]))
    said = ask("POST", f"/make/{other}/toile/always", json=button)
    assert said.status_code == 200, said.text
    assert [(row.name, row.makes) for row in choir.get(body).document.alterations] == [("high round back", 2)]
    for make in makes:
        assert "made always" in page(ask, make) and "data-always" not in page(ask, make)


def test_what_no_make_taught_cannot_be_made_always(choir, ask, makes):
    said = ask("POST", f"/make/{makes[0]}/toile/always", json={"name": "sway back", "options": {}})
    assert 400 <= said.status_code < 500 and "sway back" in said.text
    assert not choir.get(choir.get(makes[0]).document.body).document.alterations


def test_a_make_without_a_toile_has_nothing_to_teach(choir, ask):
    make = next(thing for thing in choir.things(Kind.MAKE) if not thing.document.toiles)
    assert "learn from it" not in page(ask, make.id)
    said = ask("POST", f"/make/{make.id}/toile/learn")
    assert said.status_code == 422 and "no toile yet" in said.text
