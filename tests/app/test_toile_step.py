"""The toile's step over a real store: foretold, noted, answered, taken into the pattern."""

import html
import json
import re

import pytest
from app.asking import script

from toilewright.app.site import create_app
from toilewright.workroom.documents import Kind


@pytest.fixture
def ask(choir):
    return script(create_app(choir)).ask


def test_what_is_seen_is_answered_and_what_is_taken_becomes_a_row_of_the_make(choir, ask):
    make = choir.things(Kind.MAKE)[0]
    at = f"/make/{make.id}/toile"
    page = ask("GET", at, headers={"accept": "text/html"}).text
    assert "Toile 1: what it will show" in page and "<svg" in page
    refused = ask("POST", f"{at}/seen", json={"sign": "dart ends below the bust point", "amount": "90"})
    assert refused.status_code == 422 and not choir.get(make.id).document.toiles
    for fresh in (False, True):
        said = ask("POST", f"{at}/seen", json={"sign": "dart ends below the bust point", "amount": "2", "fresh": fresh})
        assert said.status_code == 200, said.text
    page = ask("GET", at, headers={"accept": "text/html"}).text
    assert "The toiles beside each other" in page and "Toile 3: what it will show" in page
    row = json.loads(html.unescape(re.search(r'data-take="([^"]+)"', page)[1]))
    assert row["name"] == "bust dart height" and row["amount"] == -20.0 and row["spread"] > 0
    now = choir.get(make.id)
    taken = ask("POST", f"/things/{make.id}/change", json={
        "base": now.revision, "words": "read", "set": [[["alterations", "+"], row]]})
    assert taken.status_code == 200, taken.text
    assert "in the pattern" in ask("GET", at, headers={"accept": "text/html"}).text
