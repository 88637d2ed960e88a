"""DXF files written with ezdxf against the coordinates they were drawn from; plain and hostile ones made here."""

import cmath
from itertools import pairwise
from math import radians

import pytest
from master import FOREIGN, SIZES, apart, farthest, path_of, sheet, true_lines

from toilewright.blocks.concert import concert_dress
from toilewright.cutting.allowances import cutting_line
from toilewright.errors import FileError
from toilewright.geometry import Affine, Path
from toilewright.intake.blocks_dxf import recognise_blocks
from toilewright.intake.dxf import read_dxf
from toilewright.output.dxf import write_dxf

NEAR = 0.05
PIECES = {p["name"].lower(): p for p in sheet.MASTER["pieces"]}


@pytest.fixture(scope="module")
def metric():
    return read_dxf(FOREIGN / "blocks-metric.dxf")


@pytest.fixture(scope="module")
def english():
    return read_dxf(FOREIGN / "blocks-english.dxf")


def origin(drawing):
    """Where the page put the file's own origin: by the start of the first grain line, which no rounding touches."""
    grain = next(s for s in drawing.pages[0].strokes if s.tag == "7")
    return grain.path.start - complex(*PIECES["bodice front"]["metric"]["8"]["grain"][0])


@pytest.mark.parametrize("name", PIECES)
@pytest.mark.parametrize("size", SIZES)
def test_boundaries_and_seams_are_curves_again(metric, name, size):
    """The file holds points 6 mm apart; what is compared is the true curve, not those points."""
    zero = origin(metric)
    block = f"{name.upper().replace(' ', '_')}-{size}"
    for tag, kind in (("1", "cut"), ("14", "seam")):
        strokes = [s for s in metric.pages[0].strokes if s.block == block and s.tag == tag]
        assert len(strokes) == 1
        assert any(strokes[0].path.handles)
        assert len(strokes[0].path.handles) < 45
        assert apart(strokes, [path_of(PIECES[name]["metric"][size][kind], lambda z: z + zero)]) < NEAR


def test_inches_turned_and_mirrored_blocks(english):
    """Inches to 0.001 are 0.0127 mm off by themselves. Size stands 25 in above size, piece 40 in beside piece; the back
    is mirrored and the sleeve turned by 30 degrees.
    """
    strokes = english.pages[0].strokes
    grain = next(s for s in strokes if s.block == "BODICE_FRONT-8" and s.tag == "7")
    zero = grain.path.start - complex(*PIECES["bodice front"]["inch"]["8"]["grain"][0])
    ways = {"bodice front": Affine(), "bodice back": Affine.mirror(0j, 1j), "sleeve": Affine.turn(radians(30))}
    for column, (name, piece) in enumerate(PIECES.items()):
        for row, size in enumerate(SIZES):
            place = ways[name].then(Affine.shift(zero + complex(40 * column, 25 * row) * 25.4))
            block = f"{name.upper().replace(' ', '_')}-{size}"
            found = [s for s in strokes if s.block == block and s.tag == "1"]
            assert apart(found, [path_of(piece["inch"][size]["cut"], place)]) < NEAR


@pytest.mark.parametrize("which", ["metric", "english"])
def test_pieces_of_blocks(which, request):
    drawing = request.getfixturevalue(which)
    raw = recognise_blocks(drawing)
    assert raw.sizes == SIZES
    assert [of[0].name for of in raw.pieces] == list(PIECES)
    assert raw.findings == ()
    assert raw.line == "cutting"
    for of in raw.pieces:
        assert [p.size for p in of] == list(SIZES)
        areas = [p.outline.area() for p in of]
        assert areas == sorted(areas)
        assert areas[0] > 0
        assert all(p.seam_drawn.area() < p.outline.area() for p in of)
    front, back, sleeve = (of[1] for of in raw.pieces)
    assert (front.cut_count, front.mirrored) == (1, False)
    assert (back.cut_count, back.mirrored) == (2, True)
    assert [n.count for n in front.notches] == [1]
    assert sorted(n.count for n in sleeve.notches) == [1, 1, 2]
    assert [len(p.darts) for p in (front, back, sleeve)] == [1, 1, 0]
    assert (front.fold is not None, back.fold, sleeve.fold) == (True, None, None)
    assert abs(abs(front.fold[1] - front.fold[0]) - abs(complex(0, 347))) < 20
    assert abs(front.grain[1] - front.grain[0]) == pytest.approx(200.0, abs=0.01)
    assert abs(front.darts[0].first - front.darts[0].apex) == pytest.approx(
        abs(front.darts[0].second - front.darts[0].apex), rel=0.2)


def said(*texts):
    return "".join(f"  0\nTEXT\n  8\n1\n 10\n9.0\n 20\n{k}.0\n 40\n5.0\n  1\n{text}\n" for k, text in enumerate(texts))


