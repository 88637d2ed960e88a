"""Pattern files that other programs drew from known numbers (tests/data/odd), read and made up."""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path

import pytest

import toilewright
from toilewright.intake.report import read_report

ODD = Path(__file__).parent.parent / "data" / "odd"
TRUTH = json.loads((ODD / "truth.json").read_text())

NEAR = 0.05
"""mm; or a thousandth, where that is more: a sixth of a pen line."""

ON_SHEET = {
    "skirt-turned.pdf": (15.0, "cutting", None),
    "skirt-mirrored.pdf": (15.875, "cutting", None),
    "pinafore-cut.pdf": (9.525, "cutting", None),
    "bodice-windows.pdf": (0.0, "seam", 101.6),
    "bodice-allowances.pdf": (15.0, "cutting", 50.0),
}
"""Allowance (mm), which line is printed, test square (mm)."""

MARKS = {
    "skirt-turned.pdf": {"skirt front": (0, 1), "skirt back": (1, 1), "waistband": (0, 0)},
    "skirt-mirrored.pdf": {"skirt front": (0, 1), "skirt back": (1, 1)},
    "pinafore-cut.pdf": {"pinafore front": (0, 1), "pinafore back": (0, 1), "pocket": (0, 0)},
    "bodice-windows.pdf": {"bodice front": (2, 1), "bodice back": (1, 1), "sleeve": (0, 3)},
    "bodice-allowances.pdf": {"bodice front": (2, 1), "bodice back": (1, 1), "sleeve": (0, 3)},
}
"""Darts and notches (a double one counts once) of every size."""

TAPE = """name = "the alto"
unit = "cm"
waist_place = "natural"
[measures]
bust = 96
high_bust = 90
waist = 78
hip = "40 1/4 in"
nape_to_waist = 42
neck_shoulder_point_to_bust_point = 28
"""


@cache
def reading(file):
    return toilewright.read_pattern(ODD / file)


@pytest.mark.parametrize("file", TRUTH)
def test_every_piece_measures_what_was_drawn(file):
    told = read_report(reading(file).raw)
    pieces = {p["name"]: p for p in told["pieces"]}
    assert told["sizes"] == list(next(iter(TRUTH[file].values())))
    assert set(pieces) == set(TRUTH[file])
    for name, sizes in TRUTH[file].items():
        for size, true in sizes.items():
            measured = pieces[name]["sizes"][size]
            for what, value in true.items():
                near = value / 1000 if what == "area_mm2" else max(NEAR, value / 1000)
                assert measured[what] == pytest.approx(value, abs=near), (name, size, what)
            assert (measured["darts"], measured["notches"]) == MARKS[file][name], (name, size)


@pytest.mark.parametrize("file", TRUTH)
def test_the_sheet_tells_its_allowance_and_square(file):
    told = read_report(reading(file).raw)
    allowance, line, square = ON_SHEET[file]
    assert (told["allowance_mm"], told["line"]) == (allowance, line)
    assert told["test_square_mm"] == (square and pytest.approx(square, abs=NEAR))


@pytest.mark.parametrize(("file", "seams"), [
    ("skirt-turned.pdf", {"skirt side seam", "waistband"}),
    ("skirt-mirrored.pdf", {"skirt side seam"}),
    ("bodice-windows.pdf", {"shoulder", "side seam", "armhole", "underarm"}),
    ("bodice-allowances.pdf", {"shoulder", "side seam", "armhole", "underarm"}),
])
def test_guessed_seams_sew_in_every_size(file, seams):
    pattern = reading(file).pattern
    for size in pattern.sizes:
        walked = toilewright.walk(pattern.at(size))
        assert {w.seam for w in walked} == seams
        assert [w.seam for w in walked if not w.sews] == [], size


def test_seam_lines_within_cutting_lines_are_those_that_were_drafted():
    """The same draft, once printed as seam lines, once with allowances: its edges come out alike."""
    seam, cut = (reading(f).pattern for f in ("bodice-windows.pdf", "bodice-allowances.pdf"))
    for one, other in zip(seam.sizes, cut.sizes, strict=False):
        for piece in seam.at(one).pieces:
            for edge in piece.edges:
                drawn = cut.at(other).piece(piece.name).edge(edge.name).path.length
                assert drawn == pytest.approx(edge.path.length, abs=0.3), (one, piece.name, edge.name)


@pytest.mark.parametrize(("file", "size"), [("bodice-windows.pdf", "6"), ("bodice-allowances.pdf", "40")])
def test_made_up_for_one_body_every_seam_sews(file, size, tmp_path):
    (tmp_path / "alto.toml").write_text(TAPE)
    (tmp_path / "make.toml").write_text(
        f'pattern = "{ODD / file}"\ntape = "alto.toml"\nsize = "{size}"\n'
        '[[alteration]]\nname = "high round back"\namount = "1 cm"\n'
        '[[alteration]]\nname = "full bust"\namount = "1,5 cm"\n')
    outcome = toilewright.run_make(tmp_path / "make.toml")
    told = toilewright.make_result(outcome)
    assert [(a["name"], a["amount_mm"]) for a in told["alterations"]] == [("high round back", 10), ("full bust", 15)]
    assert {s["verdict"] for s in told["seams"]} == {"sews"}
    assert len(told["seams"]) == 4
