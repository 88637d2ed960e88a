"""What the alterations of waist, hip and seat change, and what they leave as it was."""

import pytest
from alter_kit import altered, assert_whole, dress, made

from toilewright.blocks.chart import SIZES
from toilewright.blocks.choir_trousers import choir_trousers
from toilewright.errors import AlterationError
from toilewright.fit.levels import upright, width_at

TROUSERS = choir_trousers().at("5")


def at_level(piece, name):
    piece = upright(piece)
    line = piece.line(name)
    return width_at(piece, (line.start.imag + line.end.imag) / 2 - 1e-3)


def sewn(garment, piece, *edges):
    return [garment.piece(piece).sewn_length(e) for e in edges]


@pytest.mark.parametrize("amount", [-7.0, 8.0, 20.0])
@pytest.mark.parametrize("size", SIZES[::3])
@pytest.mark.parametrize("hem", ["keep", "follow"])
def test_full_seat(size, amount, hem):
    garment = dress(size)
    found = altered(garment, "full seat", amount, hem=hem)
    after = found.garment
    old, new = garment.piece("skirt back"), after.piece("skirt back")
    assert_whole(new)
    assert new.sewn_length("centre back") - old.sewn_length("centre back") == pytest.approx(amount, abs=0.05)
    assert at_level(new, "hip line") - at_level(old, "hip line") == pytest.approx(amount, abs=1.0)
    assert sewn(after, "skirt back", "side seam", "waist") == pytest.approx(
        sewn(garment, "skirt back", "side seam", "waist"), abs=0.2)
    assert new.sewn_length("hem") - old.sewn_length("hem") == pytest.approx(amount if hem == "follow" else 0, abs=0.3)
    dart = [d.end - d.start for p in (old, new) for d in p.darts]
    assert (dart[1] - dart[0]) * amount > abs(amount)
    assert all(w.sews for w in found.walks)
    for name in ("skirt front", "bodice back", "bodice front"):
        assert sewn(after, name, "waist", "side seam") == pytest.approx(
            sewn(garment, name, "waist", "side seam"), abs=0.2)


@pytest.mark.parametrize(("garment", "name", "centre"), [
    (dress("5"), "skirt front", "centre front"), (TROUSERS, "trouser front", "crotch seam")], ids=["skirt", "trousers"])
@pytest.mark.parametrize("amount", [-6.0, 14.0])
@pytest.mark.parametrize("width", ["as much", "as it was"])
def test_full_abdomen(garment, name, centre, amount, width):
    found = altered(garment, "full abdomen", amount, width=width)
    old, new = garment.piece(name), found.garment.piece(name)
    assert_whole(new)
    assert new.sewn_length(centre) - old.sewn_length(centre) == pytest.approx(amount, abs=0.1)
    assert sewn(found.garment, name, "side seam", "waist", "hem") == pytest.approx(
        sewn(garment, name, "side seam", "waist", "hem"), abs=0.3)
    wider = at_level(new, "hip line") - at_level(old, "hip line")
    assert 0.6 < wider / amount < 1 if width == "as much" else wider == pytest.approx(0, abs=0.3)
    assert all(w.sews for w in found.walks)


def test_a_dart_can_be_taken_in_to_nothing_and_no_further():
    with pytest.raises(AlterationError, match="leaves nothing of the waist dart; the most that fits is -") as caught:
        made(dress(), "full seat", -14.0)
    most = float(str(caught.value).split("the most that fits is ")[1].split(" ")[0]) * 10
    assert_whole(made(dress(), "full seat", most + 0.6).piece("skirt back"))


def test_the_seat_of_trousers_is_sent_elsewhere():
    with pytest.raises(AlterationError, match='"crotch length back"'):
        made(TROUSERS, "full seat", 10.0)
