"""lay.svg, lay.pdf and cloth.pdf, read back with other libraries than wrote them, against the lays they show."""

import os
from dataclasses import replace
from pathlib import Path as FilePath

import pytest
from hypothesis import given
from hypothesis import strategies as st
from lxml import etree
from pdf_reading import drawn, page_sizes, words
from shapely.geometry import Point as Spot
from shapely.geometry import Polygon
from svgelements import Path as ReadPath

from toilewright.blocks.chart import body_of
from toilewright.blocks.concert import dress_for
from toilewright.cutting.cloth import Cloth, Fold, Repeat
from toilewright.cutting.lay.certificate import certify
from toilewright.cutting.lay.pieces import cut_pieces, opened
from toilewright.cutting.lay.placing import drawn_hand, hand_of, places_of
from toilewright.cutting.lay.plan import Certificate, Check, Laid, Lay, Layer, Section
from toilewright.cutting.offers import Buying, ClothOffers, Envelope, Notion, Offer
from toilewright.cutting.requirement import requirement
from toilewright.geometry import Path
from toilewright.output.cut_list import cut_list
from toilewright.output.lay_pdf import scale_for, write_lay_pdf
from toilewright.output.lay_sheet import LaySheet, pieces_by_key
from toilewright.output.lay_svg import write_lay_svg
from toilewright.output.shopping import write_shopping
from toilewright.packing.problem import Pose
from toilewright.pattern import Cut, Dart, Edge, EdgeKind, Garment, Grain, Notch, Piece

DRESS = dress_for(body_of("4"))
GOLDEN = FilePath(__file__).parent / "golden"
SVG = "{http://www.w3.org/2000/svg}"


def square(name, width, tall, kinds=("seam",) * 4, allowance=10.0, lean=0.0, **more):
    """A rectangle with its grain upwards: lower, right (which may lean inwards), upper, left edge."""
    a, b, c, d = 0j, complex(width, 0), complex(width - lean, tall), complex(0, tall)
    allow = {EdgeKind.FOLD: 0.0}
    edges = tuple(Edge(n, Path.line(p, q), EdgeKind(k), allow.get(EdgeKind(k), allowance)) for n, p, q, k in
                  zip(("hem", "side seam", "top", "left side"), (a, b, c, d), (b, c, d, a), kinds, strict=True))
    return Piece(name, edges, grain=Grain(complex(width / 2, tall * 0.3), complex(width / 2, tall * 0.7)), **more)


def small_garment():
    """A yoke on the fold, a pair of fronts with everything that is marked, a strip too small for its name."""
    yoke = square("yoke", 150, 120, ("seam", "seam", "seam", "fold"), cut=Cut(1))
    dart = Dart("waist dart", "hem", 60.0, 84.0, 72 + 90j)
    front = square("front", 180, 260, lean=20.0, cut=Cut(2, True), darts=(dart,),
                   notches=(Notch("side notch", "side seam", 90.0, 1), Notch("top notch", "top", 60.0, 2)))
    return Garment((yoke, front, square("loop", 4, 10, allowance=1.0, cut=Cut(1))))


def small_lay(fold=True, **cloth):
    """Laid by hand on cloth 60 cm wide: folded for the pair and the yoke, open for the loop."""
    garment = small_garment()
    yoke, front, loop = cut_pieces(garment)
    depth = 300.0
    laid = (Laid(yoke, 1, Layer.BOTH, Pose(), 0j), Laid(front, 1, Layer.UPPER, Pose(180.0), 430 + 300j),
            Laid(front, 2, Layer.LOWER, Pose(180.0), 430 + 300j), Laid(loop, 1, Layer.SINGLE, Pose(), 538 + 20j, 1))
    lay = Lay(Cloth(width=600.0, fold=Fold.PART, **cloth), (Section(0.0, 440.0, depth), Section(440.0, 110.0)), laid,
              550.0, Certificate(()), "hand")
    lay = replace(lay, certificate=certify(lay, (yoke, front, loop)))
    return LaySheet(lay, "Choir blouse", "cm", pieces_by_key([("", garment)]), {"": "size 4"})


@pytest.fixture(scope="module")
def sheet():
    return small_lay(flaws=((60 + 20j, 90 + 20j, 90 + 60j, 60 + 60j),), repeat=Repeat(160.0, 100.0, 20.0))


def paths(root, kind):
    return [p for p in root.iter(f"{SVG}path") if p.get("class") == kind]


def points(path):
    """Corners of a drawn line as complex numbers, y up again."""
    ring = [complex(p.end.x, -p.end.y) for p in ReadPath(path.get("d")) if p.end is not None]
    return ring


