"""An uneven figure on the pages: what differs left and right is two pieces, by name, wherever pieces are named."""

from html import unescape

import pytest
from app.asking import script

from toilewright.app.site import create_app
from toilewright.workroom.documents import Kind


@pytest.fixture
def uneven(choir):
    make = choir.things(Kind.MAKE)[0]
    row = {"name": "hip in or out", "amount": 20.0, "options": {"side": "left"}, "on": True}
    return choir.change(make.id, make.revision, [(("alterations", "+"), row)], "her left hip")


def test_every_page_names_both_pieces(choir, uneven):
    client = script(create_app(choir))
    said = {step: unescape(client.get(f"/make/{uneven.id}/{step}", headers={"accept": "text/html"}).text)
            for step in ("alter", "walk", "print", "cards")}
    for step in ("alter", "walk", "print"):
        assert "skirt back left" in said[step], step
    assert "<strong>skirt back left</strong> cut 1" in said["print"]
    assert "<strong>skirt back right</strong> cut 1" in said["print"]
    assert "Skirt side seam, left" in said["walk"] or "skirt side seam, left" in said["walk"]
    assert "left" in said["cards"]
