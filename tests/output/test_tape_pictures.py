"""Every measure has a picture, and the tape lies where the measure is taken."""

import re
from xml.etree import ElementTree

import pytest

from toilewright.body.measures import all_measures
from toilewright.body.tape import WAISTS
from toilewright.draw.figure import Pen
from toilewright.output.body_views import body_views
from toilewright.output.tape_markup import body_markup, picture_markup
from toilewright.output.tape_pictures import tape_pictures, waist_pictures

MEASURES = [m.name for m in all_measures()]
PICTURES = tape_pictures()
GIRTHS = [n for n in MEASURES if n.endswith("girth")]
EVERY = [*PICTURES.values(), *waist_pictures().values()]
PICTURE = pytest.mark.parametrize("picture", EVERY, ids=lambda p: p.measure)
NEAR = 1.0
"""mm on a body of 1.7 m; less than the width of a drawn line."""


def view(picture):
    return body_views()[picture.view]


def height(name):
    return PICTURES[name].tape.start.imag


def test_every_measure_and_every_waist_has_a_picture():
    assert list(PICTURES) == MEASURES
    assert list(waist_pictures()) == list(WAISTS)


@pytest.mark.parametrize("name", GIRTHS)
def test_a_girth_goes_round_from_outline_to_outline(name):
    picture = PICTURES[name]
    tape = picture.tape
    for end in (tape.start, tape.end):
        assert view(picture).outline.nearest(end)[1] < NEAR
    (behind,) = [m.path for m in picture.over.marks if m.pen is Pen.TAPE_BEHIND]
    assert abs(behind.start - tape.start) < 1e-6 and abs(behind.end - tape.end) < 1e-6
    # What is seen lies lower than what is hidden: one looks down a little on a tape.
    assert behind.point_at(behind.length / 2).imag > tape.point_at(tape.length / 2).imag + 5


@pytest.mark.parametrize(("name", "start", "end"), [
    ("shoulder length", "neck point", "shoulder tip"),
    ("shoulder slope", "neck point", "shoulder tip"),
    ("back neck point to waist", "nape", "waist"),
    ("neck shoulder point to bust point", "neck point", "bust point"),
    ("neck shoulder point to waist", "neck point", None),
    ("neck shoulder point to waist back", "neck point", None),
    ("bust point width", "other bust point", "bust point"),
    ("armscye depth", "nape", None),
    ("arm length", "shoulder tip", "wrist"),
    ("crotch depth", "waist", "seat"),
    ("forward shoulder", "seam", "shoulder bone"),
])
def test_a_length_begins_and_ends_at_its_landmarks(name, start, end):
    picture = PICTURES[name]
    places = view(picture).places
    assert picture.tape.start == places[start]
    assert end is None or picture.tape.end == places[end]


def test_heights_follow_each_other_down_the_body():
    down = ["upper bust girth", "bust girth", "under-bust girth", "waist girth", "high hip girth", "hip girth"]
    heights = [height(n) for n in down]
    assert heights == sorted(heights, reverse=True)
    assert height("neck base girth") > height("upper bust girth")
    for name in ("waist to hip", "waist height"):
        assert height(name) == pytest.approx(height("waist girth"), abs=NEAR)
    assert PICTURES["waist to hip"].tape.end.imag == pytest.approx(height("hip girth"), abs=NEAR)
    assert PICTURES["waist height"].tape.end.imag == 0
    stature = PICTURES["stature"].tape
    assert stature.start.imag == 0
    assert stature.end.imag == pytest.approx(body_views()["side"].figure.bounds()[3], abs=2 * NEAR)


def test_the_three_waists_lie_one_under_the_other_and_the_natural_one_is_the_narrowest():
    natural, half_way, navel = (p.tape for p in waist_pictures().values())
    assert natural.start.imag > half_way.start.imag > navel.start.imag
    width = [abs(t.end - t.start) for t in (natural, half_way, navel)]
    assert width == sorted(width)


def test_the_tape_from_the_neck_goes_over_the_bust_point_and_the_blade():
    for name, place in (("neck shoulder point to waist", "bust point"),
                        ("neck shoulder point to waist back", "shoulder blade")):
        picture = PICTURES[name]
        assert picture.tape.nearest(view(picture).places[place])[1] < NEAR


def test_lengths_stand_in_the_proportion_of_a_body():
    assert PICTURES["waist height"].tape.length > PICTURES["arm length"].tape.length
    assert PICTURES["armscye depth"].tape.length < PICTURES["back neck point to waist"].tape.length
    to_bust, to_waist = (PICTURES[f"neck shoulder point to {end}"].tape for end in ("bust point", "waist"))
    assert to_bust.length < to_waist.length
    head = 1713 - 1475
    assert 7 < 1713 / head < 8


@PICTURE
def test_the_tape_and_the_words_lie_inside_the_window(picture):
    x0, y0, x1, y1 = picture.window
    assert (y1 - y0) / (x1 - x0) == pytest.approx(1.25, abs=0.01)
    a, b, c, d = picture.tape.bounds
    assert x0 < a and c < x1 and y0 < b and d < y1
    for caption in picture.over.captions:
        run = 0.55 * caption.height / 0.72 * len(caption.text)
        start = caption.at.real - {"start": 0, "middle": run / 2, "end": run}[caption.anchor]
        assert x0 < start and start + run < x1, caption.text


@pytest.mark.parametrize("name", list(body_views()))
def test_views_are_closed_and_on_the_ground(name):
    one = body_views()[name]
    assert one.outline.closed
    assert one.figure.marks[0].path is one.outline
    if name in ("front", "back"):
        assert [p for p in (m.path for m in one.figure.marks) if p.bounds[1] < -10] == []
        x0, _, x1, _ = one.outline.bounds
        assert x0 == pytest.approx(-x1)


def test_markup_is_whole_and_carries_no_colours_and_no_style():
    ids = set(re.findall(r'<g id="([^"]+)"', body_markup()))
    ElementTree.fromstring(body_markup())
    for picture in EVERY:
        text = picture_markup(picture, 'the "waist"', str.title)
        tree = ElementTree.fromstring(text)
        assert tree.get("aria-label") == 'the "waist"'
        assert tree.find("use").get("href")[1:] in ids
        assert not re.search(r"#[0-9a-f]{3,6}\b|style=|stroke=|fill=", text.replace(tree.find("use").get("href"), ""))
        assert [t.text for t in tree.findall("text")] == [c.text.title() for c in picture.over.captions]
