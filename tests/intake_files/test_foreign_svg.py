"""SVG files of cairo, Inkscape and LibreOffice Draw against the coordinates they were drawn from."""

import pytest
from master import FOREIGN, SIZES, apart, farthest, path_of, sheet, true_lines

from toilewright.intake.svg import read_svg

NEAR = 0.05
"""mm; what every file must keep (a sixth of a pen line)."""


def page(name):
    drawing = read_svg(FOREIGN / name)
    assert len(drawing.pages) == 1
    only = drawing.pages[0]
    assert (only.width, only.height) == (pytest.approx(1070, abs=0.001), pytest.approx(660, abs=0.001))
    return drawing, only


def of_colour(strokes, size):
    true = sheet.COLOURS[size]
    return [s for s in strokes if max(abs(a - b) for a, b in zip(s.look.colour, true, strict=True)) < 0.01]


# Inkscape and cairo keep five or six decimals; Draw keeps hundredths of a millimetre.
BY_COLOUR = pytest.mark.parametrize(("name", "system", "near"), [
    ("inkscape-plain.svg", "metric", 0.005), ("cairo-sheet.svg", "inch", 0.005),
    ("libreoffice-sheet.svg", "metric", NEAR)])


@BY_COLOUR
@pytest.mark.parametrize("size", SIZES[1:])
def test_sizes_told_apart_by_colour(name, system, near, size):
    _, only = page(name)
    strokes = of_colour(only.strokes, size)
    assert apart(strokes, true_lines(system, size)) < near


@BY_COLOUR
def test_black_is_the_smallest_size_and_what_all_share(name, system, near):
    _, only = page(name)
    black = of_colour(only.strokes, "8")
    assert apart(black, true_lines(system, "8") + true_lines(system, "")) < near
    assert sum(s.filled for s in black) == 8  # six grain and two fold arrow heads


def test_inkscape_layers_turned_mirrored_and_scaled_back():
    drawing, only = page("inkscape-layers.svg")
    assert drawing.layers == ("All sizes", *(f"Size {s}" for s in SIZES))
    assert drawing.findings == ()
    for size, layer in (("", "All sizes"), *((s, f"Size {s}") for s in SIZES)):
        strokes = [s for s in only.strokes if s.look.layer == layer]
        assert apart(strokes, true_lines("inch", size)) < 0.005
        assert all(s.look.dash == sheet.DASHES[size] for s in strokes
                   if size and s.path.length > 500)
        assert all(s.look.width == pytest.approx(0.35, abs=0.001) for s in strokes if not s.filled)


@pytest.mark.parametrize(("name", "system", "off"), [
    ("inkscape-plain.svg", "metric", 0.01), ("inkscape-layers.svg", "inch", 0.01),
    ("libreoffice-sheet.svg", "metric", 4.0)])
def test_words_are_where_they_were_written(name, system, off):
    # Draw places boxes, whose baseline depends on the font: its words are only near.
    _, only = page(name)
    true = list(sheet.captions(system))
    assert sorted(w.text for w in only.words) == sorted(w.text for w in true)
    for caption in true:
        found = min((w for w in only.words if w.text == caption.text),
                    key=lambda w: abs(w.at - complex(caption.x, caption.y)))
        assert abs(found.at - complex(caption.x, caption.y)) < off
        assert found.height == pytest.approx(caption.height, rel=0.02)
        assert found.angle == pytest.approx(caption.angle * 3.14159265 / 180, abs=0.001)


def test_letters_drawn_as_shapes_are_left_out_and_told():
    drawing, only = page("cairo-sheet.svg")
    assert only.words == ()
    assert [f.code for f in drawing.findings] == ["svg-letters"]


def test_a_millimetre_would_be_noticed():
    _, only = page("inkscape-plain.svg")
    moved = [path_of(m.curves, lambda z: z + 1) for m in sheet.marks("metric") if m.size == "10"]
    assert farthest([s.path for s in of_colour(only.strokes, "10")], moved) > 0.4
