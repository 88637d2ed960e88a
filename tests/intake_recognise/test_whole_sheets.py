"""Whole sheets: files of general-purpose programs, and the whole dress in ten sizes."""

import json
import random
from dataclasses import replace
from pathlib import Path as File

import pytest
from nest_builders import Pen, arrow, bracket, sheet

from toilewright.blocks.concert import concert_dress
from toilewright.cutting.allowances import cutting_line
from toilewright.geometry import Path
from toilewright.intake.drawing import Look
from toilewright.intake.dxf import read_dxf
from toilewright.intake.pdf import read_pdf
from toilewright.intake.recognise import recognise
from toilewright.intake.report import read_report
from toilewright.intake.svg import read_svg
from toilewright.intake.tiles import join_pages
from toilewright.output.marks import outline
from toilewright.output.printed_pattern import print_pattern

FOREIGN = File(__file__).parent.parent / "data" / "foreign"
MASTER = json.loads((FOREIGN / "master.json").read_text())


def true_path(curves, place=(0, 0)):
    """A path of master.json, where it lies on the sheet."""
    points = [[complex(c[i], c[i + 1]) + complex(*place) for i in range(0, len(c), 2)] for c in curves]
    nodes = tuple(p[-1] for p in points)
    return Path(nodes, tuple(tuple(p[:2]) if len(p) == 3 else None for p in points[1:]))


def check_foreign(raw, system, sizes, named=True):
    assert raw.sizes == sizes
    assert len(raw.pieces) == 3
    for truth in MASTER["pieces"]:
        areas = [true_path(truth[system][s]["cut"]).area() for s in MASTER["sizes"]]
        row = min(raw.pieces, key=lambda r: abs(r[0].outline.area() - areas[0]))
        if named:
            assert row[0].name == truth["name"].lower()
            assert row[0].cut_count == (1 if "fold" in truth["note"] else 2)
        for piece, size, area in zip(row, MASTER["sizes"], areas, strict=True):
            shape = truth[system][size]
            assert piece.outline.area() == pytest.approx(area, rel=1e-3)
            assert piece.outline.length == pytest.approx(true_path(shape["cut"]).length, rel=1e-3)
            assert len(piece.darts) == len(shape["darts"])
            assert sum(n.count for n in piece.notches) == len(shape["notches"])
            assert piece.grain and bool(piece.fold) == bool(shape["fold"]) and not piece.lines


@pytest.mark.parametrize("name", ["inkscape-layers.svg", "inkscape-plain.svg", "libreoffice-sheet.svg", "plain.dxf"])
def test_files_of_general_purpose_programs(name):
    raw = recognise((read_dxf if name.endswith("dxf") else read_svg)(FOREIGN / name))
    system = "inch" if name == "inkscape-layers.svg" else "metric"
    check_foreign(raw, system, ("8", "10", "12", "14"))
    assert raw.allowance == MASTER["allowances"][system] and raw.line == "cutting"


@pytest.mark.parametrize("name", ["cairo-a4", "cairo-letter", "cairo-sheet", "inkscape-sheet", "libreoffice-sheet"])
def test_pdf_files_of_general_purpose_programs(name):
    raw = recognise(join_pages(read_pdf(FOREIGN / f"{name}.pdf")))
    system = "inch" if name == "cairo-letter" else "metric"
    check_foreign(raw, system, ("8", "10", "12", "14"))
    assert raw.allowance == MASTER["allowances"][system] and raw.line == "cutting"
    assert all(bool(p.seam_drawn) == (name == "cairo-sheet") for row in raw.pieces for p in row)


def test_a_file_whose_letters_are_shapes():
    raw = recognise(read_svg(FOREIGN / "cairo-sheet.svg"))
    check_foreign(raw, "inch", ("1", "2", "3", "4"), named=False)
    assert {"sizes-unnamed", "allowance-unknown"} <= {f.code for f in raw.findings}


@pytest.mark.parametrize("name", ["blocks-metric.dxf", "blocks-english.dxf"])
def test_interchange_blocks(name):
    raw = recognise(read_dxf(FOREIGN / name))
    assert raw.sizes == ("8", "10", "12", "14")
    assert [row[0].name for row in raw.pieces] == ["bodice front", "bodice back", "sleeve"]
    assert all(p.seam_drawn for row in raw.pieces for p in row)


# -- the whole dress ------------------------------------------------------------------------------------------

@pytest.fixture(scope="module")
def dress():
    return concert_dress()


def drawn(dress):
    """All pieces beside one another, a layer for each size; and (cutting line, piece) by name and size."""
    pens, truth, places, x = [], {}, {}, 0.0
    largest = dress.garments[-1]
    for piece in largest.pieces:
        box = piece.outline.bounds
        places[piece.name] = complex(x - box[0] + 30, 30 - box[1])
        x += box[2] - box[0] + 80
    for size, garment in zip(dress.sizes, dress.garments, strict=True):
        pen = Pen(Look(f"Size {size}"))
        for piece in garment.pieces:
            truth[piece.name, size] = draw_piece(pen, piece, places[piece.name], size == dress.sizes[-1]), piece
        pens.append(pen)
    common = Pen(Look("All sizes"))
    for piece in largest.pieces:
        at, box = places[piece.name], piece.outline.bounds
        arrow(common, piece.grain.start + at, piece.grain.end + at)
        middle = complex((box[0] + box[2]) / 2 - 20, (box[1] + box[3]) / 2) + at
        common.write(piece.name.upper(), middle, min(8, (box[3] - box[1]) / 4))
        common.write("cut 1 on fold" if piece.on_fold else "cut 2", middle - 10j, 4)
    return sheet(*pens, common), truth


