"""What the alterations of arm and sleeve change, and what they leave as it was."""

from dataclasses import replace

import pytest
from alter_kit import altered, assert_whole, dress, made

from toilewright.blocks.chart import SIZES
from toilewright.blocks.choir_tunic import choir_tunic
from toilewright.blocks.princess_dress import princess_dress
from toilewright.errors import AlterationError, Severity
from toilewright.fit.flat import flat_of


def length(garment, name):
    return flat_of(garment).lengths[name].value


def tunic():
    return choir_tunic().at("4")


def head_ease(garment):
    return length(garment, "sleeve head") - length(garment, "armhole front") - length(garment, "armhole back")


@pytest.mark.parametrize("amount", [-20.0, 12.0, 40.0])
@pytest.mark.parametrize("garment", [dress("2"), dress("9"), tunic()], ids=["dress 2", "dress 9", "tunic"])
@pytest.mark.parametrize("head", ["restore", "let fall"])
def test_upper_arm(garment, amount, head):
    found = altered(garment, "upper arm", amount, head=head)
    after = found.garment
    assert_whole(after.piece("sleeve"))
    assert length(after, "upper arm") - length(garment, "upper arm") == pytest.approx(amount, abs=0.6)
    for edge in ("underarm front", "underarm back", "hem"):
        assert after.piece("sleeve").sewn_length(edge) == pytest.approx(
            garment.piece("sleeve").sewn_length(edge), abs=0.15)
    for name in ("armhole front", "armhole back"):
        assert length(after, name) == length(garment, name)
    told = [f for f in found.done[0].findings if f.code == "head-ease"]
    if head == "let fall":
        assert head_ease(after) == pytest.approx(head_ease(garment), abs=0.05)
        assert not told
        assert (length(after, "sleeve length") < length(garment, "sleeve length")) == (amount > 0)
    else:
        assert (head_ease(after) - head_ease(garment)) * amount > 0
        assert told[0].asked == pytest.approx(head_ease(after), abs=0.01)
        assert (told[0].severity is Severity.LOOK) == (head_ease(after) > 38.1)
        assert length(after, "sleeve length") == pytest.approx(length(garment, "sleeve length"), abs=4)
    assert all(w.sews for w in found.walks)


@pytest.mark.parametrize("size", SIZES[::3])
@pytest.mark.parametrize("amount", [-10.0, 15.0])
def test_head_height(size, amount):
    garment = dress(size)
    found = altered(garment, "sleeve head height", amount)
    assert_whole(found.garment.piece("sleeve"))
    assert length(found.garment, "sleeve length") - length(garment, "sleeve length") == pytest.approx(amount)
    assert length(found.garment, "upper arm") == pytest.approx(length(garment, "upper arm"))
    grown = head_ease(found.garment) - head_ease(garment)
    assert 1.2 * abs(amount) < grown * amount / abs(amount) < 2 * abs(amount)
    for name in ("front notch", "back notch"):  # from the underarm to the marks the sleeve still fits its armhole
        old, new = (notch_from_underarm(g, name) for g in (garment, found.garment))
        assert new == pytest.approx(old, abs=0.5)
    assert all(w.sews for w in found.walks)


def notch_from_underarm(garment, name):
    sleeve = garment.piece("sleeve")
    at = next(n.at for n in sleeve.notches if n.name == name)
    return min(at, sleeve.edge("cap").path.length - at)


@pytest.mark.parametrize("garment", [dress("5"), tunic()], ids=["dress", "tunic"])
@pytest.mark.parametrize("amount", [-12.0, 15.0])
def test_pitch(garment, amount):
    after = made(garment, "sleeve pitch", amount)
    old, new = garment.piece("sleeve"), after.piece("sleeve")
    assert_whole(new)
    assert [n.at for n in new.notches if n.edge == "cap"] == [n.at for n in old.notches if n.edge == "cap"]
    for edge in ("cap", "underarm front", "underarm back"):
        assert new.sewn_length(edge) == pytest.approx(old.sewn_length(edge))
    assert new.sewn_length("hem") == pytest.approx(old.sewn_length("hem"), abs=1)
    tips = [p.landmark("shoulder point") for p in (old, new)]
    back = old.edge("underarm back").path.start.real - old.edge("underarm front").path.end.real
    assert (tips[1] - tips[0]).real == pytest.approx(amount * back / abs(back), abs=0.5)
    # Every mark has moved by that much towards the back on the cloth, so what lies before it comes forward.
    assert after.piece("bodice front") is garment.piece("bodice front")


GARMENTS = {"dress": dress("5"), "tunic": tunic(), "princess": princess_dress().at("5")}


