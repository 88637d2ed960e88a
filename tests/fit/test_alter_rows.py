"""Each alteration against what the handbooks agree on: what grows, by how much, and what stays.

Sources: New Mexico State University Cooperative Extension C-228; Texas AgriLife Extension E-372; USDA Home Economics
Research Report 32 (1966); Liechty, Pottberg-Steineckert and Rasband (1992), from memory. Each test names its own.
"""

import cmath
from dataclasses import replace

import pytest
from alter_kit import altered, assert_whole, dress, made

from toilewright.errors import AlterationError, Severity
from toilewright.fit.ease import measure_garment
from toilewright.geometry import Path
from toilewright.pattern.truing import dart_legs, true_darts
from toilewright.pattern.walk import walk

FRONT, BACK = "bodice front", "bodice back"


def sewn(garment, piece, edge):
    return garment.piece(piece).sewn_length(edge)


def change(before, after, piece, edge):
    return sewn(after, piece, edge) - sewn(before, piece, edge)


def width(piece, name):
    first, second = piece.feet(piece.dart(name))
    return abs(second - first)


def girth(garment, place):
    return next(g.value.value for g in measure_garment(garment) if g.place == place)


# -- the tape over the bust --------------------------------------------------------------------------


@pytest.mark.parametrize("size", ["1", "5", "10"])
@pytest.mark.parametrize("amount", [-15.0, -8.0, 5.0, 12.0, 20.0, 30.0])
def test_the_tape_sees_a_full_bust(size, amount):
    """Width + a at the bust line on each half (NMSU C-228, E-372): the real ease grows by twice that."""
    amount = max(amount, -12.0) if size == "1" else amount  # its dart gives no more
    before = dress(size)
    after = made(before, "full bust", amount)
    assert girth(after, "bust") - girth(before, "bust") == pytest.approx(2 * amount, abs=3)


@pytest.mark.parametrize("size", ["1", "5", "10"])
@pytest.mark.parametrize(("name", "amount"), [
    ("bust dart height", 25.0), ("bust dart height", -12.0), ("bust dart point", 10.0), ("bust dart point", -15.0),
    ("high round back", 15.0), ("forward shoulder", 12.0)])
def test_the_tape_over_the_bust_is_as_before(size, name, amount):
    before = dress(size)
    after = made(before, name, amount)
    assert girth(after, "bust") - girth(before, "bust") == pytest.approx(0, abs=3)


@pytest.mark.parametrize("amount", [20.0, -32.0])
@pytest.mark.parametrize("size", ["1", "5", "10"])
def test_the_bust_takes_its_share_of_a_waist_that_tapers_to_the_underarm(size, amount):
    """Every side edge is moved by a quarter at the waist and by nothing at the underarm, evenly in between."""
    before = dress(size)
    after = made(before, "waist in or out", amount)
    back = before.piece(BACK)
    seam = back.edge("side seam").path
    at, _ = seam.nearest(back.line("bust line").end)
    share = min(at, seam.length - at) / seam.length
    assert 0.2 < share < 0.4
    assert girth(after, "bust") - girth(before, "bust") == pytest.approx(amount * share, abs=1.5)


# -- high round back (C-228, E-372) -----------------------------------------------------------------


@pytest.mark.parametrize("amount", [4.0, 12.0, 20.0])
@pytest.mark.parametrize("takes_up", ["neck dart", "shoulder dart"])
def test_high_round_back(amount, takes_up):
    before = dress("4")
    after = made(before, "high round back", amount, **{"takes up": takes_up})
    assert change(before, after, BACK, "centre back") == pytest.approx(amount, abs=0.01)
    for edge in ("armhole", "shoulder", "neck", "side seam", "waist"):
        assert change(before, after, BACK, edge) == pytest.approx(0, abs=0.05), edge
    old, new = before.piece(BACK), after.piece(BACK)
    assert new.grain == old.grain
    turned = cmath.phase(new.edge("centre back").path.end_tangent / old.edge("centre back").path.end_tangent)
    assert turned == pytest.approx(0, abs=1e-12)
    assert 0.2 * amount < width(new, takes_up) < amount
    assert after.piece(FRONT) is before.piece(FRONT)


