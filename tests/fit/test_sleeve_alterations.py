"""What the alterations of arm and sleeve change, and what they leave as it was."""

import pytest
from alter_kit import altered, assert_whole, dress, made

from toilewright.blocks.chart import SIZES
from toilewright.blocks.choir_tunic import choir_tunic
from toilewright.errors import Severity
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
