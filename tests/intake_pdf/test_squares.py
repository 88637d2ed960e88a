from itertools import pairwise

import pytest

from toilewright.geometry.path import Path
from toilewright.intake import raw
from toilewright.intake.drawing import Drawing, Look, Page, Stroke, Word
from toilewright.intake.squares import all_test_squares, find_test_square, scale_finding

PEN = Look()


def ring(x, y, wide, high=None):
    high = high or wide
    corners = (complex(x, y), complex(x + wide, y), complex(x + wide, y + high), complex(x, y + high), complex(x, y))
    return [Stroke(Path(corners, (None,) * 4), PEN)]


def bars(x, y, wide):
    nodes = ring(x, y, wide)[0].path.nodes
    return [Stroke(Path.line(a, b), PEN) for a, b in pairwise(nodes)]


def drawing(strokes, *captions):
    words = tuple(Word(text, at, 4.0) for text, at in captions)
    return Drawing((Page(0, 800, 800, tuple(strokes), words),))


@pytest.mark.parametrize(("side", "text", "nominal"), [
    (100, "10 cm", 100), (100, "100 mm", 100), (101.6, "4 in x 4 in", 101.6), (50, "test square 5 cm / 2 in", 50),
    (50.8, "Test square 5 cm / 2 in", 50.8), (97, "Testquadrat 10 x 10 cm", 100), (25.4, "1\" square", 25.4),
    (38.1, "1 1/2 in", 38.1), (100, "10,0 cm", 100), (50.8, "2 inch", 50.8)])
@pytest.mark.parametrize("draw", [ring, bars])
def test_captions(draw, side, text, nominal):
    square = find_test_square(drawing(draw(200, 300, side), (text, complex(200 + side / 4, 300 + side / 2))))
    assert (square.width, square.height) == pytest.approx((side, side))
    assert square.nominal == pytest.approx(nominal)
    assert square.at == pytest.approx(complex(200 + side / 2, 300 + side / 2))


def test_a_caption_below_it_counts():
    assert find_test_square(drawing(ring(100, 100, 50), ("Test square: 5 cm", 100 + 93j))).nominal == 50


@pytest.mark.parametrize(("strokes", "text"), [
    (ring(100, 100, 100), "Choir dress"),                           # a square that nobody speaks of
    (ring(100, 100, 100, 160), "10 cm"),                            # no square
    (ring(100, 100, 100), "cut 2, seam allowance 1.5 cm included"),  # another amount
    (ring(100, 100, 70), "hem 5 cm"),
])
def test_other_squares_are_not_taken(strokes, text):
    assert find_test_square(drawing(strokes, (text, 110 + 110j))) is None


def test_words_far_away_do_not_count():
    assert find_test_square(drawing(ring(100, 100, 50), ("5 cm", 400 + 400j))) is None


def test_squares_in_both_units_are_all_found():
    strokes = ring(100, 100, 100) + ring(300, 100, 101.6)
    found = all_test_squares(drawing(strokes, ("10 cm", 140 + 150j), ("4 in", 340 + 150j)))
    assert sorted(s.nominal for s in found) == pytest.approx([100, 101.6])


def test_scale():
    finding = scale_finding(raw.TestSquare(97.0, 97.0, 100.0, 0j))
    assert "97.0 %" in finding.text and "enlarged by 3.1 %" in finding.text and "1.0309" in finding.text
    assert "reduced by 2.0 %" in scale_finding(raw.TestSquare(102.0, 102.0, 100.0, 0j)).text
    assert scale_finding(raw.TestSquare(100.4, 100.4, 100.0, 0j)) is None
