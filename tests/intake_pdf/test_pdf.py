"""Content streams read by us and by PDFium, an independent reader."""

import ctypes

import pypdfium2
import pypdfium2.raw as pdfium
import pytest
from intake_pdf.tiled_pages import POINT, pdf_bytes, write_tiled

from toilewright.geometry.affine import Affine
from toilewright.intake.pdf import read_pdf

CURVES = """
q 1 0 0 1 20 30 cm 2 w 1 0 0 RG
0 0 m 100 0 l 100 50 150 100 200 100 c 250 150 300 50 v 320 20 400 10 y h S
Q
q 0.8 0.3 -0.3 0.8 200 200 cm 0 0 1 RG
-.5 +.5 m 10. 20 l 50 80 l S
10 20 100 60 re S
5 5 m 50 5 l 50 50 l h 60 60 m 90 60 l 90 90 l s
Q
q /X1 Do Q
q 2 0 0 2 50 400 cm /X1 Do Q
"""
FORM = ("<</Type/XObject/Subtype/Form/BBox[-100 -100 300 300]/Matrix[1 0.2 -0.2 1 30 40]/Length {}/Resources<<>>>>",
        b"0 1 0 RG 0 0 m 30 40 60 40 90 0 c S 10 10 20 20 re f")


def form(body=FORM[1], head=FORM[0]):
    return head.format(len(body)), body


def write(path, streams, size=(200, 280), **more):
    path.write_bytes(pdf_bytes([streams] if isinstance(streams, str | bytes) else streams, size, **more))
    return read_pdf(path)


def pdfium_points(path, number=0):
    """All corners and control points of the paths of a page in mm, forms opened."""
    document = pypdfium2.PdfDocument(path)
    page = document[number]
    points = []

    def matrix(item):
        m = pdfium.FS_MATRIX()
        pdfium.FPDFPageObj_GetMatrix(item, m)
        return Affine.from_matrix(m.a, m.b, m.c, m.d, m.e, m.f)

    def walk(item, above):
        kind = pdfium.FPDFPageObj_GetType(item)
        here = matrix(item).then(above)
        if kind == pdfium.FPDF_PAGEOBJ_FORM:
            for k in range(pdfium.FPDFFormObj_CountObjects(item)):
                walk(pdfium.FPDFFormObj_GetObject(item, k), here)
        elif kind == pdfium.FPDF_PAGEOBJ_PATH:
            for k in range(pdfium.FPDFPath_CountSegments(item)):
                x, y = ctypes.c_float(), ctypes.c_float()
                pdfium.FPDFPathSegment_GetPoint(pdfium.FPDFPath_GetPathSegment(item, k), x, y)
                points.append(here(complex(x.value, y.value)) * POINT)

    for k in range(pdfium.FPDFPage_CountObjects(page.raw)):
        walk(pdfium.FPDFPage_GetObject(page.raw, k), Affine())
    page.close()
    document.close()
    return points


def points_of(page):
    return [p for s in page.strokes for p in (*s.path.nodes, *(q for h in s.path.handles if h for q in h))]


def farthest(some, others):
    return max(min(abs(p - q) for q in others) for p in some)


def assert_same_points(path, page):
    ours, theirs = points_of(page), pdfium_points(path)
    assert len(theirs) > 10
    assert farthest(ours, theirs) < 0.05
    assert farthest(theirs, ours) < 0.05


def test_all_path_operators_and_forms_against_pdfium(tmp_path):
    drawing = write(tmp_path / "a.pdf", CURVES, resources="/XObject<</X1 1000 0 R>>", extra={1000: form()})
    assert_same_points(tmp_path / "a.pdf", drawing.pages[0])
    looks = {s.look.colour for s in drawing.pages[0].strokes}
    assert {(1, 0, 0), (0, 0, 1), (0, 1, 0)} <= looks
    assert [s.path.closed for s in drawing.pages[0].strokes[:5]] == [True, False, True, True, True]


def test_a_tiled_file_against_pdfium(tmp_path):
    write_tiled(tmp_path / "t.pdf")
    assert_same_points(tmp_path / "t.pdf", read_pdf(tmp_path / "t.pdf").pages[0])


