"""The picture of what a toile will show: her places on the pieces, where the numbers say."""

from itertools import combinations

import pytest

from toilewright.blocks.chart import body_of as chart_body
from toilewright.blocks.choir_trousers import choir_trousers
from toilewright.blocks.choir_tunic import choir_tunic
from toilewright.blocks.concert import concert_dress
from toilewright.blocks.princess_dress import princess_dress
from toilewright.body.tape import body_of
from toilewright.draw.figure import Pen
from toilewright.fit.toile.drawing import prediction_figure
from toilewright.fit.toile.predict import predict
from toilewright.pattern.garment import Garment

DRESS = concert_dress().at("4")


def drawn(garment=DRESS, **more):
    body = body_of("Alto", chart_body("4") | {k.replace("_", " "): v for k, v in more.items()}, waist_place="natural")
    return prediction_figure(garment, predict(garment, body))


def words(figure):
    """All captions in their order, so that what is broken into lines can be found as well."""
    return " ".join(c.text for c in figure.captions)


def ends(figure, near):
    """Where the leaders of a caption end."""
    at = next(c for c in figure.captions if c.text == near).at
    leaders = [m.path for m in figure.marks if m.pen is Pen.GUIDE]
    beside = [p for p in leaders if abs(p.start.imag - at.imag) < 20 and abs(p.start.real - at.real) < 200]
    closest = min(abs(p.start.imag - at.imag) for p in beside)
    return [p.end for p in beside if abs(p.start.imag - at.imag) < closest + 1e-6]


def cross(figure, pen, near):
    """Middle of the cross whose words are given."""
    arms = [m.path for m in figure.marks if m.pen is pen and abs(m.path.length - 24.0) < 1e-6]
    middles = [(p.start + p.end) / 2 for p in arms]
    (end,) = ends(figure, near)
    middle = min(middles, key=lambda z: abs(z - end))
    assert abs(middle - end) == pytest.approx(12.0, abs=1e-6)
    return middle


LOW = {"neck_shoulder_point_to_bust_point": 290.0, "waist_to_hip": 230.0, "back_neck_point_to_waist": 430.0,
       "neck_shoulder_point_to_waist": 480.0}
"""A long-waisted alto whose bust and hip lie low."""


def test_it_names_her_places_and_the_patterns():
    said = words(drawn(**LOW))
    for one in ("front", "back", "her bust point", "the dart aims here", "her shoulder point", "her waist", "her hip",
                "hip of the pattern"):
        assert said.count(one) == 1, one
    assert len(ends(drawn(**LOW), "her waist")) == len(ends(drawn(**LOW), "her shoulder point")) == 2


def test_where_hers_and_the_patterns_are_one_they_are_named_together():
    said = words(drawn())
    for one in ("the dart aims at her bust point", "waist, hers and the pattern's", "hip, hers and the pattern's"):
        assert said.count(one) == 1, one
    assert "her hip" not in said and "hip of the pattern" not in said


@pytest.mark.parametrize("more", [{}, LOW, {"waist_to_hip": 216.0, "bust_point_width": 230.0}])
@pytest.mark.parametrize("pattern", [concert_dress, princess_dress, choir_tunic, choir_trousers])
@pytest.mark.parametrize("room", [None, (612.0, 552.0)], ids=["own", "page"])
def test_no_words_lie_over_others_nor_over_the_pieces(pattern, more, room):
    picture = drawn(pattern().at("4"), **more)
    x0, y0, x1, y1 = picture.whole()
    # On the page the type is 15 px, whatever the picture's scale.
    size = None if room is None else 15.0 * max((x1 - x0) / room[0], (y1 - y0) / room[1])
    boxes = [c.box(size) for c in picture.captions]
    for (a0, b0, a1, b1), (c0, d0, c1, d1) in combinations(boxes, 2):
        assert a1 <= c0 or c1 <= a0 or b1 <= d0 or d1 <= b0
    for box in (m.path.bounds for m in picture.marks if m.pen is Pen.NEW or m.pen is Pen.DART):
        for a0, b0, a1, b1 in boxes:
            assert a1 <= box[0] or box[2] <= a0 or b1 <= box[1] or box[3] <= b0


@pytest.mark.parametrize(("lower", "apart"), [(25.0, 0.0), (-20.0, 16.0), (0.0, -20.0)])
def test_her_bust_point_lies_where_the_numbers_say(lower, apart):
    front = DRESS.piece("bodice front")
    neck, bust = front.landmark("neck point"), front.landmark("bust point")
    width = 2 * bust.real + apart
    across = width / 2 - neck.real
    down = (neck - bust).imag + lower
    picture = drawn(neck_shoulder_point_to_bust_point=(across**2 + down**2) ** 0.5, bust_point_width=width)
    aim, hers = cross(picture, Pen.NEW, "the dart aims here"), cross(picture, Pen.SLASH, "her bust point")
    # The front is drawn with its centre at the right: outwards is to the left.
    assert hers - aim == pytest.approx(complex(-apart / 2, -lower), abs=0.2)


def test_her_waist_is_drawn_below_a_back_that_is_too_short():
    def waist(figure):
        lines = [m.path for m in figure.marks if m.pen is Pen.SLASH and abs(m.path.start.imag - m.path.end.imag) < 1e-9
                 and m.path.length > 100]
        return max(p.start.imag for p in lines if min(p.start.real, p.end.real) < 100)

    low = chart_body("4")["back neck point to waist"] + 20
    assert waist(drawn()) - waist(drawn(back_neck_point_to_waist=low)) == pytest.approx(20, abs=0.1)


def test_a_mirrored_pattern_is_drawn_the_same():
    other = Garment(tuple(p.mirrored(0j, 1j) for p in DRESS.pieces), DRESS.seams)
    assert drawn().bounds() == pytest.approx(drawn(other).bounds(), abs=0.01)


@pytest.mark.parametrize("pattern", [princess_dress, choir_tunic, choir_trousers])
def test_patterns_of_other_kinds_are_drawn_whole(pattern):
    garment = pattern().at("4")
    picture = drawn(garment)
    said = words(picture)
    assert ("bust point, hers and the pattern's" in said) == (pattern is not choir_trousers)
    assert said.count("hip") in (1, 2)
    solid = sum(m.path.length for m in picture.marks if m.pen is Pen.NEW)
    body = [p for p in garment.pieces if p.has_edge("side seam") or p.has_edge("princess seam")]
    assert solid >= sum(p.outline.length for p in body) - 0.1


def test_a_skirt_alone_is_drawn_without_a_bust_point():
    skirt = Garment(tuple(p for p in DRESS.pieces if p.name in ("skirt front", "skirt back")))
    said = words(drawn(skirt))
    assert "hip, hers and the pattern's" in said and "bust" not in said