def outline(*points):
    ring = [*points, points[0]]
    return "".join(f"  0\nLINE\n  8\n1\n 10\n{a.real}\n 20\n{a.imag}\n 11\n{b.real}\n 21\n{b.imag}\n"
                   for a, b in pairwise(ring))


def mark(layer, p):
    return f"  0\nPOINT\n  8\n{layer}\n 10\n{p.real}\n 20\n{p.imag}\n"


@pytest.mark.parametrize(("quantity", "found"), [
    ("Quantity: 1", (1, False)), ("Quantity: 2", (2, None)), ("Quantity: 1,1", (2, True)),
    ("QUANTITY: 2,0", (2, False)), ("Quantity: 1 pair", (2, True)),
    ("Annotation: cut a pair", (2, True)), ("Category: lining", (None, None))])
def test_quantities(tmp_path, quantity, found):
    square = block("CUFF-38", outline(0j, 90 + 0j, 90 + 60j, 60j) + said("Piece Name: Cuff 38", "Size: 38", quantity))
    ((cuff,),) = recognise_blocks(read(tmp_path, r12(insert("CUFF-38"), square))).pieces
    assert (cuff.name, cuff.size) == ("cuff", "38")
    assert (cuff.cut_count, cuff.mirrored) == found
    assert cuff.outline.area() == pytest.approx(5400)


def test_a_dart_of_two_notches_and_a_drill_hole(tmp_path):
    inside = outline(0j, 300 + 0j, 300 + 200j, 200j) + mark(4, 90 + 0j) + mark(4, 110 + 0j) + mark(13, 100 + 80j)
    ((front,),) = recognise_blocks(read(tmp_path, r12(insert("F-1"), block("F-1", inside)))).pieces
    (dart,) = front.darts
    zero = dart.apex - (100 + 80j)
    assert sorted((dart.first.real, dart.second.real)) == pytest.approx([90 + zero.real, 110 + zero.real])


def test_blocks_that_are_open_missing_or_doubled_are_told(tmp_path):
    square, gap = outline(0j, 90 + 0j, 90 + 60j, 60j), LINE.format(90.0)
    names = ("CUFF-1", "CUFF-2", "BELT-1", "POCKET-1", "COPY")
    inside = (square, square, square, gap, square + said("Piece Name: Cuff", "Size: 1"))
    raw = recognise_blocks(read(tmp_path, r12("".join(map(insert, names)), "".join(map(block, names, inside)))))
    assert [(of[0].name, [p and p.size for p in of]) for of in raw.pieces] == [
        ("cuff", ["1", "2"]), ("belt", ["1", None])]
    codes = sorted(f.code for f in raw.findings)
    assert codes == ["block-open", "block-twice", "dxf-units", "size-missing"]


def test_our_own_file_comes_back(tmp_path):
    garment = concert_dress().at("5")
    write_dxf(garment, tmp_path / "own.dxf", "5")
    raw = recognise_blocks(read_dxf(tmp_path / "own.dxf"))
    assert raw.sizes == ("5",)
    assert [of[0].name for of in raw.pieces] == [p.name for p in garment.pieces]
    for (found,), piece in zip(raw.pieces, garment.pieces, strict=True):
        assert found.outline.length == pytest.approx(Path.joined(cutting_line(piece)).length, abs=0.1)
        assert found.seam_drawn.length == pytest.approx(piece.outline.length, abs=0.1)
        assert len(found.darts) == len(piece.darts)


def test_plain_drawing_without_blocks():
    drawing = read_dxf(FOREIGN / "plain.dxf")
    assert recognise_blocks(drawing) is None
    page = drawing.pages[0]
    assert set(drawing.layers) == {"All sizes", *(f"Size {s}" for s in SIZES)}
    title = next(w for w in page.words if w.text == "Choir blouse")
    true = next(c for c in sheet.captions("metric") if c.text == "Choir blouse")
    zero = title.at - complex(true.x, true.y)
    for size in SIZES:
        strokes = [s for s in page.strokes if s.look.layer == f"Size {size}"]
        lines = [p.moved(zero) for p in true_lines("metric", size)]
        assert apart(strokes, lines) < 0.001
        assert all(max(abs(a - b) for a, b in zip(s.look.colour, sheet.COLOURS[size], strict=True)) < 0.01
                   for s in strokes)
    ring = next(s.path for s in page.strokes if s.path.closed and len(s.path.handles) == 8)
    assert abs(ring.area()) == pytest.approx(cmath.pi * 15**2, rel=1e-4)
    assert all(abs(abs(p - (30 + 600j + zero)) - 15) < 0.001 for p in ring.flatten(0.001))
    corner = next(s.path for s in page.strokes if len(s.path.handles) > 2 and not s.path.closed
                  and s.path.start == pytest.approx(50 + 590j + zero))
    assert corner.length == pytest.approx(30 + 20 + cmath.pi / 2 * 10, abs=0.001)