def test_high_round_back_eased():
    before = dress("4")
    found = altered(before, "high round back", 9.0, **{"takes up": "ease"})
    gained = change(before, found.garment, BACK, "neck")
    assert 1.0 < gained < 9.0
    walked = next(w for w in found.walks if w.seam == "neck facing")
    assert walked.sews
    assert walked.allowed[0] == pytest.approx(-gained, abs=0.01)
    assert "neck-eased" in [f.code for f in found.done[0].findings]


def test_high_round_back_has_no_lump_in_the_armhole():
    path = made(dress("4"), "high round back", 20.0).piece(BACK).edge("armhole").path
    step = 2.0
    turns = [abs(cmath.phase(path.tangent_at(s + step) / path.tangent_at(s)))
             for s in (k * step for k in range(1, int(path.length / step) - 2))]
    assert max(turns) < 0.12


def test_high_round_back_needs_a_positive_amount():
    with pytest.raises(AlterationError, match="lengthen or shorten"):
        altered(dress(), "high round back", -5.0)


# -- forward shoulder (E-372, Report 32) ------------------------------------------------------------


@pytest.mark.parametrize("amount", [5.0, 12.0, -8.0])
def test_forward_shoulder(amount):
    before = dress("6")
    found = altered(before, "forward shoulder", amount)
    after = found.garment
    assert change(before, after, FRONT, "armhole") == pytest.approx(-amount, abs=0.01)
    assert change(before, after, BACK, "armhole") == pytest.approx(amount, abs=0.01)
    assert change(before, after, BACK, "shoulder") == pytest.approx(change(before, after, FRONT, "shoulder"), abs=0.01)
    for piece in (FRONT, BACK):
        assert after.piece(piece).edge("neck") == before.piece(piece).edge("neck")
    moved = {n.name: n.at for n in after.piece("sleeve").notches}
    was = {n.name: n.at for n in before.piece("sleeve").notches}
    towards_front = 1 if was["front notch"] > was["shoulder point"] else -1
    assert moved["shoulder point"] - was["shoulder point"] == pytest.approx(amount * towards_front, abs=1e-6)
    assert moved["front notch"] == was["front notch"]
    pairs = [n for g in (before, after) for w in walk(g) if w.seam == "armhole" for n in w.notches]
    old, new = [n.at_b - n.at_a for n in pairs if n.name == "shoulder point"]
    assert old == pytest.approx(new, abs=0.02)
    facing = next(w for w in found.walks if w.seam == "facing shoulder")
    assert facing.difference == pytest.approx(0, abs=1e-3)


def test_forward_shoulder_turns_the_facings_like_the_bodice():
    before = dress("4")
    after = made(before, "forward shoulder", 10.0)

    def way(garment, piece):
        return garment.piece(piece).edge("shoulder").path.end_tangent

    for bodice, facing in ((FRONT, "front neck facing"), (BACK, "back neck facing")):
        turned = cmath.phase(way(after, bodice) / way(before, bodice))
        assert abs(turned) > 0.05
        assert cmath.phase(way(after, facing) / way(before, facing)) == pytest.approx(turned, abs=1e-9)


@pytest.mark.parametrize("amount", [5.0, 12.0, -8.0])
@pytest.mark.parametrize("size", ["1", "6", "10"])
def test_forward_shoulder_with_the_neck(size, amount):
    """Parallel when the neck is forward too: the neck as a whole keeps its length, and so does the armhole."""
    before = dress(size)
    found = altered(before, "forward shoulder", amount, neck="parallel")
    after = found.garment
    assert change(before, after, FRONT, "armhole") == pytest.approx(-amount, abs=0.01)
    assert change(before, after, BACK, "armhole") == pytest.approx(amount, abs=0.01)
    front, back = change(before, after, FRONT, "neck"), change(before, after, BACK, "neck")
    assert front == pytest.approx(-amount, rel=0.15)  # the neck does not meet the shoulder quite squarely
    assert front + back == pytest.approx(0, abs=0.01)
    for piece, facing, lost in ((FRONT, "front neck facing", front), (BACK, "back neck facing", back)):
        assert change(before, after, facing, "neck") == pytest.approx(lost, abs=0.01)
        assert change(before, after, facing, "shoulder") == pytest.approx(0, abs=0.01)
        assert after.piece(piece).landmark("neck point") == after.piece(piece).edge("neck").path.start
    assert change(before, after, BACK, "shoulder") == pytest.approx(change(before, after, FRONT, "shoulder"), abs=0.01)
    assert all(w.sews for w in found.walks)
    loser = FRONT if amount > 0 else BACK
    turned = way_of_shoulder(after, loser) / way_of_shoulder(before, loser)
    assert abs(cmath.phase(turned)) < 0.002


