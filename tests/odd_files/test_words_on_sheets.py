"""What bought patterns write on their sheets, in the many ways in which they write it."""

from __future__ import annotations

import pytest

from toilewright.geometry.path import Path
from toilewright.intake.captions import CaptionLine, allowance, cut_note, tidy_name
from toilewright.intake.drawing import Look, Stroke, Word
from toilewright.intake.looks import legend_strokes
from toilewright.intake.sizes import layer_sizes, said_size, size_name


def line(text):
    return CaptionLine(text, 0j, 4.0, 0.0, 10.0, ())


@pytest.mark.parametrize(("text", "name", "count"), [
    ("FRONT - cut 1 on fold", "front", 1),
    ("2 Skirt Back / cut 2", "skirt back", 2),
    ("1 - Front", "front", None),
    ("A  Bodice Front", "bodice front", None),
    ("Piece 1 of 4: Front Bodice", "front bodice", None),
    ("No. 3 Sleeve x 2", "sleeve", 2),
    ("Skirt Back x2", "skirt back", 2),
    ("Bodice, Front", "bodice front", None),
    ("Skirt (front)", "skirt front", None),
    ("Facing – Front neck", "facing front neck", None),
    ("Back: cut 2", "back", 2),
    ("sleeve_frill", "sleeve frill", None),
    ("A-line skirt front", "a-line skirt front", None),
    ("Skirt front 38", "skirt front", None),
    ("Front | Cut 1 on fold | Sizes 6-16", "front", 1),
    ("10 cm x 10 cm", "", None),
    ("Test 5 x 5 cm", "", None),
])
def test_names_of_pieces(text, name, count):
    assert (tidy_name(text), cut_note([line(text)]).count) == (name, count)


@pytest.mark.parametrize(("text", "mm"), [
    ('All seam allowances 1/2" (12 mm) unless stated', 12.7),
    ("Hem allowance 4 cm, seam allowance 1 cm", 10.0),
    ("Seam allowances: 1 cm; hem 4 cm", 10.0),
    ("hem 3 cm (seam allowance 1 cm)", 10.0),
    ("Seam allowances and hems 1.5 cm", 15.0),
    ("1.5 cm seams included", 15.0),
    ('Includes 1cm (3/8") seam allowance', 10.0),
    ("No seam allowance (add 1 cm)", 0.0),
    ("SA: 3/8 in", 9.525),
    ("Add 1 cm seam allowance", 0.0),
    ("Seam allowances must be added", 0.0),
    ("Seam allowance: none", 0.0),
    ("Seam allowance 1 cm is added to all edges", 10.0),
    ("Seam allowances are included", None),
    ("Hem 4 cm", None),
])
def test_allowances(text, mm):
    assert allowance([line(text)]) == (mm if mm is None else pytest.approx(mm))


@pytest.mark.parametrize(("text", "size"), [
    ("2Y", "2Y"), ("6 months", "6 months"), ("T38", "38"), ("size10", "10"), ("Medium", "Medium"), ("3-4Y", "3-4Y"),
    ("36-38", "36-38"), ("8-16", None), ("Sizes 8 - 16", None), ("front", None), ("page 2", None),
])
def test_sizes(text, size):
    assert size_name(text) == size


def test_sizes_beside_other_words():
    assert said_size("Skirt Front - Size 36") == "36"
    assert list(layer_sizes(["Size 10 (red)", "Size 12 (blue)", "Marks"]).values()) == ["10", "12"]
    assert list(layer_sizes(["EU 38 / UK 10", "EU 40 / UK 12"]).values()) == ["38", "40"]


def test_a_legend_is_known_by_two_pens_with_two_sizes():
    plain, dashed = Look(), Look(dash=(6.0, 2.0))
    words = [Word("Size 8", 45 + 10j, 4.0), Word("Size 10", 45 + 0j, 4.0)]
    legend = (Stroke(Path.line(10 + 11j, 40 + 11j), plain), Stroke(Path.line(10 + 1j, 40 + 1j), dashed))
    other = Stroke(Path.line(10 + 100j, 40 + 100j), plain)
    assert legend_strokes((*legend, other), words) == legend
    assert legend_strokes((legend[0], other), words) == ()
