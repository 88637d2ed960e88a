"""The picture of what a toile will show: her places on the pieces, where the numbers say."""

import pytest

from toilewright.blocks.chart import body_of as chart_body
from toilewright.blocks.choir_trousers import choir_trousers
from toilewright.blocks.choir_tunic import choir_tunic
from toilewright.blocks.concert import concert_dress
from toilewright.blocks.princess_dress import princess_dress
from toilewright.body.tape import body_of
from toilewright.draw.figure import Pen
from toilewright.fit.toile.drawing import caption_box, prediction_figure
from toilewright.fit.toile.predict import predict
from toilewright.pattern.garment import Garment

DRESS = concert_dress().at("4")


def drawn(garment=DRESS, **more):
    body = body_of("Alto", chart_body("4") | {k.replace("_", " "): v for k, v in more.items()}, waist_place="natural")
    return prediction_figure(garment, predict(garment, body))


def words(figure):
    return [c.text for c in figure.captions if c.text]


def cross(figure, pen, near):
    """Middle of the cross whose words are given."""
    at = next(c.at for c in figure.captions if c.text == near)
    arms = [m.path for m in figure.marks if m.pen is pen and abs(m.path.length - 24.0) < 1e-6]
    middles = [(p.start + p.end) / 2 for p in arms]
    return min(middles, key=lambda z: abs(z - at))


def test_it_names_her_places_and_the_patterns():
    said = words(drawn())
    assert {"front", "back", "her bust point", "the dart aims here", "her shoulder point", "her waist", "her hip",
            "hip of the pattern"} <= set(said)
    assert said.count("her waist") == said.count("her hip") == 2


@pytest.mark.parametrize(("lower", "apart"), [(25.0, 0.0), (-20.0, 16.0), (0.0, -14.0)])
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
    assert ("bust point of the pattern" in said) == (pattern is not choir_trousers) and "her hip" in said
    solid = sum(m.path.length for m in picture.marks if m.pen is Pen.NEW)
    body = [p for p in garment.pieces if p.has_edge("side seam") or p.has_edge("princess seam")]
    assert solid >= sum(p.outline.length for p in body) - 0.1


def test_a_skirt_alone_is_drawn_without_a_bust_point():
    skirt = Garment(tuple(p for p in DRESS.pieces if p.name in ("skirt front", "skirt back")))
    said = words(drawn(skirt))
    assert "her hip" in said and "her bust point" not in said


@pytest.mark.parametrize("pattern", [concert_dress, princess_dress, choir_tunic, choir_trousers])
@pytest.mark.parametrize("more", [{}, {"neck_shoulder_point_to_bust_point": 285}, {"waist_to_hip": 215}])
def test_no_words_lie_on_others(pattern, more):
    boxes = [caption_box(c) for c in drawn(pattern().at("4"), **more).captions if c.text]
    for i, a in enumerate(boxes):
        for b in boxes[i + 1:]:
            assert a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]