def test_a_millimetre_would_be_noticed(metric):
    zero = origin(metric)
    strokes = [s.path for s in metric.pages[0].strokes if s.block == "SLEEVE-10" and s.tag == "1"]
    off = path_of(PIECES["sleeve"]["metric"]["10"]["cut"], lambda z: z + zero + 1)
    assert farthest(strokes, [off]) > 0.4


LINE = "  0\nLINE\n  8\n1\n 10\n0.0\n 20\n0.0\n 11\n{}\n 21\n50.0\n"


def r12(entities, blocks=""):
    return ("  0\nSECTION\n  2\nHEADER\n  9\n$ACADVER\n  1\nAC1009\n  0\nENDSEC\n"
            f"  0\nSECTION\n  2\nBLOCKS\n{blocks}  0\nENDSEC\n"
            f"  0\nSECTION\n  2\nENTITIES\n{entities}  0\nENDSEC\n  0\nEOF\n")


def block(name, inside):
    return f"  0\nBLOCK\n  8\n0\n  2\n{name}\n 70\n0\n 10\n0.0\n 20\n0.0\n{inside}  0\nENDBLK\n"


def insert(name, extra=""):
    return f"  0\nINSERT\n  8\n0\n  2\n{name}\n 10\n0.0\n 20\n0.0\n{extra}"


def read(tmp_path, text):
    file = tmp_path / "made.dxf"
    file.write_text(text)
    return read_dxf(file)


ONE = block("A", LINE.format(9.0))
MANY = insert("A", " 70\n30000\n 71\n30000\n 44\n1.0\n 45\n1.0\n")


@pytest.mark.parametrize(("entities", "blocks", "sentence"), [
    (insert("A"), block("A", LINE.format(9.0) + insert("A")), "inside each other without end"),
    (insert("A"), block("A", insert("B")) + block("B", insert("A")), "inside each other without end"),
    (MANY, ONE, "more than 300000 objects"),
    ("", "", "draws no lines"),
    (LINE.format("nan"), "", "draws no lines"),
    (LINE.format("1e999"), "", "draws no lines"),
])
def test_hostile_and_hollow_files_end_in_one_sentence(tmp_path, entities, blocks, sentence):
    with pytest.raises(FileError, match=sentence) as caught:
        read(tmp_path, r12(entities, blocks))
    assert str(caught.value).count(". ") == 0


def test_blocks_that_multiply(tmp_path, monkeypatch):
    monkeypatch.setattr("toilewright.intake.dxf.MAX_OBJECTS", 2000)
    tree = block("B0", LINE.format(9.0)) + "".join(block(f"B{i}", insert(f"B{i - 1}") * 10) for i in range(1, 13))
    with pytest.raises(FileError, match="draws more than"):
        read(tmp_path, r12(insert("B12"), tree))


def test_a_million_lines_are_refused_before_they_are_loaded(tmp_path):
    with pytest.raises(FileError, match="more than 300000 objects"):
        read(tmp_path, r12(LINE.format(9.0) * 310_000))


def test_a_file_that_was_cut_off_gives_what_is_left(tmp_path):
    drawing = read(tmp_path, r12("".join(LINE.format(float(k)) for k in range(100)))[:3000])
    assert 30 < len(drawing.pages[0].strokes) < 100
    assert "dxf-repaired" in [f.code for f in drawing.findings]


def test_units(tmp_path):
    drawing = read(tmp_path, r12(LINE.format(100.0)))
    assert drawing.pages[0].width == pytest.approx(100.0)
    assert [f.code for f in drawing.findings] == ["dxf-units"]
    text = "  0\nTEXT\n  8\n1\n 10\n0.0\n 20\n0.0\n 40\n5.0\n  1\nUnits: ENGLISH\n"
    drawing = read(tmp_path, r12(LINE.format(10.0) + text))
    assert drawing.pages[0].width == pytest.approx(254.0)
    assert drawing.findings == ()


def test_arrays_mirrors_and_scales(tmp_path):
    placed = insert("A", " 41\n-2.0\n 42\n3.0\n") + insert("A", " 50\n90.0\n 70\n2\n 44\n10.0\n")
    page = read(tmp_path, r12(placed, block("A", LINE.format(100.0)))).pages[0]
    zero = page.strokes[0].path.start
    ends = [s.path.end - s.path.start for s in page.strokes]
    assert ends[0] == pytest.approx(-200 + 150j)
    assert ends[1:] == [pytest.approx(-50 + 100j)] * 2
    assert sorted(round(abs(s.path.start - zero), 6) for s in page.strokes) == [0, 0, 10]
    assert {s.block for s in page.strokes} == {"A"}
