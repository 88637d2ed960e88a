"""A make whose front is cut in two: every file, every comparison and every picture takes the new piece."""

import json

import pytest

from toilewright.app.pictures import garment_picture
from toilewright.app.small_pictures import small_pieces
from toilewright.blocks.concert import concert_dress
from toilewright.body.tape import Wish, body_of
from toilewright.make.compare import compare
from toilewright.make.deliver import write_outcome
from toilewright.make.handles import handles
from toilewright.make.outcome import make_up, size_up
from toilewright.make.reading import Reading
from toilewright.make.recipe import Make

MEASURES = {"height": 1660.0, "bust": 955.0, "high_bust": 900.0, "waist": 785.0, "hip": 1020.0, "nape_to_waist": 430.0}
SPLIT = Wish("bust dart to princess seam", 60.0)


def outcome_of(*wishes):
    body = body_of("an alto", MEASURES)
    reading = Reading(None, None, concert_dress(), (), True)
    return make_up(size_up(Make("Dress", size="5", alterations=wishes, standing=False), body, reading))


@pytest.fixture(scope="module")
def parted():
    return outcome_of(SPLIT, Wish("waist in or out", 20.0))


def test_every_file_is_written(parted, tmp_path):
    files = {p.name: p for p in write_outcome(parted, tmp_path / "out")}
    result = json.loads(files["result.json"].read_text(encoding="utf-8"))
    assert "bodice side front" in json.dumps(result)
    assert "bodice side front" in files["pieces.svg"].read_text(encoding="utf-8")
    assert files["before-after.svg"].stat().st_size > 1000


def test_it_is_compared_with_the_whole_front(parted):
    said = " ".join(d.text for d in compare(outcome_of(), parted))
    assert "New here: bodice side front." in said
    assert "Not there any more: bodice side front." in " ".join(d.text for d in compare(parted, outcome_of()))


def test_the_worktable_draws_it(parted):
    after, before = parted.altered.garment, parted.altered.bought
    assert garment_picture(after, before)
    assert small_pieces(after.pieces, "the dress", before)
    orders = [d.order for d in parted.altered.done]
    assert handles(before, orders, 1)  # the second alteration is still pulled at its corners
    handles(before, orders, 0)
