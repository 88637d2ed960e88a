"""Balance marks, drill marks and her left and right: the same on paper, on screen and in the exchange file."""

from collections import Counter

import ezdxf
import pytest
from fit.alter_kit import altered
from lxml import etree
from pdf_reading import drawn, words

from toilewright.blocks.chart import body_of
from toilewright.blocks.concert import dress_for
from toilewright.blocks.princess_dress import princess_dress_for
from toilewright.cutting.allowances import cutting_line
from toilewright.cutting.allowing import with_allowances
from toilewright.cutting.marks import MarkKind, cut_marks, drill_point
from toilewright.geometry import Path
from toilewright.output.dxf import write_dxf
from toilewright.output.piece_figure import piece_figure
from toilewright.output.sheet import write_sheet
from toilewright.output.svg import write_svg
from toilewright.output.tiled import write_tiled
from toilewright.pattern import Garment
from toilewright.pattern.parts import NotchCut

DRESS = with_allowances(dress_for(body_of("4")))
PAIR = Garment(tuple(DRESS.piece(n) for n in ("bodice front", "bodice back", "sleeve")))
UNEVEN = with_allowances(altered(dress_for(body_of("5")), "bust dart height", 20.0, side="left").garment)


def names(piece) -> dict[str, int]:
    return {n.name: n.count for n in piece.notches}


def test_marks_are_single_at_the_front_and_double_at_the_back():
    assert names(DRESS.piece("sleeve"))["front notch"] == 1 and names(DRESS.piece("sleeve"))["back notch"] == 2
    assert names(DRESS.piece("bodice front"))["front notch"] == 1
    assert names(DRESS.piece("bodice back"))["back notch"] == 2


@pytest.mark.parametrize("make", [dress_for, princess_dress_for])
def test_marks_that_meet_have_the_same_count(make):
    garment = with_allowances(make(body_of("4")))
    met = 0
    for seam in garment.seams:
        sides = [{n.name: n.count for r in side for n in garment.piece(r.piece).notches if n.edge == r.edge}
                 for side in (seam.a, seam.b)]
        for name in sides[0].keys() & sides[1].keys():
            met += 1
            assert sides[0][name] == sides[1][name], (seam.name, name)
    assert met >= 3


@pytest.mark.parametrize("cut", list(NotchCut))
def test_every_output_has_one_tick_for_each_cut(tmp_path, cut):
    garment = with_allowances(PAIR, notches=cut)
    wanted = {p.name: sum(n.count for n in p.notches) for p in garment.pieces}
    assert wanted["bodice back"] >= 2

    write_svg(garment, tmp_path / "p.svg")
    root = etree.parse(str(tmp_path / "p.svg")).getroot()
    found = {e.get("id"): len([p for p in e.iter() if p.tag.endswith("}path")]) for e in root.iter() if e.get("id")}
    for piece in garment.pieces:
        ticks = found[f"{piece.name.replace(' ', '-')}-notch"]
        assert ticks == wanted[piece.name], piece.name

    write_dxf(garment, tmp_path / "p.dxf", "4")
    blocks = ezdxf.readfile(tmp_path / "p.dxf").blocks
    for piece in garment.pieces:
        block = blocks[f"{piece.name.replace(' ', '_').upper()}-4"]
        points = [complex(p.dxf.location.x, p.dxf.location.y) for p in block.query('POINT[layer=="4"]')]
        assert len(points) == wanted[piece.name]
        ring = Path.joined(cutting_line(piece))
        assert max(ring.nearest(p)[1] for p in points) < 0.02
        drilled = [complex(p.dxf.location.x, p.dxf.location.y) for p in block.query('POINT[layer=="13"]')]
        assert [abs(p - drill_point(piece, d)) < 0.001 for p, d in zip(drilled, piece.darts, strict=True)] == \
            [True] * len(piece.darts)


def test_the_ticks_of_one_piece_stand_on_paper_as_they_do_in_its_figure(tmp_path):
    """One sheet and its tiles, read back by another library: a short stroke for each cut."""
    back = Garment((DRESS.piece("bodice back"),))
    wanted = Counter(round(m.path.length, 2) for m in piece_figure(back.pieces[0]).marks if m.pen.name == "NOTCH")
    assert sum(wanted.values()) == sum(n.count for n in back.pieces[0].notches)
    write_sheet(back, tmp_path / "wide.pdf")
    lengths = Counter(round(d.path.length, 2) for page in drawn(tmp_path / "wide.pdf") for d in page)
    assert all(lengths[length] >= count for length, count in wanted.items())
    write_tiled(back, tmp_path / "tiles.pdf", "a4")
    tiles = Counter(round(d.path.length, 2) for page in drawn(tmp_path / "tiles.pdf") for d in page)
    # A tick on an overlap is printed on both sheets.
    assert all(tiles[length] >= count for length, count in wanted.items())


def test_her_left_and_right_are_told_in_every_output(tmp_path):
    front = Garment((UNEVEN.piece("bodice front"),))
    write_svg(front, tmp_path / "p.svg")
    write_dxf(front, tmp_path / "p.dxf", "5")
    write_sheet(front, tmp_path / "wide.pdf")
    write_tiled(front, tmp_path / "tiles.pdf", "a4")
    block = next(b for b in ezdxf.readfile(tmp_path / "p.dxf").blocks if not b.name.startswith("*"))
    told = {"svg": (tmp_path / "p.svg").read_text(encoding="utf-8"),
            "dxf": " ".join(t.dxf.text.lower() for t in block.query("TEXT"))}
    told |= {kind: " ".join(words(tmp_path / name)) for kind, name in (("sheet", "wide.pdf"), ("tiled", "tiles.pdf"))}
    for kind, text in told.items():
        assert "her left" in text and "her right" in text, kind


def test_a_dart_is_drilled_inside_it_short_of_its_point():
    piece = DRESS.piece("bodice front")
    marks = [m for m in cut_marks(piece) if m.kind is MarkKind.DRILL]
    assert [m.name for m in marks][:len(piece.darts)] == [d.name for d in piece.darts]
    for mark, dart in zip(marks, piece.darts, strict=False):
        first, second = piece.feet(dart)
        depth = abs((first + second) / 2 - dart.apex)
        assert abs(mark.at[0] - dart.apex) == pytest.approx(min(10.0, depth / 4))
        legs = [abs(((mark.at[0] - dart.apex) / (foot - dart.apex)).imag) for foot in (first, second)]
        assert legs[0] == pytest.approx(legs[1], abs=1e-3)  # half-way between the legs