def way_of_shoulder(garment, piece):
    path = garment.piece(piece).edge("shoulder").path
    return path.end - path.start


# -- bust dart (C-228, E-372; distance short of the bust point: Threads no. 181) --------------------


@pytest.mark.parametrize("amount", [25.0, -12.0])
def test_bust_dart_height(amount):
    before = dress("4")
    after = made(before, "bust dart height", amount)
    old, new = before.piece(FRONT), after.piece(FRONT)
    assert new.dart("bust dart").apex - old.dart("bust dart").apex == pytest.approx(-1j * amount, abs=1e-6)
    assert width(new, "bust dart") == pytest.approx(width(old, "bust dart"), abs=0.01)
    assert dart_legs(new, new.dart("bust dart")) == pytest.approx(dart_legs(old, old.dart("bust dart")), abs=0.01)
    assert change(before, after, FRONT, "side seam") == pytest.approx(0, abs=0.02)
    assert new.landmark("bust point") - old.landmark("bust point") == pytest.approx(-1j * amount, abs=1e-6)
    notch = next(n for w in walk(after) if w.seam == "side seam" for n in w.notches)
    assert notch.offset == pytest.approx(0, abs=0.5)
    for edge in ("armhole", "shoulder", "neck", "centre front"):
        assert new.edge(edge) == old.edge(edge)


@pytest.mark.parametrize(("amount", "way"), [(12.0, "along"), (-20.0, "along"), (8.0, "in"), (-8.0, "in")])
def test_bust_dart_point(amount, way):
    before = dress("4")
    after = made(before, "bust dart point", amount, way=way)
    old, new = before.piece(FRONT), after.piece(FRONT)
    was, now = old.dart("bust dart"), new.dart("bust dart")
    assert abs(now.apex - was.apex) == pytest.approx(abs(amount), abs=1e-6)
    if way == "in":
        assert now.apex - was.apex == pytest.approx(-amount, abs=1e-6)
    assert width(new, "bust dart") == pytest.approx(width(old, "bust dart"), abs=0.01)
    assert sum(new.feet(now)) / 2 == pytest.approx(sum(old.feet(was)) / 2, abs=0.01)
    assert sewn(after, FRONT, "side seam") == pytest.approx(sewn(before, FRONT, "side seam"), abs=0.2)


# -- full and small bust (C-228, E-372, Liechty and others from memory) -----------------------------


def without_waist_dart(garment):
    """A looser front: the mouth of the waist dart is left in the waist, on the skirt too."""
    def plain(piece):
        dart = piece.dart("waist dart")
        first, second = piece.feet(dart)
        path = piece.edge("waist").path
        line = Path.joined([path.sub(0, dart.start), Path.line(first, second), path.sub(dart.end, path.length)])
        return replace(piece, darts=tuple(d for d in piece.darts if d is not dart),
                       edges=tuple(replace(e, path=line) if e.name == "waist" else e for e in piece.edges))

    return garment.with_piece(plain(garment.piece(FRONT)))


@pytest.mark.parametrize("amount", [10.0, 25.0, -7.0])
@pytest.mark.parametrize("waist_dart", [True, False])
def test_full_bust(amount, waist_dart):
    before = dress("5") if waist_dart else without_waist_dart(dress("5"))
    after = made(before, "full bust", amount)
    old, new = before.piece(FRONT), after.piece(FRONT)
    assert_whole(new)
    for edge in ("armhole", "shoulder", "neck", "side seam"):
        assert change(before, after, FRONT, edge) == pytest.approx(0, abs=0.05), edge
    assert (width(new, "bust dart") - width(old, "bust dart")) * amount > 0
    grown = change(before, after, FRONT, "centre front")
    assert grown * amount > 0
    side = new.landmark("side waist") - old.landmark("side waist")
    assert side == pytest.approx(complex(amount, -grown), abs=0.01)  # wider by the amount, and level
    assert new.landmark("bust point").real - old.landmark("bust point").real == pytest.approx(amount / 2, abs=0.01)
    assert new.grain == old.grain
    if waist_dart:
        assert width(new, "waist dart") - width(old, "waist dart") == pytest.approx(amount, abs=0.05)
    if waist_dart or amount > 0:
        assert change(before, after, FRONT, "waist") == pytest.approx(0, abs=0.2)
        assert new.dart("waist dart")