@pytest.fixture(scope="module")
def root(sheet, tmp_path_factory):
    file = tmp_path_factory.mktemp("svg") / "lay.svg"
    write_lay_svg([sheet], file)
    return etree.fromstring(file.read_bytes())


def test_the_drawing_is_as_it_was(sheet, tmp_path):
    write_lay_svg([sheet], tmp_path / "lay.svg")
    found, path = (tmp_path / "lay.svg").read_bytes(), GOLDEN / "lay.svg"
    if os.environ.get("TOILEWRIGHT_NEW_GOLDEN"):
        path.write_bytes(found)
    assert found.decode() == path.read_text(encoding="utf-8")


def test_every_outline_in_the_svg_is_the_lays(sheet, root):
    assert sheet.lay.certificate.passed, sheet.lay.certificate
    cuts = {f"{c.turn} {c.full_name} {c.one.copy}": c.one.outline for c in sheet.cuts}
    found = {p.getparent().find(f"{SVG}title").text: points(p) for p in paths(root, "cutting-line")}
    assert found.keys() == cuts.keys() and len(cuts) == 3
    for name, outline in cuts.items():
        ring = found[name][:len(outline)]
        assert max(abs(p - q) for p, q in zip(ring, outline, strict=True)) < 1e-3, name


def test_the_svg_is_in_true_millimetres(root):
    x, y, wide, tall = map(float, root.get("viewBox").split())
    assert (root.get("width"), root.get("height")) == tuple(f"{v}mm" for v in root.get("viewBox").split()[2:])
    for p in root.iter(f"{SVG}path"):
        for at in points(p):
            assert x - 1 <= at.real <= x + wide + 1 and y - 1 <= -at.imag <= y + tall + 1


def test_marks_lie_on_their_piece(sheet, root):
    """One notch and a double one, a dart of two legs and a drill mark, inside the front as it is laid."""
    group = next(g for g in root.iter(f"{SVG}g") if (g.find(f"{SVG}title").text or "").startswith("2 front"))
    shape = Polygon([(p.real, p.imag) for p in sheet.cuts[1].one.outline])
    inside = {kind: [p for p in group.iter(f"{SVG}path") if p.get("class") == kind]
              for kind in ("notch", "dart", "drill-mark", "grain")}
    assert {k: len(v) for k, v in inside.items()} == {"notch": 3, "dart": 2, "drill-mark": 1, "grain": 3}
    for kind, found in inside.items():
        for path in found:
            assert all(shape.buffer(0.1).contains(Spot(p.real, p.imag)) for p in points(path)), kind
    grain = points(inside["grain"][0])
    assert abs(grain[1].imag - grain[0].imag) < 1e-3 and abs(grain[1] - grain[0]) == pytest.approx(0.4 * 260, abs=1e-3)


def test_flaws_and_repeat_lie_where_the_folded_cloth_brings_them(root):
    """A flaw 2 to 6 cm from the near selvedge lies 24 to 28 cm from a fold that is 30 cm deep."""
    flaw, = paths(root, "flaw")
    ys = [p.imag for p in points(flaw)]
    assert (min(ys), max(ys)) == pytest.approx((240.0, 280.0))
    lines = [points(p) for p in paths(root, "repeat")]
    across = {round(a.real) for a, b in lines if a.real == b.real}
    assert across == {20, 180, 340, 500}
    folded = {round(a.imag) for a, b in lines if a.imag == b.imag and a.real == 0.0}
    assert folded == {0, 100, 200, 300}


def test_a_name_that_has_no_room_is_a_number_with_a_key(root):
    said = [t.text for t in root.iter(f"{SVG}text")]
    assert "3" in said and "3  loop" not in said
    assert any("3 loop (1 layer)" in text for text in said)
    assert "left and right, 2 layers" in said and "on the fold" in said


# -- hands ------------------------------------------------------------------------------------------


def test_hands_are_told_by_seams_and_sleeves():
    """Her left front has its side seam on the right as she is looked at; her left back has it on the left."""
    for name in ("bodice back", "skirt back", "sleeve", "wrap skirt front"):
        piece = DRESS.piece(name)
        assert drawn_hand(piece) in ("left", "right"), name
        swapped = piece.mapped(lambda p: p * 1j)
        assert drawn_hand(swapped) == drawn_hand(piece), name
    plain = square("front", 100, 200, cut=Cut(2, True))
    assert drawn_hand(plain) == "left"
    assert drawn_hand(replace(plain, name="back")) == "right"
    assert drawn_hand(replace(plain, name="front facing")) == "right"
    assert drawn_hand(replace(plain, name="pocket")) is None
    assert drawn_hand(replace(plain, cut=Cut(2))) is None


