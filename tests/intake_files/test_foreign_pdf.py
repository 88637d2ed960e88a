"""PDF files of cairo, Inkscape and LibreOffice Draw against the coordinates they were drawn from."""

from dataclasses import replace

import pytest
from master import FOREIGN, SIZES, apart, farthest, path_of, sheet, true_lines

from toilewright.intake.pdf import read_pdf

NEAR = 0.05
"""mm; what every file must keep (a sixth of a pen line)."""


def of_colour(strokes, size):
    true = sheet.COLOURS[size]
    return [s for s in strokes if max(abs(a - b) for a, b in zip(s.look.colour, true, strict=True)) < 0.01]


@pytest.mark.parametrize(("name", "seam"), [("inkscape-sheet.pdf", False), ("libreoffice-sheet.pdf", False),
                                            ("cairo-sheet.pdf", True)])
def test_one_sheet(name, seam):
    drawing = read_pdf(FOREIGN / name)
    assert len(drawing.pages) == 1
    page = drawing.pages[0]
    assert (page.width, page.height) == (pytest.approx(1070, abs=0.1), pytest.approx(660, abs=0.1))
    for size in SIZES[1:]:
        assert apart(of_colour(page.strokes, size), true_lines("metric", size, seam)) < NEAR
    black = of_colour(page.strokes, "8")
    true = true_lines("metric", "8", seam) + true_lines("metric", "")
    assert farthest(true, [s.path for s in black]) < NEAR
    lines = [s.path for s in black if not s.filled]
    assert farthest(lines, true) < NEAR


@pytest.mark.parametrize("name", ["inkscape-sheet.pdf", "libreoffice-sheet.pdf", "cairo-sheet.pdf"])
def test_words_of_one_sheet(name):
    words = read_pdf(FOREIGN / name).pages[0].words
    said = " ".join(w.text for w in words)
    for caption in ("Choir blouse", "Bodice front", "cut 1 on fold", "1 cm seam allowance included",
                    "Test square 5 cm x 5 cm", "Size 14"):
        assert caption.replace(" ", "") in said.replace(" ", "")
    title = next(w for w in words if w.text.startswith("Choir"))
    # Draw places boxes, whose baseline depends on the font.
    assert abs(title.at - complex(85, 630)) < (4.0 if "libre" in name else 0.1)


def on_sheet(drawing, corner, place):
    """All strokes of a tiled file, moved to where their page belongs: page corner in, tile place out."""
    return [replace(s, path=s.path.moved(place(page.number - 1) - corner))
            for page in drawing.pages for s in page.strokes]


def test_a4_tiles_clipped():
    """Whole curves were drawn on every tile and clipped there: side by side the pages show all of the sheet."""
    drawing = read_pdf(FOREIGN / "cairo-a4.pdf")
    assert len(drawing.pages) == 18
    for page in drawing.pages:
        assert (page.width, page.height) == (pytest.approx(210, abs=0.01), pytest.approx(297, abs=0.01))
    strokes = on_sheet(drawing, 10 + 10j, lambda k: complex(190 * (k % 6), 660 - 277 * (k // 6 + 1)))
    for size in SIZES[1:]:
        assert apart(of_colour(strokes, size), true_lines("metric", size)) < NEAR


def test_letter_tiles_cut():
    """Polylines of about 1,000 points, cut at the tile borders: chords of the true curves, 0.01 mm off at most.
    The tiles overlap by 10 mm.
    """
    drawing = read_pdf(FOREIGN / "cairo-letter.pdf")
    assert len(drawing.pages) == 18
    strokes = on_sheet(drawing, 12.7 + 12.7j, lambda k: complex(180.5 * (k % 6), 660 - 254 - 244 * (k // 6)))
    for size in SIZES[1:]:
        dash = sheet.DASHES[size]
        read = [s for s in strokes if len(s.look.dash) == len(dash)
                and all(abs(a - b) < 0.01 for a, b in zip(s.look.dash, dash, strict=True))]
        true = true_lines("inch", size, kinds=("cut", "key"))
        assert farthest([s.path for s in read], true) < NEAR
        assert farthest(true, [s.path for s in read]) < NEAR


def test_a_millimetre_would_be_noticed():
    page = read_pdf(FOREIGN / "inkscape-sheet.pdf").pages[0]
    moved = [path_of(m.curves, lambda z: z + 1) for m in sheet.marks("metric") if m.size == "10"]
    assert farthest([s.path for s in of_colour(page.strokes, "10")], moved) > 0.4