@pytest.mark.parametrize("amount", [12.0, 20.0])
def test_full_bust_widens_the_bust_line(amount):
    def over_the_bust(garment, end):
        front = garment.piece(FRONT)
        point = front.landmark("bust point")
        return point.real + abs(front.edge("side seam").path.point_at(front.dart("bust dart").end + end) - point)

    before = dress("5")
    after = made(before, "full bust", amount)
    old = before.piece(FRONT)
    above_dart = old.edge("side seam").path.nearest(old.line("bust line").end)[0] - old.dart("bust dart").end
    assert above_dart > 0
    grown = over_the_bust(after, above_dart) - over_the_bust(before, above_dart)
    assert grown == pytest.approx(amount, rel=0.1)  # the cut opens by the amount; the line over it bends a little


def test_full_bust_keeps_the_dart_short_of_the_bust_point():
    for size in ("1", "5", "10"):
        front = made(dress(size), "full bust", 20.0).piece(FRONT)
        dart = front.dart("bust dart")
        assert 20.0 < abs(dart.apex - front.landmark("bust point")) < 63.0  # 1 to 2 1/2 in, Threads no. 181
        assert abs(front.dart("waist dart").apex.real - front.landmark("bust point").real) < 2.0


@pytest.mark.parametrize("drawn", [None, 6 + 9j, -8 - 4j])
def test_full_bust_without_a_bust_point_or_with_one_beside_the_dart(drawn):
    front = dress("5").piece(FRONT)
    marks = tuple(m for m in front.landmarks if m.name != "bust point")
    if drawn is not None:
        marks += tuple(replace(m, at=m.at + drawn) for m in front.landmarks if m.name == "bust point")
    before = dress("5").with_piece(replace(front, landmarks=marks))
    found = altered(before, "full bust", 15.0)
    assert all(w.sews for w in found.walks)
    assert_whole(found.garment.piece(FRONT))
    assert change(before, found.garment, FRONT, "side seam") == pytest.approx(0, abs=0.05)


def test_full_bust_needs_its_dart():
    front = dress().piece(FRONT)
    plain = replace(front, darts=tuple(d for d in front.darts if d.name != "bust dart"))
    with pytest.raises(AlterationError, match=r'needs a piece .* and a dart called "bust dart"'):
        altered(dress().with_piece(plain), "full bust", 10.0)


# -- lengths (C-228, E-372) -------------------------------------------------------------------------


@pytest.mark.parametrize(("piece", "amount"), [(FRONT, 25.0), (BACK, -12.0), ("skirt front", 60.0), ("sleeve", -25.0)])
def test_lengthen_or_shorten(piece, amount):
    before = dress("7")
    found = altered(before, "lengthen or shorten", amount, piece=piece)
    old, new = before.piece(piece), found.garment.piece(piece)
    along = next((e for e in ("centre front", "centre back") if old.has_edge(e)), None)
    if along:
        assert change(before, found.garment, piece, along) == pytest.approx(amount, abs=0.01)
    else:
        low, high = (old.outline.bounds[k] for k in (1, 3))
        assert new.outline.bounds[3] - new.outline.bounds[1] == pytest.approx(high - low + amount, abs=0.01)
    for edge in ("waist", "hem", "shoulder", "armhole", "neck", "cap"):
        if old.has_edge(edge):
            assert new.sewn_length(edge) == pytest.approx(old.sewn_length(edge), abs=0.05)
            assert new.edge(edge).path.end - new.edge(edge).path.start == pytest.approx(
                old.edge(edge).path.end - old.edge(edge).path.start, abs=0.01)
    partner = {FRONT: BACK, BACK: FRONT, "skirt front": "skirt back"}.get(piece)
    assert set(found.done[0].changed) == {piece, *([partner] if partner else [])}
    assert all(abs(w.difference) < 0.1 for w in found.walks if w.seam.endswith("side seam"))