def test_the_two_copies_of_a_pair_are_two_hands():
    piece = replace(small_garment().piece("front"), cut=Cut(2, True))
    cut = replace(cut_pieces(Garment((piece,)))[0], even=False)
    hands = [hand_of(Laid(cut, k, layer, Pose(0.0, mirrored), 0j), piece)
             for k, (layer, mirrored) in enumerate([(Layer.SINGLE, False), (Layer.SINGLE, True), (Layer.LOWER, False)])]
    assert hands == ["left", "right", "right"]


@given(st.sampled_from([p.name for p in DRESS.pieces]), st.sampled_from([0.0, 180.0, 1.5]), st.booleans(),
       st.booleans(), st.complex_numbers(max_magnitude=5000, allow_nan=False))
def test_seam_lines_come_to_lie_inside_the_cut_piece(name, turn, mirrored, open_out, at):
    piece = DRESS.piece(name)
    cut = cut_pieces(Garment((piece,)))[0]
    one = Laid(opened(cut) if open_out else cut, 1, Layer.SINGLE, Pose(turn, mirrored), at)
    places = places_of(one, piece)
    assert len(places) == (2 if piece.on_fold and not one.piece.on_fold else 1)
    shape = Polygon([(p.real, p.imag) for p in one.outline]).buffer(0.3)
    for place in places:
        assert all(shape.contains(Spot(p.real, p.imag)) for p in (place(e.path.start) for e in piece.edges))


def test_another_piece_of_the_same_name_is_not_drawn_into_it():
    cut = cut_pieces(Garment((DRESS.piece("sleeve"),)))[0]
    assert places_of(Laid(cut, 1, Layer.SINGLE, Pose(), 0j), square("sleeve", 100, 200)) == ()


# -- paper ------------------------------------------------------------------------------------------


def test_the_lay_on_paper(sheet, tmp_path):
    write_lay_pdf([sheet], tmp_path / "lay.pdf")
    pages = words(tmp_path / "lay.pdf")
    assert page_sizes(tmp_path / "lay.pdf") == [pytest.approx((297.0, 210.0), abs=0.1)] * 3
    scale, count = scale_for(sheet)
    assert count == 1 and f"scale 1:{scale}" in pages[0] and "10 cm on the paper must measure 10 cm" in pages[0]
    assert "all 8 hold" in pages[0] and "hand" in pages[0] and "yoke" in pages[0]
    assert "folded 30.0 cm deep" in pages[0].replace("\n", " ") and "FOLD" in pages[0]
    assert "fold the cloth along the grain 30.0 cm deep" in pages[1].replace("\r\n", " ")
    assert "cut away from the hand" in pages[1] and "3" in pages[1]
    assert "1 notch, 1 double notch, 1 drill mark, 1 dart" in pages[2] and "a pair, left and right" in pages[2]
    for cut in sheet.cuts:
        outline = cut.one.outline
        size = [max(v) - min(v) for v in ([p.real for p in outline], [p.imag for p in outline])]
        boxes = [d.path.bounds for d in drawn(tmp_path / "lay.pdf")[0] if d.path.closed]
        assert any(b[2] - b[0] == pytest.approx(size[0] / scale, abs=0.02)
                   and b[3] - b[1] == pytest.approx(size[1] / scale, abs=0.02) for b in boxes), cut.name
    assert any(d.path.length == pytest.approx(100.0, abs=0.01) for d in drawn(tmp_path / "lay.pdf")[0])


def test_the_same_lay_gives_the_same_files(sheet, tmp_path):
    for name in ("one", "two"):
        write_lay_pdf([sheet], tmp_path / f"{name}.pdf")
    assert (tmp_path / "one.pdf").read_bytes() == (tmp_path / "two.pdf").read_bytes()


def test_a_long_lay_runs_over_sheets_that_overlap(sheet, tmp_path):
    section = Section(0.0, 9000.0)
    ties = tuple(replace(sheet.lay.laid[3], copy=k + 1, at=complex(k * 900, 20), section=0) for k in range(10))
    loop = replace(ties[0].piece, count=10)
    lay = replace(sheet.lay, cloth=Cloth(width=1400.0), sections=(section,), length=9000.0,
                  laid=tuple(replace(one, piece=loop) for one in ties))
    long = replace(sheet, lay=lay)
    count = scale_for(long)[1]
    assert count > 1
    write_lay_pdf([long], tmp_path / "long.pdf")
    pages = words(tmp_path / "long.pdf")
    assert all(f"sheet {k + 1} of {count}" in pages[k] for k in range(count))
    assert all(f"edge of sheet {k + 2}" in pages[k] for k in range(count - 1))
    shown = {word for page in pages[:count] for word in page.split()}
    assert {str(n) for n in range(1, 11)} <= shown