def test_strings_remarks_and_pictures_between_the_lines(tmp_path):
    stream = (b"% 1 2 m 3 4 l S\nBT (not \\( 0 0 m (nested 9 9 l S) a line) Tj ET\n"
              b"BI /W 2 /H 2 /BPC 8 /CS /G ID \x00 5 5 m 6 6 l S EI\n<0a 0b> pop\n10 10 m 20 20 l S")
    page = write(tmp_path / "a.pdf", stream, resources="").pages[0]
    assert [s.path.nodes for s in page.strokes] == [(pytest.approx(10 * POINT * (1 + 1j)),
                                                     pytest.approx(20 * POINT * (1 + 1j)))]


@pytest.mark.parametrize(("quarter", "size", "at"), [(0, (80, 100), 10 + 20j), (90, (100, 80), 20 + 70j),
                                                     (180, (80, 100), 70 + 80j), (270, (100, 80), 80 + 10j)])
def test_page_boxes_rotation_and_user_unit(tmp_path, quarter, size, at):
    half = POINT * 2
    x0, y0 = 30 / half, 40 / half
    crop = f"/CropBox[{x0} {y0} {x0 + 80 / half} {y0 + 100 / half}]/UserUnit 2/Rotate {quarter}"
    stream = f"{x0 + 10 / half} {y0 + 20 / half} m {x0 + 30 / half} {y0 + 50 / half} l S"
    page = write(tmp_path / "a.pdf", stream, page_extra=crop).pages[0]
    assert (page.width, page.height) == pytest.approx(size, abs=0.001)
    assert page.strokes[0].path.start == pytest.approx(at, abs=0.001)
    document = pypdfium2.PdfDocument(tmp_path / "a.pdf")
    assert tuple(v * half for v in document[0].get_size()) == pytest.approx(size, abs=0.1)
    document.close()


def test_looks(tmp_path):
    spaces = ("/ColorSpace<</Spot[/Separation/Plum/DeviceCMYK<</FunctionType 2/Domain[0 1]/N 1/C0[0 0 0 0]"
              "/C1[0.2 0.9 0 0.1]>>]/Icc[/ICCBased 1000 0 R]>>/ExtGState<</Thick<</LW 10/D[[6 3]0]>>>>")
    stream = ("2 0 0 2 0 0 cm [4 2] 0 d 3 w 10 10 m 20 20 l S [] 0 d /Spot CS 1 SCN 10 20 m 30 20 l S "
              "/Icc CS 0.1 0.2 0.3 SCN 10 30 m 30 30 l S 0 1 1 0 K 10 40 m 30 40 l S 0.5 G /Thick gs 10 50 m 30 50 l S "
              "1 g 10 60 10 10 re f 0 g 30 60 10 10 re f 0 G 0.9 g 50 60 10 10 re B")
    extra = {1000: ("<</N 3/Length 0>>", b"")}
    strokes = write(tmp_path / "a.pdf", stream, resources=spaces, extra=extra).pages[0].strokes
    assert strokes[0].look.dash == pytest.approx((8 * POINT, 4 * POINT), abs=0.001)
    assert strokes[0].look.width == pytest.approx(6 * POINT, abs=0.001)
    assert strokes[1].look.dash == ()
    assert strokes[1].look.colour == pytest.approx((0.72, 0.09, 0.9), abs=0.001)
    assert strokes[2].look.colour == (0.1, 0.2, 0.3)
    assert strokes[3].look.colour == (1, 0, 0)
    assert strokes[4].look.width == pytest.approx(20 * POINT, abs=0.001)
    assert len(strokes[4].look.dash) == 2
    assert [s.filled for s in strokes[5:]] == [True, False]  # white is paper; a tint with an outline is a line