def test_a_partner_without_a_line_is_cut_where_the_seam_says():
    back = dress().piece(BACK)
    garment = dress().with_piece(replace(back, lines=tuple(m for m in back.lines if m.name == "bust line")))
    found = altered(garment, "lengthen or shorten", 22.0, piece=FRONT)
    assert set(found.done[0].changed) == {FRONT, BACK}
    assert all(w.sews for w in found.walks)
    for piece, edge in ((FRONT, "centre front"), (BACK, "centre back")):
        assert change(garment, found.garment, piece, edge) == pytest.approx(22.0, abs=0.01)


def test_a_piece_without_a_line_is_cut_at_a_height():
    garment = dress()
    sleeve = garment.piece("sleeve")
    plain = garment.with_piece(replace(sleeve, lines=()))
    with pytest.raises(AlterationError, match='up = "10 cm"'):
        made(plain, "lengthen or shorten", 20.0, piece="sleeve")
    with pytest.raises(AlterationError, match="unit"):
        made(plain, "lengthen or shorten", 20.0, piece="sleeve", up="6")
    with pytest.raises(AlterationError, match="above the whole piece"):
        made(plain, "lengthen or shorten", 20.0, piece="sleeve", up="2 m")
    after = made(plain, "lengthen or shorten", 20.0, piece="sleeve", up="6 cm").piece("sleeve")
    tall = sleeve.outline.bounds[3] - sleeve.outline.bounds[1]
    assert after.outline.bounds[3] - after.outline.bounds[1] == pytest.approx(tall + 20.0, abs=0.05)
    assert after.sewn_length("cap") == pytest.approx(sleeve.sewn_length("cap"), abs=1e-6)


def test_lengthen_asks_which_piece():
    with pytest.raises(AlterationError, match="say which piece"):
        altered(dress(), "lengthen or shorten", 10.0)
    with pytest.raises(AlterationError, match="no line called"):
        altered(dress(), "lengthen or shorten", 10.0, piece="waistband")


def seams_told(found):
    return {f.text.split('"')[1]: f.severity for f in found.findings if f.code == "does-not-sew"}


def test_a_seam_that_an_alteration_breaks_is_a_stop_and_one_bought_so_is_a_look():
    garment = dress()
    through_the_armhole = {"piece": FRONT, "up": "30 cm"}
    broken = seams_told(altered(garment, "lengthen or shorten", 40.0, **through_the_armhole))
    assert broken["armhole"] is Severity.STOP
    odd = replace(garment, seams=tuple(replace(s, ease=(50.0, 60.0)) if s.name == "underarm" else s
                                       for s in garment.seams))
    assert seams_told(altered(odd, "high round back", 10.0)) == {"underarm": Severity.LOOK}


# -- waist and hip (C-228, E-372; halves: common practice) ------------------------------------------


@pytest.mark.parametrize("amount", [40.0, -32.0])
def test_waist_in_or_out(amount):
    before = dress("3")
    found = altered(before, "waist in or out", amount)
    after = found.garment
    for piece in (FRONT, BACK, "skirt front", "skirt back", "wrap skirt front", "wrap skirt back"):
        assert change(before, after, piece, "waist") == pytest.approx(amount / 4, abs=0.01), piece
        assert change(before, after, piece, "side seam") == pytest.approx(0, abs=0.02)
    assert change(before, after, "waistband", "waist") == pytest.approx(amount, abs=0.01)
    assert change(before, after, "waistband", "top") == pytest.approx(amount, abs=0.01)
    assert after.piece(FRONT).edge("armhole") == before.piece(FRONT).edge("armhole")
    for place in ("waist", "waist, wrap skirt"):
        assert girth(after, place) - girth(before, place) == pytest.approx(amount, abs=0.3)
    for w in found.walks:
        for pair in w.notches:
            if w.seam == "waistband":
                assert abs(pair.offset) < 3.0


def test_waist_of_one_garment_only():
    found = altered(dress(), "waist in or out", 20.0, piece="skirt front")
    assert set(found.done[0].changed) == {"skirt front", "skirt back", FRONT, BACK}


@pytest.mark.parametrize("amount", [48.0, -30.0])
def test_hip_in_or_out(amount):
    before = dress("8")
    after = made(before, "hip in or out", amount)
    for piece in ("skirt front", "skirt back"):
        old, new = before.piece(piece).line("hip line"), after.piece(piece).line("hip line")
        assert new.length - old.length == pytest.approx(amount / 4, abs=0.01)
        for edge in ("waist", "hem"):
            assert change(before, after, piece, edge) == pytest.approx(0, abs=0.05)
    assert girth(after, "hip") - girth(before, "hip") == pytest.approx(amount, abs=0.3)