def test_a_lay_that_did_not_pass_says_so_before_anything_else(sheet, tmp_path):
    failed = Certificate((Check("nothing overlaps", False, "Two do."),))
    bad = replace(sheet, lay=replace(sheet.lay, certificate=failed))
    write_lay_pdf([bad], tmp_path / "bad.pdf")
    assert "DO NOT CUT BY THIS LAY: Two do." in words(tmp_path / "bad.pdf")[0].replace("\r\n", " ")


def test_inches(sheet, tmp_path):
    write_lay_pdf([replace(sheet, unit="in")], tmp_path / "in.pdf")
    pages = words(tmp_path / "in.pdf")
    assert "0 in" in pages[0] and "4 in on the paper must measure 4 in" in pages[0] and " cm" not in pages[0]


def test_the_cut_list_counts_what_is_cut(sheet):
    table = cut_list(sheet)
    rows = [(row[0], row[1], row[4]) for row in table.rows]
    assert rows == [("yoke", "1", "1"), ("front", "2", "2"), ("loop", "1", "3")]
    assert "3 pattern pieces, 4 cut" in table.heading


# -- shopping list ----------------------------------------------------------------------------------


def test_the_shopping_list(sheet, tmp_path):
    narrow = Offer(500.0, Cloth(width=480.0), refused='"yoke" is too wide.')
    laid = [Offer(width, replace(sheet.lay.cloth, width=600.0), sheet.lay, requirement(550.0, 0.03), "", price=price,
                  envelope=Envelope(900.0)) for width, price in ((620.0, 10.0), (700.0, 20.0))]
    buying = Buying("Choir blouse", "cm", (ClothOffers("self", (narrow, *laid), (("yoke", 1), ("front", 2))),),
                    (Notion("thread", "about 20 m", "Seams."),), ("Wash it.",), ("A search finds short lays.",))
    write_shopping(buying, tmp_path / "cloth.pdf", "cm")
    text = " ".join(words(tmp_path / "cloth.pdf")).replace("\r\n", " ")
    # (550 + 50) / 0.97 = 618.6 mm, so 0.7 m: 7.00 of money; the envelope's 0.9 m leaves 0.2 m, worth 2.00.
    assert "0.7 m of cloth 62.0 cm wide costs least: 7.00." in text
    assert "asks for 0.2 m more, which is 2.00 saved" in text
    assert "washing takes 1.9 cm; together 61.9 cm, rounded up to the next 10 cm" in text
    assert '50.0 cm is too narrow: "yoke" is too wide.' in text and "about 20 m" in text
    assert "2 x front" in text and "Wash it." in text and "62.0 cm wide: lay 55.0 cm, buy 0.7 m (best)" in text
    assert all(s == pytest.approx((210.0, 297.0), abs=0.1) for s in page_sizes(tmp_path / "cloth.pdf"))


def test_a_fine_repeat_is_said_instead_of_drawn(sheet, tmp_path):
    cloth = replace(sheet.lay.cloth, repeat=Repeat(2.0, 2.0))
    fine = replace(sheet, lay=replace(sheet.lay, cloth=cloth))
    write_lay_svg([fine], tmp_path / "lay.svg")
    assert not paths(etree.fromstring((tmp_path / "lay.svg").read_bytes()), "repeat")
    write_lay_pdf([fine], tmp_path / "lay.pdf")
    assert "the repeat is too fine to be drawn" in words(tmp_path / "lay.pdf")[0]


def test_the_edge_of_a_remnant_is_drawn_where_it_lacks_cloth(sheet, tmp_path):
    cloth = replace(sheet.lay.cloth, outline=(0j, 550 + 0j, 550 + 400j, 450 + 600j, 0 + 600j), flaws=())
    write_lay_svg([replace(sheet, lay=replace(sheet.lay, cloth=cloth))], tmp_path / "lay.svg")
    lacking = paths(etree.fromstring((tmp_path / "lay.svg").read_bytes()), "no-cloth")
    area = sum(Polygon([(p.real, p.imag) for p in points(one)]).area for one in lacking)
    assert area == pytest.approx(100 * 200 / 2)