@pytest.mark.parametrize("garment", GARMENTS.values(), ids=GARMENTS)
@pytest.mark.parametrize("amount", [-12.0, 8.0, 25.0])
def test_armhole_depth(garment, amount):
    found = altered(garment, "armhole depth", amount)
    after = found.garment
    for name in found.done[0].changed:
        assert_whole(after.piece(name))
    for piece in garment.pieces:
        if piece.has_edge("armhole") and piece.has_edge("side seam"):
            lost = piece.sewn_length("side seam") - after.piece(piece.name).sewn_length("side seam")
            assert lost == pytest.approx(amount, abs=0.01), piece.name
    # The depth is measured straight down, the seam leans.
    if "armhole depth" in flat_of(garment).lengths:
        assert length(after, "armhole depth") - length(garment, "armhole depth") == pytest.approx(amount, abs=0.6)
    assert (length(after, "armhole front") - length(garment, "armhole front")) * amount > 0
    assert head_ease(after) == pytest.approx(head_ease(garment), abs=0.02)
    sleeve = after.piece("sleeve")
    assert sleeve.sewn_length("underarm front") == pytest.approx(sleeve.sewn_length("underarm back"), abs=0.02)
    assert sleeve.sewn_length("hem") == pytest.approx(garment.piece("sleeve").sewn_length("hem"), abs=0.02)
    assert all(w.sews for w in found.walks)
    assert not found.done[0].findings


@pytest.mark.parametrize("garment", GARMENTS.values(), ids=GARMENTS)
@pytest.mark.parametrize("amount", [-10.0, 9.0])
@pytest.mark.parametrize("where", ["front", "back", "both"])
def test_armhole_across(garment, amount, where):
    found = altered(garment, "armhole in or out", amount, where=where)
    for side, name in (("front", "across chest"), ("back", "across back")):
        if name not in flat_of(garment).lengths:
            continue
        moved = length(found.garment, name) - length(garment, name)
        assert moved == pytest.approx(amount if where in (side, "both") else 0, abs=0.05)
    # The sleeve's sides lean, so that it is a little narrower or wider where its underarm lies now.
    assert length(found.garment, "upper arm") == pytest.approx(length(garment, "upper arm"), abs=6)
    for name in ("shoulder front", "shoulder back", "bust"):
        assert length(found.garment, name) == pytest.approx(length(garment, name), abs=0.5), name
    assert head_ease(found.garment) == pytest.approx(head_ease(garment), abs=0.1)
    assert all(w.sews for w in found.walks)


@pytest.mark.parametrize("amount", [-6.0, 9.0, 24.0])
def test_full_elbow_grows_the_dart(amount):
    garment = tunic()
    old, found = garment.piece("sleeve"), altered(garment, "elbow", amount)
    new = found.garment.piece("sleeve")
    assert_whole(new)
    assert width(new) - width(old) == pytest.approx(amount, abs=0.15)
    for edge in ("cap", "underarm front", "underarm back", "hem"):
        assert new.sewn_length(edge) == pytest.approx(old.sewn_length(edge), abs=0.4), edge
    assert all(w.sews for w in found.walks)


def width(sleeve):
    first, second = sleeve.feet(sleeve.dart("elbow dart"))
    return abs(second - first)


def without_dart(garment):
    return garment.with_piece(replace(garment.piece("sleeve"), darts=()))


def test_an_elbow_without_a_dart_gets_one_or_is_eased():
    garment = without_dart(tunic())
    old = garment.piece("sleeve")
    dart = made(garment, "elbow", 12.0).piece("sleeve")
    assert width(dart) == pytest.approx(12.0, abs=0.02)
    found = altered(garment, "elbow", 8.0, **{"takes up": "ease"})
    eased = found.garment.piece("sleeve")
    assert not eased.darts
    assert eased.sewn_length("underarm back") - old.sewn_length("underarm back") == pytest.approx(8.0, abs=0.5)
    assert eased.sewn_length("underarm front") == pytest.approx(old.sewn_length("underarm front"), abs=0.02)
    assert [f.code for f in found.done[0].findings] == ["elbow-eased"]
    kept = made(tunic(), "elbow", 8.0, **{"takes up": "ease"}).piece("sleeve")
    assert width(kept) == pytest.approx(width(tunic().piece("sleeve")), abs=0.15)


@pytest.mark.parametrize(("name", "amount", "garment"), [
    ("upper arm", 90.0, dress()), ("upper arm", -90.0, dress()), ("sleeve head height", 80.0, dress()),
    ("sleeve pitch", 90.0, dress()), ("armhole depth", 200.0, dress()), ("armhole depth", -150.0, dress()),
    ("armhole in or out", 70.0, dress()), ("elbow", 120.0, tunic()), ("elbow", -60.0, tunic())])
def test_too_much_says_how_much_fits(name, amount, garment):
    with pytest.raises(AlterationError, match="the most that fits is") as caught:
        altered(garment, name, amount)
    most = float(str(caught.value).split("the most that fits is ")[1].split(" ")[0]) * 10
    assert 0 < most / amount < 1
    for piece in made(garment, name, most - 0.6 * amount / abs(amount)).pieces:
        assert_whole(piece)


def test_a_short_sleeve_has_no_elbow():
    with pytest.raises(AlterationError, match=r'"elbow" needs .* the line "elbow line".*"upper arm"'):
        made(dress(), "elbow", 10.0)