@pytest.mark.parametrize("amount", [48.0, -30.0])
def test_hip_with_the_hem(amount):
    before = dress("8")
    found = altered(before, "hip in or out", amount, hem="follow")
    after = found.garment
    for piece in ("skirt front", "skirt back", "wrap skirt front"):
        old, new = before.piece(piece), after.piece(piece)
        assert change(before, after, piece, "waist") == pytest.approx(0, abs=0.05)
        assert change(before, after, piece, "hem") == pytest.approx(amount / 4, abs=0.1)
        ends = [abs(q.edge("hem").path.end - q.edge("hem").path.start) for q in (old, new)]
        assert ends[1] - ends[0] == pytest.approx(amount / 4, abs=0.1)
        for depth in (60.0, 200.0):  # parallel to the old side from the hip to the hem
            at = old.edge("side seam").path.point_at(depth)
            assert new.edge("side seam").path.nearest(at)[1] == pytest.approx(abs(amount) / 4, rel=0.1)
    ratio = next(s.ratio for s in before.seams if s.name == "skirt tier")
    assert change(before, after, "skirt tier", "top") == pytest.approx(ratio * amount / 4, abs=0.1)
    assert change(before, after, "skirt tier", "hem") == pytest.approx(ratio * amount / 4, abs=0.1)
    assert girth(after, "hip") - girth(before, "hip") == pytest.approx(amount, abs=0.3)
    assert all(w.sews for w in found.walks)


@pytest.mark.parametrize("amount", [60.0, -45.0])
def test_lengthen_with_the_flare(amount):
    before = dress("6")
    kept = made(before, "lengthen or shorten", amount, piece="skirt front", hem="keep")
    found = altered(before, "lengthen or shorten", amount, piece="skirt front", hem="follow")
    after = found.garment
    for piece, centre in (("skirt front", "centre front"), ("skirt back", "centre back")):
        assert change(before, kept, piece, "hem") == pytest.approx(0, abs=0.05)
        assert change(before, after, piece, centre) == pytest.approx(amount, abs=0.01)
        side = before.piece(piece).edge("side seam").path
        line = before.piece(piece).line("lengthen or shorten")
        slope = side.tangent_at(side.nearest(line.end)[0])
        assert change(before, after, piece, "hem") == pytest.approx(
            amount * abs(slope.real / slope.imag), abs=0.03 * abs(amount))
    assert all(w.sews for w in found.walks)
    ratio = next(s.ratio for s in before.seams if s.name == "skirt tier")
    assert change(before, after, "skirt tier", "top") == pytest.approx(
        ratio * change(before, after, "skirt front", "hem"), abs=0.05)


def test_a_waist_cannot_follow():
    with pytest.raises(AlterationError, match='use hem = "keep"'):
        altered(dress(), "lengthen or shorten", 20.0, piece=FRONT, hem="follow")


@pytest.mark.parametrize(("name", "options"), [
    ("forward shoulder", {"neck": "straight"}), ("hip in or out", {"hem": "wide"}),
    ("lengthen or shorten", {"piece": "skirt front", "hem": "wide"})])
def test_what_an_option_can_say_is_told(name, options):
    with pytest.raises(AlterationError, match="it can do"):
        altered(dress(), name, 10.0, **options)


def test_inner_lines_still_run_from_edge_to_edge():
    names = ("bust dart height", "full bust", "waist in or out", "lengthen or shorten")
    garment = dress("6")
    for name in names:
        garment = made(garment, name, 18.0, piece=FRONT)
    front = garment.piece(FRONT)
    for line in front.lines:
        assert front.edge("centre front").path.nearest(line.path.start)[1] < 0.01, line.name
        assert front.edge("side seam").path.nearest(line.path.end)[1] < 0.01, line.name
        assert line.path.end.imag == pytest.approx(line.path.start.imag, abs=1e-9), line.name


def test_a_trued_piece_comes_out_true():
    for piece in made(dress("4"), "full bust", 15.0).pieces:
        for old, new in zip(piece.edges, true_darts(piece).edges, strict=True):
            assert new.path.length == pytest.approx(old.path.length, abs=0.01)
