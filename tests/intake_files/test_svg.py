"""SVG rules one by one: units, matrices, styles, layers, shapes, words; path data against svgelements."""

from math import pi

import pytest
import svgelements
from hypothesis import given, settings
from hypothesis import strategies as st

from toilewright.errors import FileError
from toilewright.geometry import Path
from toilewright.intake.svg import read_svg
from toilewright.intake.svg_path import path_data

SVG = 'xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink"'
MM = 'width="200mm" height="100mm" viewBox="0 0 200 100"'
INK = 'xmlns:inkscape="http://www.inkscape.org/namespaces/inkscape"'
LINE = '<path d="M0 0L10 0" stroke="red"/>'


@pytest.fixture
def draw(tmp_path):
    def read(inside, head=MM, before=""):
        file = tmp_path / "made.svg"
        file.write_text(f"{before}<svg {SVG} {head}>{inside}</svg>")
        return read_svg(file)
    return read


def ends(drawing):
    return [(s.path.start, s.path.end) for s in drawing.pages[0].strokes]


@pytest.mark.parametrize(("head", "size", "end", "codes"), [
    ('width="200mm" height="100mm" viewBox="0 0 200 100"', (200, 100), 10, []),
    ('width="20cm" height="10cm" viewBox="0 0 400 200"', (200, 100), 5, []),
    ('width="8in" height="4in"', (203.2, 101.6), 10 * 25.4 / 96, []),
    ('width="72pt" height="36pt" viewBox="0 0 72 36"', (25.4, 12.7), 10 * 25.4 / 72, []),
    ('width="6pc" height="6pc" viewBox="0 0 10 10"', (25.4, 25.4), 25.4, []),
    ('width="96" height="192"', (25.4, 50.8), 10 * 25.4 / 96, ["svg-scale"]),
    ('width="960px" height="480px" viewBox="0 0 10 5"', (254, 127), 254, ["svg-scale"]),
    ('viewBox="0 0 96 48"', (25.4, 12.7), 10 * 25.4 / 96, ["svg-scale"]),
    ('width="100%" height="100%" viewBox="0 0 96 48"', (25.4, 12.7), 10 * 25.4 / 96, ["svg-scale"]),
    ('width="90" height="90" inkscape:version="0.48.4 r9939" ' + INK, (25.4, 25.4), 10 * 25.4 / 90, ["svg-scale"]),
    ('width="96" height="96" inkscape:version="1.2.2" ' + INK, (25.4, 25.4), 10 * 25.4 / 96, ["svg-scale"]),
])
def test_units(draw, head, size, end, codes):
    drawing = draw(LINE, head)
    page = drawing.pages[0]
    assert (page.width, page.height) == (pytest.approx(size[0]), pytest.approx(size[1]))
    assert ends(drawing) == [(pytest.approx(size[1] * 1j), pytest.approx(end + size[1] * 1j))]
    assert [f.code for f in drawing.findings] == codes


def test_pixels_of_a_program_that_signs_in_a_comment(draw):
    drawing = draw(LINE, 'width="72px" height="72px"', "<!-- Generator: Adobe Illustrator 25.0, SVG Export -->\n")
    assert drawing.pages[0].width == pytest.approx(25.4)
    assert [f.code for f in drawing.findings] == ["svg-scale"]


def test_viewbox_keeps_shapes_and_is_centred_unless_told_otherwise(draw):
    wide = 'width="200mm" height="100mm" viewBox="0 0 10 10"'
    assert ends(draw(LINE, wide)) == [(pytest.approx(50 + 100j), pytest.approx(150 + 100j))]
    left = wide + ' preserveAspectRatio="xMinYMin"'
    assert ends(draw(LINE, left)) == [(pytest.approx(100j), pytest.approx(100 + 100j))]
    assert ends(draw(LINE, wide + ' preserveAspectRatio="none"')) == [(pytest.approx(100j), pytest.approx(200 + 100j))]