def draw_piece(pen, piece, at, with_fold):
    cut = cutting_line(piece)
    ring = Path.joined(cut).moved(at)
    pen.draw(*(c.moved(at) for c in cut), *(line.path.moved(at) for line in piece.lines))
    for dart in piece.darts:
        first, second = piece.feet(dart)
        pen.line(first + at, dart.apex + at, second + at)
    for notch in piece.notches:
        edge = piece.edge(notch.edge)
        out = -edge.path.normal_at(notch.at)
        for k in range(notch.count):
            shift = (k - (notch.count - 1) / 2) * 8 * edge.path.tangent_at(notch.at)
            spot = ring.point_at(ring.nearest(edge.path.point_at(notch.at) + at + shift + out * edge.allowance)[0])
            pen.line(spot, spot - 6 * out)
    for edge in piece.edges:
        if edge.kind == "fold" and with_fold:
            path = edge.path.moved(at)
            bracket(pen, path.point_at(0.2 * path.length), path.point_at(0.8 * path.length), -path.normal_at(1.0))
    return ring


def check_dress(raw, dress, truth, rel):
    assert raw.sizes == dress.sizes
    found = {(p.name, p.size): p for row in raw.pieces for p in row if p}
    assert set(found) == set(truth)
    for key, (ring, true) in truth.items():
        piece = found[key]
        assert piece.outline.area() == pytest.approx(ring.area(), rel=rel), key
        assert piece.outline.length == pytest.approx(ring.length, rel=rel), key
        assert (len(piece.darts), len(piece.lines)) == (len(true.darts), len(true.lines)), key
        assert sorted(n.count for n in piece.notches) == sorted(n.count for n in true.notches), key
        assert (bool(piece.grain), bool(piece.fold)) == (bool(true.grain), true.on_fold), key


def test_the_whole_dress_comes_back(dress):
    drawing, truth = drawn(dress)
    raw = recognise(drawing)
    check_dress(raw, dress, truth, 1e-6)
    assert {f.code for f in raw.findings} <= {"no-test-square", "allowance-unknown"}


def test_the_whole_dress_cut_up_and_shaken(dress):
    """Every line broken at page borders, its parts up to 0.1 mm off."""
    drawing, truth = drawn(dress)
    chance = random.Random(7)
    strokes = []
    for stroke in drawing.pages[0].strokes:
        if stroke.path.closed:
            strokes.append(stroke)
            continue
        for part in stroke.path.cut_at(borders(stroke.path)):
            shake = complex(chance.uniform(-0.05, 0.05), chance.uniform(-0.05, 0.05))
            strokes.append(replace(stroke, path=part.moved(shake)))
    page = replace(drawing.pages[0], strokes=tuple(strokes))
    check_dress(recognise(replace(drawing, pages=(page,))), dress, truth, 3e-3)  # the shaking itself moves small ones


def borders(path, width=190.0, height=277.0):
    """Arc lengths at which a path crosses from page to page (within a millimetre)."""
    count = int(path.length / 2) + 2
    at = [path.length * k / count for k in range(count + 1)]
    cells = [(p.real // width, p.imag // height) for p in (path.point_at(s) for s in at)]
    return [(s + t) / 2 for s, t, a, b in zip(at, at[1:], cells, cells[1:], strict=False) if a != b]


@pytest.mark.parametrize(("layers", "told_by", "borders"), [(True, "dash", "clip"), (False, "colour", "cut")])
def test_the_printed_dress_comes_back(dress, tmp_path, layers, told_by, borders):
    print_pattern(dress, tmp_path / "dress.pdf", "a4", layers=layers, told_by=told_by, borders=borders)
    raw = recognise(join_pages(read_pdf(tmp_path / "dress.pdf")))
    truth = {(p.name, size): (outline(p), p) for size, g in zip(dress.sizes, dress.garments, strict=True)
             for p in g.pieces}
    check_dress(raw, dress, truth, 1e-3)
    assert raw.allowance == 15.0 and raw.scale == 1.0
    assert raw.test_square.width == pytest.approx(100.0, abs=0.05)
    for row in raw.pieces:
        for piece in row:
            true = truth[piece.name, piece.size][1]
            assert {said for _, said in piece.lines} == {line.name for line in true.lines}
            assert piece.cut_count == true.cut.count


def test_the_report_names_every_measure(dress):
    drawing, truth = drawn(dress)
    report = json.loads(json.dumps(read_report(recognise(drawing))))
    assert report["sizes"] == list(dress.sizes)
    assert {"pieces", "allowance_mm", "test_square_mm", "findings", "scale"} <= set(report)
    front = next(p for p in report["pieces"] if p["name"] == "bodice front")
    ring, piece = truth["bodice front", "4"]
    box = ring.bounds
    measures = front["sizes"]["4"]
    assert measures["width_mm"] == pytest.approx(box[2] - box[0], abs=0.01)
    assert measures["height_mm"] == pytest.approx(box[3] - box[1], abs=0.01)
    assert measures["area_mm2"] == pytest.approx(ring.area(), rel=1e-6)
    assert measures["perimeter_mm"] == pytest.approx(ring.length, rel=1e-6)
    assert (measures["darts"], measures["notches"]) == (len(piece.darts), len(piece.notches))
    assert front["on_fold"] is True and front["cut_count"] == 1
