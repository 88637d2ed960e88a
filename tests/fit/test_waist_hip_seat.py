"""What the alterations of waist, hip and seat change, and what they leave as it was."""

import pytest
from alter_kit import altered, assert_whole, dress, made

from toilewright.blocks.chart import SIZES
from toilewright.blocks.choir_trousers import choir_trousers
from toilewright.errors import AlterationError
from toilewright.fit.flat import flat_of
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


@pytest.mark.parametrize("garment", [dress("3"), TROUSERS], ids=["dress", "trousers"])
@pytest.mark.parametrize("amount", [-24.0, 32.0])
def test_high_hip(garment, amount):
    found = altered(garment, "high hip in or out", amount)
    before, after = (flat_of(g).lengths for g in (garment, found.garment))
    assert after["high hip"].value - before["high hip"].value == pytest.approx(amount, abs=0.7)
    assert after["hip"].value == pytest.approx(before["hip"].value, abs=0.3)
    assert after["waist"].value == pytest.approx(before["waist"].value, abs=0.1)
    assert after["hem width"].value == pytest.approx(before["hem width"].value, abs=0.3)
    assert all(w.sews for w in found.walks)
    for name in found.done[0].changed:
        assert_whole(found.garment.piece(name))


@pytest.mark.parametrize(("garment", "names"), [
    (dress("6"), ("skirt front", "skirt back")), (TROUSERS, ("trouser front", "trouser back"))],
    ids=["dress", "trousers"])
@pytest.mark.parametrize("amount", [-12.0, 20.0])
def test_hip_higher(garment, names, amount):
    found = altered(garment, "hip higher", amount)
    for name in names:
        old, new = garment.piece(name), found.garment.piece(name)
        assert_whole(new)
        assert new.sewn_length("side seam") - old.sewn_length("side seam") == pytest.approx(amount, abs=0.02)
        for edge in ("waist", "hem"):
            assert new.sewn_length(edge) == pytest.approx(old.sewn_length(edge), abs=0.2), edge
        assert at_level(new, "hip line") == pytest.approx(at_level(old, "hip line"), abs=0.1)
    assert all(w.sews for w in found.walks)


def test_one_hip_higher_makes_two_sides():
    found = altered(dress("6"), "hip higher", 12.0, side="left")
    left, right = (half.piece("skirt back").sewn_length("side seam") for half in found.halves)
    assert left - right == pytest.approx(12.0, abs=0.02)
    assert all(w.sews for w in found.walks)


@pytest.mark.parametrize("amount", [-15.0, 25.0])
@pytest.mark.parametrize(("at", "changes"), [
    ("front", {("skirt front", "centre front")}), ("back", {("skirt back", "centre back")}),
    ("side", {("skirt front", "side seam"), ("skirt back", "side seam")})])
def test_hem_level(amount, at, changes):
    garment = dress("4")
    found = altered(garment, "hem level", amount, at=at)
    for name in ("skirt front", "skirt back"):
        old, new = garment.piece(name), found.garment.piece(name)
        assert_whole(new)
        for edge in old.edges:
            if edge.name != "hem":
                moved = new.sewn_length(edge.name) - old.sewn_length(edge.name)
                wanted = amount if (name, edge.name) in changes else 0
                assert moved == pytest.approx(wanted, abs=0.02), (name, edge.name)
    tiers = [g.piece("skirt tier") for g in (garment, found.garment)]  # its seam is level, it hangs as before
    assert tiers[1].sewn_length("side seam") == pytest.approx(tiers[0].sewn_length("side seam"))
    assert all(w.sews for w in found.walks)


def test_trousers_have_no_hem_at_the_centre():
    with pytest.raises(AlterationError, match='"front", "back" or "side"'):
        made(TROUSERS, "hem level", 10.0, at="front")
    usual, side = (made(TROUSERS, "hem level", 10.0, **asked).piece("trouser front") for asked in ({}, {"at": "side"}))
    assert_whole(side)
    assert usual == side


@pytest.mark.parametrize(("name", "amount"), [
    ("high hip in or out", 400.0), ("hip higher", 90.0), ("hip higher", -90.0), ("hem level", 300.0),
    ("full abdomen", 90.0)])
def test_too_much_says_how_much_fits(name, amount):
    with pytest.raises(AlterationError, match="the most that fits is") as caught:
        made(dress(), name, amount)
    most = float(str(caught.value).split("the most that fits is ")[1].split(" ")[0]) * 10
    assert 0 < most / amount < 1
    for piece in made(dress(), name, most - 0.6 * amount / abs(amount)).pieces:
        assert_whole(piece)