@pytest.mark.parametrize(("transform", "start", "end"), [
    ("translate(5 7)", 5 + 93j, 15 + 93j),
    ("translate(5)", 5 + 100j, 15 + 100j),
    ("rotate(90)", 100j, 90j),
    ("rotate(90 10 0)", 10 + 110j, 10 + 100j),
    ("scale(-1,1)", 100j, -10 + 100j),
    ("matrix(-1 0 0 1 50 0)", 50 + 100j, 40 + 100j),
    ("matrix(0,1,1,0,0,0)", 100j, 90j),
    ("skewY(45)", 100j, 10 + 90j),
    ("translate(20,0) scale(2)", 20 + 100j, 40 + 100j),
    ("scale(2) translate(20,0)", 40 + 100j, 60 + 100j),
])
def test_transforms(draw, transform, start, end):
    found = ends(draw(f'<g transform="{transform}">{LINE}</g>'))
    assert found == [(pytest.approx(start, abs=1e-9), pytest.approx(end, abs=1e-9))]


def test_transforms_inside_one_another(draw):
    inside = f'<g transform="translate(100 0)"><g transform="rotate(90)"><g transform="scale(3)">{LINE}</g></g></g>'
    assert ends(draw(inside)) == [(pytest.approx(100 + 100j), pytest.approx(100 + 70j))]


def test_nested_svg_use_and_symbol(draw):
    nested = f'<svg x="10" y="20" width="50" height="50" viewBox="0 0 10 10">{LINE}</svg>'
    assert ends(draw(nested)) == [(pytest.approx(10 + 80j), pytest.approx(60 + 80j))]
    used = f'<defs><g id="a">{LINE}</g></defs><use xlink:href="#a" x="5" y="5"/><use href="#a" transform="scale(2)"/>'
    assert ends(draw(used)) == [(pytest.approx(5 + 95j), pytest.approx(15 + 95j)),
                                (pytest.approx(100j), pytest.approx(20 + 100j))]
    symbol = f'<symbol id="s" viewBox="0 0 10 10">{LINE}</symbol><use href="#s" x="30" width="40" height="40"/>'
    assert ends(draw(symbol)) == [(pytest.approx(30 + 100j), pytest.approx(70 + 100j))]


def test_style_comes_from_attribute_class_and_parent(draw):
    css = ("<style>/* sizes */ .s8 {stroke: #00f; stroke-dasharray: 3 1} path.s8 {stroke-width: 2}"
           " #own, .none {stroke: lime} g .s8 {stroke: black}</style>")
    drawing = draw(css + '<g stroke="rgb(100%,0%,0%)" stroke-width="0.5" fill="none">'
                   '<path d="M0 0H9"/><path class="x s8" d="M0 1H9"/><path class="s8" style="stroke:#0a0" d="M0 2H9"/>'
                   '<path id="own" stroke="blue" d="M0 3H9"/>'
                   '<g transform="scale(2)"><path stroke-dasharray="1,2,3" d="M0 4H9"/></g></g>')
    looks = [s.look for s in drawing.pages[0].strokes]
    assert [look.colour for look in looks] == [
        (1, 0, 0), (0, 0, 1), (0, pytest.approx(2 / 3), 0), (0, 1, 0), (1, 0, 0)]
    assert [look.width for look in looks] == [0.5, 2, 2, 0.5, 1.0]
    assert [look.dash for look in looks] == [(), (3, 1), (3, 1), (), (2, 4, 6, 2, 4, 6)]


def test_equal_looks_are_one_object(draw):
    strokes = draw(LINE * 3).pages[0].strokes
    assert strokes[0].look is strokes[1].look is strokes[2].look


def test_what_is_not_shown_is_not_read(draw):
    hidden = "".join((
        f'<g display="none">{LINE}</g>', f'<g style="display:none">{LINE}</g>', f'<g opacity="0">{LINE}</g>',
        f'<g visibility="hidden">{LINE}</g>', f"<defs>{LINE}</defs>", f'<clipPath id="c">{LINE}</clipPath>',
        f'<mask>{LINE}</mask><pattern>{LINE}</pattern><marker>{LINE}</marker><symbol id="q">{LINE}</symbol>',
        '<path d="M0 0L9 9" fill="none"/>', '<rect width="9" height="9" fill="white"/>',
        '<path d="M5 5" stroke="red"/>'))
    drawing = draw(hidden + '<g visibility="hidden"><path visibility="visible" d="M1 1L2 2" stroke="red"/></g>')
    assert ends(drawing) == [(pytest.approx(1 + 99j), pytest.approx(2 + 98j))]