def test_layers(tmp_path):
    names = ("Size 10", "Size 8", "Marks", "Hidden")
    groups = {1000 + k: f"<</Type/OCG/Name({name})>>" for k, name in enumerate(names)}
    groups[1010] = "<</Type/OCMD/OCGs[1001 0 R]>>"
    groups[1011] = form(b"0 0 m 40 0 l S", FORM[0].replace("/Resources", "/OC 1003 0 R/Resources"))
    catalog = ("/OCProperties<</OCGs[1000 0 R 1001 0 R 1002 0 R 1003 0 R]"
               "/D<</OFF[1003 0 R]/Order[1001 0 R(a folder)[1000 0 R]1002 0 R]>>>>")
    resources = "/Properties<</A 1000 0 R/B 1010 0 R/C 1002 0 R>>/XObject<</X1 1011 0 R>>"
    stream = ("/OC /A BDC 1 1 m 9 9 l S /Span <</MCID 0>> BDC /OC /C BDC 1 2 m 9 9 l S EMC 1 3 m 9 9 l S EMC EMC "
              "/OC /B BDC 1 4 m 9 9 l S EMC 1 5 m 9 9 l S /X1 Do 1 6 m 9 9 l S "
              "/OC /A BDC BT /F1 12 Tf 50 50 Td (ten) Tj ET EMC")
    drawing = write(tmp_path / "a.pdf", stream, resources=resources, extra=groups, catalog=catalog)
    assert drawing.layers == ("Size 8", "Size 10", "Marks", "Hidden")
    assert [s.look.layer for s in drawing.pages[0].strokes] == [
        "Size 10", "Marks", "Size 10", "Size 8", None, "Hidden", None]
    assert [(w.text, w.look.layer) for w in drawing.pages[0].words] == [("ten", "Size 10")]
    assert len({id(s.look) for s in drawing.pages[0].strokes if s.look.layer == "Size 10"}) == 1


def test_what_is_clipped_or_off_the_page_is_left_out(tmp_path):
    stream = ("-500 10 m -400 20 l S 10 10 m -50 10 l S q 100 100 200 200 re W n 150 50 m 150 400 l S "
              "10 10 m 20 90 l S 0 150 m 50 250 250 250 400 150 c S Q 120 120 m 130 400 l S")
    page = write(tmp_path / "a.pdf", stream).pages[0]
    nodes = [tuple(p / POINT for p in s.path.nodes) for s in page.strokes]
    assert (pytest.approx(10 + 10j), pytest.approx(10j)) in nodes
    assert (pytest.approx(150 + 100j), pytest.approx(150 + 300j)) in nodes
    assert (pytest.approx(120 + 120j), pytest.approx(130 + 400j)) in nodes
    assert len(nodes) == 4
    curve = next(n for n in nodes if n[-1].real == pytest.approx(300, abs=0.01))
    assert all(99.9 <= p.real <= 300.1 and 99.9 <= p.imag <= 300.1 for p in curve)


def test_words_with_place_height_and_angle(tmp_path):
    stream = ("1 1 m 5 5 l S BT /F1 20 Tf 0 1 -1 0 100 200 Tm (Bodice front) Tj ET "
              "BT /F1 10 Tf 1 0 0 1 300 300 Tm [(W) -20 (aist)] TJ ET /X1 Do")
    inner = form(b"BT /F1 5 Tf 10 20 Td (in a form) Tj ET")
    font = "<</Type/Font/Subtype/Type1/BaseFont/Helvetica>>"
    head = inner[0].replace("/Resources<<>>", f"/Resources<</Font<</F1{font}>>>>")
    words = write(tmp_path / "a.pdf", stream, resources="/XObject<</X1 1000 0 R>>",
                  extra={1000: (head, inner[1])}).pages[0].words
    front, waist, nested = words
    assert (front.text, waist.text, nested.text) == ("Bodice front", "Waist", "in a form")
    assert front.at == pytest.approx((100 + 200j) * POINT, abs=0.01)
    assert front.angle == pytest.approx(1.5708, abs=0.001)
    assert front.height == pytest.approx(20 * POINT, abs=0.01)
    assert waist.at == pytest.approx((300 + 300j) * POINT, abs=0.01)
    assert nested.at == pytest.approx(complex(30 + 10 - 4, 40 + 2 + 20) * POINT, abs=0.01)
