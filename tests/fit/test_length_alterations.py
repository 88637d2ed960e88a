"""Lengths: at a line or at the hem, keeping flare or keeping the hem's width; the sleeve above and below the elbow."""

import pytest
from alter_kit import altered, assert_whole, dress, gap, made

from toilewright.blocks.choir_trousers import choir_trousers
from toilewright.blocks.choir_tunic import choir_tunic
from toilewright.errors import AlterationError
from toilewright.fit.flat import flat_of
from toilewright.pattern.truing import true_darts

TUNIC, TROUSERS = choir_tunic().at("5"), choir_trousers().at("5")

HEMS = {"skirt": (dress("5"), "skirt front", "skirt back"), "sleeve": (dress("5"), "sleeve", None),
        "tunic": (TUNIC, "bodice back", "bodice front"), "trousers": (TROUSERS, "trouser front", "trouser back")}


@pytest.mark.parametrize(("garment", "name", "partner"), HEMS.values(), ids=HEMS)
@pytest.mark.parametrize("amount", [-25.0, 40.0])
@pytest.mark.parametrize("hem", ["keep", "follow"])
def test_at_the_hem(garment, name, partner, amount, hem):
    found = altered(garment, "lengthen or shorten", amount, piece=name, line="hem", hem=hem)
    for changed in (name, partner) if partner else (name,):
        old, new = garment.piece(changed), found.garment.piece(changed)
        assert_whole(new)
        at = [next(iter(sides(p))) for p in (old, new)]
        assert at[1] - at[0] == pytest.approx(amount, abs=0.02)
        wider = new.sewn_length("hem") - old.sewn_length("hem")
        assert wider == pytest.approx(0, abs=0.01) if hem == "keep" else abs(wider) < abs(amount)
        for edge in ("waist", "neck", "cap", "armhole"):
            if old.has_edge(edge):
                assert new.sewn_length(edge) == pytest.approx(old.sewn_length(edge), abs=0.02)
    assert all(w.sews for w in found.walks)


def sides(piece):
    """Depth of the hem's corners below the piece's highest point, along the page (the blocks stand upright)."""
    top = max(p.imag for e in piece.edges for p in e.path.nodes)
    hem = piece.edge("hem").path
    return top - hem.start.imag, top - hem.end.imag


def test_a_flared_skirt_that_follows_gets_a_wider_hem_and_its_tier_with_it():
    garment = dress("5")
    after = made(garment, "lengthen or shorten", 50.0, piece="skirt front", line="hem", hem="follow")
    old, new = (flat_of(g).lengths["hem width"].value for g in (garment, after))
    assert new > old + 20
    assert after.piece("skirt tier").sewn_length("top") > garment.piece("skirt tier").sewn_length("top")


@pytest.mark.parametrize("hem", ["keep", "follow"])
def test_let_down_and_taken_up_again(hem):
    garment = dress("5")
    asked = {"piece": "skirt front", "line": "hem", "hem": hem}
    back = made(made(garment, "lengthen", 30.0, **asked), "shorten", 30.0, **asked)
    for name in ("skirt front", "skirt back", "skirt tier"):
        # A hem that keeps its width redraws the lower half of a side that has grown.
        assert gap(true_darts(garment.piece(name)), back.piece(name)) < (0.1 if hem == "follow" else 2.0), name


@pytest.mark.parametrize("where", ["as marked", "above elbow", "below elbow", "hem"])
@pytest.mark.parametrize("amount", [-30.0, 45.0])
def test_sleeve_in_two_places(where, amount):
    found = altered(TUNIC, "sleeve length", amount, where=where)
    before, after = (flat_of(g).lengths for g in (TUNIC, found.garment))
    assert_whole(found.garment.piece("sleeve"))
    assert after["sleeve length"].value - before["sleeve length"].value == pytest.approx(amount, abs=0.2)
    lower = after["elbow height"].value - before["elbow height"].value
    assert lower == pytest.approx(amount if where in ("above elbow", "as marked") else 0, abs=0.1)
    for name in ("sleeve head", "upper arm", "wrist"):
        assert after[name].value == pytest.approx(before[name].value, abs=0.3), name
    assert all(w.sews for w in found.walks)


def test_a_short_sleeve_has_its_marked_line_and_its_hem():
    garment = dress("5")
    for where in ("as marked", "hem"):
        after = made(garment, "shorten sleeve", 30.0, where=where)
        assert flat_of(after).lengths["sleeve length"].value - flat_of(garment).lengths["sleeve length"].value == (
            pytest.approx(-30.0, abs=0.1))
    with pytest.raises(AlterationError, match='"elbow line"'):
        made(garment, "sleeve length", 10.0, where="above elbow")


def test_which_hem_is_asked():
    with pytest.raises(AlterationError, match=r"say which piece: .*skirt front"):
        made(dress(), "lengthen", 10.0, line="hem")
    with pytest.raises(AlterationError, match='at the hem of "bodice front"'):
        made(dress(), "lengthen", 10.0, line="hem", piece="bodice front")
    assert made(TROUSERS, "lengthen", 10.0, line="hem").piece("trouser back") is not TROUSERS.piece("trouser back")


def test_too_much_at_the_hem_says_how_much_fits():
    asked = {"piece": "sleeve", "line": "hem"}
    with pytest.raises(AlterationError, match="the most that fits is -") as caught:
        made(dress(), "lengthen", -400.0, **asked)
    most = float(str(caught.value).split("the most that fits is ")[1].split(" ")[0]) * 10
    assert_whole(made(dress(), "lengthen", most + 0.6, **asked).piece("sleeve"))