def test_a_picture_is_told(draw):
    drawing = draw(f'{LINE}<image width="5" height="5" href="scan.png"/>')
    assert [f.code for f in drawing.findings] == ["svg-picture"]


def test_arrow_heads_at_the_ends_of_a_line(draw):
    head = ('<defs><marker id="h" orient="auto-start-reverse" refX="5" refY="5" viewBox="0 0 10 10" markerWidth="10" '
            'markerHeight="10"><path d="M0 0L10 5L0 10Z"/></marker></defs>')
    line = '<path d="M50 80V20" stroke="black" stroke-width="0.5" style="marker-start:url(#h)" marker-end="url(#h)"/>'
    shaft, start, end = draw(head + line).pages[0].strokes
    assert (start.filled, end.filled) == (True, True)
    # 5 mm long, half before the end of the line and half beyond; its tip points away from the line.
    assert end.path.nodes[1] == pytest.approx(50 + 82.5j)
    assert sorted(p.real for p in end.path.nodes[:3]) == pytest.approx([47.5, 50, 52.5])
    assert start.path.nodes[1] == pytest.approx(50 + 17.5j)
    assert shaft.path.length == pytest.approx(60)


def test_solid_shapes_and_tinted_pieces(draw):
    drawing = draw('<path d="M0 0L4 0L2 3Z"/><path d="M0 0L4 0L2 3Z" stroke="black"/>'
                   '<path d="M0 0L4 0L2 3Z" fill="#eee" stroke="black"/>'
                   '<path d="M0 0L4 0" stroke="black" fill="none"/>')
    assert [s.filled for s in drawing.pages[0].strokes] == [True, True, False, False]


def test_layers_of_a_drawing_program(draw):
    layer = '<g inkscape:groupmode="layer" inkscape:label="{}">{}</g>'
    layers = layer.format("Size 8", LINE + layer.format("inner", LINE))
    drawing = draw(f'{layers}<g id="loose">{LINE}</g>', f"{MM} {INK}")
    assert [s.look.layer for s in drawing.pages[0].strokes] == ["Size 8", "Size 8 / inner", None]
    assert drawing.layers == ("Size 8", "Size 8 / inner")


def test_named_groups_are_layers_where_there_are_no_others(draw):
    drawing = draw(f'<g id="sheet"><g id="size-36"><g id="front">{LINE}</g><g id="back">{LINE}</g></g>'
                   f'<g id="size_x0020_38">{LINE}</g><g id="g1234">{LINE}</g></g>')
    assert [s.look.layer for s in drawing.pages[0].strokes] == ["size-36", "size-36", "size 38", None]


@pytest.mark.parametrize(("shape", "area", "length"), [
    ('<rect x="5" y="5" width="40" height="30"/>', 1200, 140),
    ('<rect x="5" y="5" width="40" height="30" rx="5"/>', 1200 - (4 - pi) * 25, 140 - 40 + 10 * pi),
    ('<circle cx="50" cy="50" r="40"/>', 1600 * pi, 80 * pi),
    ('<ellipse cx="50" cy="50" rx="40" ry="20"/>', 800 * pi, None),
    ('<polygon points="0,0 30,0 30,40"/>', 600, 120),
    ('<path d="M10 50a40 40 0 1 1 80 0a40 40 0 1 1-80 0z"/>', 1600 * pi, 80 * pi),
])
def test_basic_shapes(draw, shape, area, length):
    (stroke,) = draw(f'<g fill="none" stroke="black">{shape}</g>').pages[0].strokes
    assert stroke.path.closed
    assert abs(stroke.path.area()) == pytest.approx(area, rel=2e-5)
    if length:
        assert stroke.path.length == pytest.approx(length, rel=1e-5)


def test_open_shapes(draw):
    drawing = draw('<g fill="none" stroke="black"><line x1="1" y1="2" x2="3cm" y2="2"/>'
                   '<polyline points="0 0,10 0 10-10"/></g>')
    assert ends(drawing)[1] == (pytest.approx(100j), pytest.approx(10 + 110j))
    assert ends(drawing)[0][0] == pytest.approx(1 + 98j)


def test_arcs_are_within_a_hundredth_of_a_millimetre(draw):
    head = 'width="2000mm" height="1000mm" viewBox="0 0 2000 1000"'
    drawing = draw('<path fill="none" stroke="black" d="M0 0A1000 1000 0 0 0 2000 0"/>', head)
    (stroke,) = drawing.pages[0].strokes
    assert all(abs(abs(p - (1000 + 1000j)) - 1000) < 0.01 for p in stroke.path.flatten(0.001))
    assert min(p.imag for p in stroke.path.flatten(0.001)) == pytest.approx(0, abs=0.01)


def test_words(draw):
    drawing = draw('<text x="20" y="30" font-size="5" fill="blue">Bodice <tspan font-weight="bold">front</tspan>'
                   '<tspan x="20" dy="1.2em">cut 1</tspan></text>'
                   '<text transform="translate(50 50) rotate(-90)" style="font-size:2mm">grain</text>'
                   '<text x="100" y="90" font-size="4" text-anchor="middle">hem</text><text display="none">no</text>')
    words = drawing.pages[0].words
    assert [w.text for w in words] == ["Bodice front", "cut 1", "grain", "hem"]
    assert words[0].at == pytest.approx(20 + 70j)
    assert words[0].look.colour == (0, 0, 1)
    assert words[1].at == pytest.approx(20 + 64j)
    assert (words[2].at, words[2].angle) == (pytest.approx(50 + 50j), pytest.approx(pi / 2))
    assert words[0].height == pytest.approx(5)
    assert words[3].at == pytest.approx(96 + 10j, abs=1.5)


NUMBER = st.integers(-500, 500).map(lambda n: n / 10)
PAIR = st.tuples(NUMBER, NUMBER).map(lambda p: f"{p[0]},{p[1]}")


def command(draw_):
    # S and T follow their own kind here: svgelements mirrors handles of the other kind too, which SVG 1.1 does not.
    verb = draw_(st.sampled_from([*"LlHhVvCcQqAaZ", "CS", "cs", "QT", "qtt"]))
    if verb == "Z":
        return verb
    if verb in "HhVv":
        return f"{verb}{draw_(NUMBER)}"
    if verb in "Aa":
        rx, ry = draw_(st.integers(50, 600)) / 10, draw_(st.integers(50, 600)) / 10
        flags = f"{draw_(st.integers(0, 1))}{draw_(st.integers(0, 1))}"
        return f"{verb}{rx} {ry} {draw_(NUMBER)} {flags}{draw_(PAIR)}"
    count = {"L": 1, "T": 1, "S": 2, "Q": 2, "C": 3}
    return "".join(v + " ".join(draw_(PAIR) for _ in range(count[v.upper()])) for v in verb)


@st.composite
def data(draw_):
    return f"M{draw_(PAIR)}" + "".join(command(draw_) for _ in range(draw_(st.integers(1, 6))))


@settings(max_examples=60, deadline=None)
@given(data())
def test_path_data_as_svgelements_reads_it(text):
    ours = path_data(text)
    theirs = [s for s in svgelements.Path(text) if not isinstance(s, svgelements.Move)]
    points = [complex(p.x, p.y) for s in theirs for k in range(9) for p in (s.point(k / 8),)]
    assert bool(ours) == any(s.length(error=1e-4) > 1e-9 for s in theirs)
    for p in points if ours else ():
        assert min(path.nearest(p)[1] for path in ours) < 0.002
    length = sum(s.length(error=1e-5) for s in theirs)
    assert sum(p.length for p in ours) == pytest.approx(length, abs=0.02, rel=1e-4)


def test_path_data_stops_at_the_first_error():
    assert path_data("M0 0L10 0 L20 x 30") == [Path.line(0j, 10 + 0j)]
    assert path_data("10 10 L 5 5") == []
    assert path_data("M0 0 L 5") == []


@pytest.mark.parametrize(("text", "sentence"), [
    ("", "damaged SVG"), ("<svg", "damaged SVG"), ("<html></html>", "not an SVG drawing"),
    (f"<svg {SVG}><g></svg>", "damaged SVG"),
])
def test_what_is_not_svg(tmp_path, text, sentence):
    file = tmp_path / "bad.svg"
    file.write_text(text)
    with pytest.raises(FileError, match=sentence):
        read_svg(file)
